package round

import (
	"strings"
	"testing"

	q "scaperound/domain/quantity"
)

// dayOf is one person's day with three stops an hour apart, and one without.
func dayOf() (Problem, Plan) {
	p := small()
	p.Days = 1
	p.Stops = p.Stops[:3]
	for i := range p.Stops {
		p.Stops[i].Due = monday
		p.Stops[i].Unsuited = []string{"ben"}
	}
	return p, Solve(p, Options{Iterations: 300, Threads: 1})
}

func routeOf(plan Plan, person string, day q.Date) Route {
	for _, r := range plan.Routes {
		if r.Person == person && r.Day == day {
			return r
		}
	}
	return Route{}
}

func order(r Route) string {
	out := ""
	for _, v := range r.Visits {
		out += v.Stop + " "
	}
	return out
}

func TestAMoveIsPricedBeforeItIsDone(t *testing.T) {
	p, plan := dayOf()
	quote, ok := Price(p, plan, Move{Stop: "s1", Day: monday, Person: "ada", After: "s3"})
	if !ok || !quote.Allowed {
		t.Fatalf("%v %+v", ok, quote.Breaks)
	}
	after := routeOf(quote.Plan, "ada", monday)
	if len(after.Visits) != 3 || !strings.Contains(order(after), "s3 s1 ") {
		t.Errorf("order %q", order(after))
	}
	if quote.Change.Total != quote.Plan.Cost.Total-plan.Cost.Total || quote.Change.Drive < 0 {
		t.Errorf("change %+v", quote.Change)
	}
	quote, ok = Price(p, plan, Move{Stop: "s1", Day: monday, Person: "ben"})
	if !ok || quote.Allowed || quote.Breaks[0].Rule != BreachSkill || len(quote.Words) == 0 {
		t.Errorf("somebody unsuited: %v %+v", ok, quote.Breaks)
	}
	if _, ok := Price(p, plan, Move{Stop: "s1", Day: monday.Add(1), Person: "ada"}); ok {
		t.Error("a day outside the plan has a price")
	}
	out, ok := Price(p, plan, Move{Stop: "s1", Out: true})
	if !ok || len(out.Plan.Unplaced) != 1 || out.Change.Unplaced <= 0 {
		t.Errorf("taken out: %+v", out.Plan.Unplaced)
	}
	back := Prices(p, out.Plan, "s1", 5)
	if len(back) != 1 || !back[0].Allowed || back[0].Change.Total != -out.Change.Total {
		t.Errorf("the places for it: %d, change %+v, want the opposite of %+v", len(back), back[0].Change, out.Change)
	}
}

func TestRunningLate(t *testing.T) {
	p, plan := dayOf()
	r := routeOf(plan, "ada", monday)
	lastStop := r.Visits[2].Stop
	for i := range p.Stops {
		if p.Stops[i].ID == lastStop {
			p.Stops[i].Promised = q.Some(Promise{Day: monday, From: 9 * Hour, To: r.Visits[2].Start + 10*Minute})
		}
	}
	l, ok := Late(p, plan, "ada", monday, r.Visits[0].Stop, 20*Minute)
	if !ok || len(l.Slips) != 3 || l.Over {
		t.Fatalf("%v %+v", ok, l)
	}
	for i, s := range l.Slips {
		if s.Now-s.Was < 19*Minute || s.Now-s.Was > 30*Minute {
			t.Errorf("stop %d slips by %d s", i, s.Now-s.Was)
		}
		if s.Call != (s.Stop == lastStop) {
			t.Errorf("stop %d: to be phoned %v", i, s.Call)
		}
	}
	if l, _ = Late(p, plan, "ada", monday, r.Visits[0].Stop, 6*Hour); !l.Over {
		t.Error("six hours late and back in time")
	}
}

// Whoever is ill is left out, only that day's stops move, and those who were
// promised a time or get another person are on the list.
func TestADayIsDealtOutAnew(t *testing.T) {
	p := small()
	for i := range p.Stops {
		p.Stops[i].Prefer = []string{"ada", "ben"}[i%2]
	}
	p.Stops[0].Due, p.Stops[1].Due, p.Stops[2].Due, p.Stops[3].Due = monday, monday, monday, monday
	plan := Solve(p, Options{Iterations: 1000, Threads: 1})
	ill := routeOf(plan, "ada", monday)
	if len(ill.Visits) == 0 {
		t.Fatal("ada has nothing on Monday")
	}
	out := Redeal(p, plan, "ada", monday, Options{Iterations: 1000, Threads: 1})
	if b := Check(out.Problem, out.Plan); len(b) > 0 {
		t.Errorf("%v", b)
	}
	if len(out.Plan.Unplaced) > 0 || len(routeOf(out.Plan, "ada", monday).Visits) > 0 {
		t.Errorf("unplaced %v", out.Plan.Unplaced)
	}
	moved := map[string]bool{}
	for _, c := range out.Changes {
		if c.FromDay.V != monday {
			t.Errorf("%s of %v changes", c.Stop, c.FromDay.V)
		}
		moved[c.Stop] = moved[c.Stop] || c.Moved
	}
	called := map[string]bool{}
	for _, c := range out.Calls {
		called[c.Stop] = true
	}
	for _, v := range ill.Visits {
		if !moved[v.Stop] || !called[v.Stop] {
			t.Errorf("%s: moved %v, called %v", v.Stop, moved[v.Stop], called[v.Stop])
		}
	}
}

// One more stop in a week that is known moves nothing that need not move.
func TestAnUrgentStopDisturbsAKnownWeekLittle(t *testing.T) {
	p := small()
	p.Stops = p.Stops[:6]
	plan := Solve(p, Options{Iterations: 1000, Threads: 1})
	p = small()
	p.Known = &plan
	p.Stops[6].Press, p.Stops[6].Due = Urgent, monday
	again := Solve(p, Options{Iterations: 2000, Threads: 2})
	if b := Check(p, again); len(b) > 0 || len(again.Unplaced) > 0 {
		t.Fatalf("%v %v", b, again.Unplaced)
	}
	for _, c := range Diff(plan, again) {
		if c.Moved && c.Stop != "s7" {
			t.Errorf("%s is moved", c.Stop)
		}
		if c.Stop == "s7" && c.ToDay.V != monday {
			t.Errorf("the urgent stop is on %v", c.ToDay.V)
		}
	}
}

// A job for two changes where another person comes, and does not where the two
// are only named the other way round.
func TestWhoChangesOfAJobForTwo(t *testing.T) {
	of := func(a, b string) Plan {
		return Plan{Routes: []Route{
			{Day: monday, Person: a, Visits: []Visit{{Stop: "s1", Start: 9 * Hour, With: b}}},
			{Day: monday, Person: b, Visits: []Visit{{Stop: "s1", Start: 9 * Hour, With: a}}},
		}}
	}
	was := of("ada", "ben")
	for _, c := range []struct {
		to        Plan
		from, now string
	}{
		{of("ada", "ben"), "", ""},
		{of("ben", "ada"), "", ""},
		{of("ada", "cleo"), "ben", "cleo"},
		{of("cleo", "ada"), "ben", "cleo"},
		{of("ben", "cleo"), "ada", "cleo"},
		{of("cleo", "ben"), "ada", "cleo"},
	} {
		found := Diff(was, c.to)
		switch {
		case c.now == "" && len(found) == 0:
		case c.now == "" || len(found) != 1 || !found[0].Moved || found[0].FromPerson != c.from || found[0].ToPerson != c.now:
			t.Errorf("%s and %s: %+v", c.to.Routes[0].Person, c.to.Routes[1].Person, found)
		}
	}
}
