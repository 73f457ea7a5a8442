package triage

import (
	"slices"
	"strings"
	"testing"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

func TestGuidesAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, g := range Guides() {
		if seen[g.ID] || g.Title == "" || g.Goes == "" || len(g.Not) == 0 || len(g.Bring) == 0 || len(g.There) == 0 || !slices.Contains(Goings, g.Else) {
			t.Errorf("%s: twice, or something is missing", g.ID)
		}
		seen[g.ID] = true
		asked := map[string]bool{}
		for _, a := range g.Ask {
			if a.ID == "" || asked[a.ID] || !strings.HasSuffix(a.Ask, "?") || (a.Then == "") != (a.Presses == "") {
				t.Errorf("%s: question %q", g.ID, a.ID)
			}
			asked[a.ID] = true
		}
		for _, d := range g.Do {
			if d == "" {
				t.Errorf("%s: fewer than three actions", g.ID)
			}
		}
	}
	// The seven of the trade's practice.
	for _, id := range []string{"gasping", "water_on_floor", "filter_stopped", "tingling", "cloudy", "fish_dead", "dosed_double"} {
		if !seen[id] {
			t.Errorf("no guide %s", id)
		}
	}
}

// What the trade says: people first, suffocating animals at once, and a
// question that nobody can answer is no good news.
func TestWhoGoes(t *testing.T) {
	for _, c := range []struct {
		guide   string
		replies map[string]Reply
		want    Going
		because string
	}{
		{"tingling", nil, GoNow, ""},
		{"gasping", map[string]Reply{"all": Yes, "co2": Yes}, GoNow, "all"},
		{"gasping", map[string]Reply{"all": No, "dying": No, "moving": Yes, "co2": No, "added": No}, GoToday, ""},
		{"water_on_floor", map[string]Reply{"glass": NotKnown}, GoToday, "glass"},
		{"water_on_floor", map[string]Reply{"glass": Yes}, GoNow, "glass"},
		{"fish_dead", map[string]Reply{"others_well": Yes, "several": No, "running": Yes, "changed": No, "marks": No}, GoTomorrow, ""},
		{"fish_dead", map[string]Reply{"running": No}, GoNow, "running"},
		{"filter_stopped", map[string]Reply{"long": Yes, "gasping": No}, GoToday, "long"},
		{"dosed_double", map[string]Reply{"not_food": No, "distress": No, "much": No}, GoNobody, ""},
		{"dosed_double", map[string]Reply{"not_food": Yes}, GoNow, "not_food"},
		{"cloudy", map[string]Reply{"green": Yes}, GoNextVisit, ""},
		{"cloudy", map[string]Reply{"gasping": Yes, "young": Yes}, GoNow, "gasping"},
	} {
		g, ok := GuideOf(c.guide)
		if !ok {
			t.Fatalf("no guide %s", c.guide)
		}
		got, why := g.Advise(c.replies)
		if got != c.want {
			t.Errorf("%s %v: %s, want %s", c.guide, c.replies, got, c.want)
		}
		if c.because != "" && !slices.ContainsFunc(why, func(q Question) bool { return q.ID == c.because }) {
			t.Errorf("%s %v: not because of %s but %v", c.guide, c.replies, c.because, why)
		}
	}
}

func getter(pairs ...string) func(string) string {
	return func(name string) string {
		var all []string
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				all = append(all, pairs[i+1])
			}
		}
		return strings.Join(all, "\n")
	}
}

func TestParseCall(t *testing.T) {
	g, _ := GuideOf("gasping")
	c, fs := ParseCall(getter("q.all", "yes", "q.co2", "not_known", "read.0", "on", "read.2", "on", "words", "since this morning", "problem", "on"), g, []string{"a"})
	if len(fs) > 0 || c.Going != GoNow || c.Advised != GoNow || !slices.Equal(c.Read, []int{0, 2}) || !c.OpenProblem {
		t.Errorf("%+v, %v", c, fs)
	}
	c.TankName, c.GoesName = "Window tank", "Ilo"
	if they := c.TheySaid(); !strings.HasPrefix(they, "Window tank: fish gasp at the surface.\n") || !strings.Contains(they, "Are most of the fish at the surface? Yes.") || !strings.HasSuffix(they, "since this morning") {
		t.Errorf("they said %q", they)
	}
	if we := c.WeSaid(); strings.Contains(we, g.Do[1]) || !strings.Contains(we, g.Do[2]) || !strings.HasSuffix(we, "Somebody goes now: Ilo.") {
		t.Errorf("we said %q", we)
	}
	c, fs = ParseCall(getter("q.all", "yes", "going", "tomorrow", "goes", "a"), g, []string{"a"})
	if len(fs) > 0 || c.Going != GoTomorrow || c.Advised != GoNow || c.Goes != "a" {
		t.Errorf("a decision of one's own: %+v, %v", c, fs)
	}
	_, fs = ParseCall(getter("q.all", "maybe", "going", "soon", "goes", "b", "words", strings.Repeat("x", MaxWords+1)), g, []string{"a"})
	for _, name := range []string{"q.all", "going", "goes", "words"} {
		if len(fs.On(name)) != 1 {
			t.Errorf("%s: %v", name, fs.On(name))
		}
	}
}

// Beyond two to four hours a filter is not just switched on, and TAN and
// nitrite are tested after 24 and 48 hours (trade practice).
func TestStoppedFilter(t *testing.T) {
	today := q.NewDate(2026, 11, 25)
	for stood, tests := range map[Stood]int{StoodUnderTwo: 0, StoodTwoFour: 2, StoodLonger: 2, StoodUnknown: 2} {
		s := Stop{Stood: stood, Timers: true}
		tasks := s.Tasks(today)
		if len(tasks) != tests {
			t.Errorf("%s: %d tasks, want %d", stood, len(tasks), tests)
		}
		if tests == 2 && (tasks[0].Day != q.Some(today.Add(1)) || tasks[1].Day != q.Some(today.Add(2)) || tasks[0].Key() == tasks[1].Key()) {
			t.Errorf("%s: %+v", stood, tasks)
		}
		if rinse := strings.Contains(s.Steps()[0], "Do not just switch it on"); rinse != (tests == 2) {
			t.Errorf("%s: first %q", stood, s.Steps()[0])
		}
		if !strings.Contains(strings.Join(s.Steps(), " "), "timer") {
			t.Errorf("%s: the timers are forgotten", stood)
		}
	}
	if tasks := (Stop{Stood: StoodUnderTwo}).Tasks(today); len(tasks) != 1 || tasks[0].Action != "check_timer" {
		t.Errorf("nobody looked at the timers: %+v", tasks)
	}
	if _, fs := ParseStop(getter()); len(fs.On("stood")) != 1 || fs[0].Kind != fault.Missing {
		t.Errorf("faults %v", fs)
	}
}

func TestParseDeath(t *testing.T) {
	today := q.NewDate(2026, 11, 25)
	wall := func(d q.Date, m q.MinuteOfDay) time.Time { return d.Midnight().Add(time.Duration(m) * time.Minute) }
	d, fs := ParseDeath(getter("day", "2026-11-24", "at", "07:30", "group", "small_fish", "species", "ember tetra", "n", "2", "before", "dosed", "before", "sprayed", "body", "chilled", "water_kept", "on"), today, wall)
	if len(fs) > 0 || d.N != 2 || !slices.Equal(d.Before, []string{"dosed", "sprayed"}) || !d.WaterKept || d.CauseText() != "cause not known" || d.Seen.Hour() != 7 {
		t.Errorf("%+v, %v", d, fs)
	}
	_, fs = ParseDeath(getter("day", "2026-11-26", "group", "dragon", "n", "0", "before", "nothing", "before", "dosed", "body", "eaten"), today, wall)
	for _, name := range []string{"day", "group", "n", "before", "body"} {
		if len(fs.On(name)) != 1 {
			t.Errorf("%s: %v", name, fs.On(name))
		}
	}
}

func TestIncidentsBeginWithPeople(t *testing.T) {
	for _, x := range Incidents() {
		if !strings.Contains(x.Steps[0], "reaker") {
			t.Errorf("%s begins with %q", x.ID, x.Steps[0])
		}
		if !strings.Contains(strings.Join(x.Steps, " "), "Promise nothing") || !strings.Contains(strings.Join(x.Steps, " "), "Photograph") {
			t.Errorf("%s forgets the photograph or promises something", x.ID)
		}
	}
}
