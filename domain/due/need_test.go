package due_test

import (
	"slices"
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/tank"
)

// monday is the first day of the tests' week, 23 November 2026.
var monday = q.NewDate(2026, 11, 23)

func every(days, tolerance int) tank.Agreement {
	return tank.Agreement{EveryDays: q.Some(days), ToleranceDays: tolerance, Minutes: 40}
}

// week is a week's facts with the tanks, all at sites that they name.
func week(tanks ...due.Tank) due.Facts {
	f := due.Facts{From: monday, Days: 7, Today: monday.Add(-3), Tanks: tanks}
	for _, t := range tanks {
		if f.Site(t.Site) == nil {
			f.Sites = append(f.Sites, due.Site{ID: t.Site, Name: "site " + t.Site, Position: q.Some(customer.Position{Lat: 53.4, Lon: -6.3})})
		}
	}
	return f
}

func visited(id, site string, a tank.Agreement, daysBefore int) due.Tank {
	return due.Tank{ID: id, Site: site, Name: id, Agreement: a, Last: q.Some(monday.Add(-daysBefore))}
}

func TestWhatFallsDueInAWeek(t *testing.T) {
	type want struct {
		tanks            []string
		due, from, until int // days from Monday
		press            round.Press
	}
	asked := func(t due.Tank, a due.Asks) due.Tank { t.Asks = a; return t }
	planned := func(t due.Tank, day int) due.Tank { t.Planned = q.Some(monday.Add(day)); return t }
	for name, c := range map[string]struct {
		tanks []due.Tank
		jobs  []want
	}{
		// Every 14 days, 12 days ago on Monday: due on Wednesday.
		"by the agreement": {[]due.Tank{visited("a", "s", every(14, 2), 12)}, []want{{[]string{"a"}, 2, 0, 4, round.Routine}}},
		// Due on the Monday after: not this week's.
		"next week's":   {[]due.Tank{visited("a", "s", every(14, 2), 7)}, nil},
		"due on Sunday": {[]due.Tank{visited("a", "s", every(14, 2), 8)}, []want{{[]string{"a"}, 6, 4, 8, round.Routine}}},
		// Due ten days ago, tolerated until a week ago: as soon as can be.
		"overdue": {[]due.Tank{visited("a", "s", every(14, 3), 24)}, []want{{[]string{"a"}, 0, 0, 6, round.NoSlip}}},
		"never visited": {[]due.Tank{{ID: "a", Site: "s", Agreement: every(14, 2), Began: monday.Add(1)}},
			[]want{{[]string{"a"}, 1, -1, 3, round.Routine}}},
		// Every 4 days, due on Monday and Friday; the second begins after the first.
		"twice a week": {[]due.Tank{visited("a", "s", every(4, 1), 4)}, []want{
			{[]string{"a"}, 0, -1, 1, round.Routine}, {[]string{"a"}, 4, 3, 5, round.Routine}}},
		// Wednesday ± 2 and Thursday ± 1 have Wednesday to Friday in common.
		"two tanks are one stop": {[]due.Tank{visited("a", "s", every(14, 2), 12), visited("b", "s", every(7, 1), 4)}, []want{
			{[]string{"a", "b"}, 2, 2, 4, round.Routine}}},
		"two tanks far apart are two stops": {[]due.Tank{visited("a", "s", every(14, 1), 14), visited("b", "s", every(14, 1), 10)}, []want{
			{[]string{"a"}, 0, -1, 1, round.Routine}, {[]string{"b"}, 4, 3, 5, round.Routine}}},
		// Due next Monday, tolerated from Saturday: goes along on Saturday only with a stop that reaches it.
		"what is due just after goes along": {[]due.Tank{visited("a", "s", every(14, 2), 10), visited("b", "s", every(14, 3), 7)}, []want{
			{[]string{"a", "b"}, 4, 4, 6, round.Routine}}},
		"handed out before the week": {[]due.Tank{planned(visited("a", "s", every(7, 1), 12), -3)}, []want{{[]string{"a"}, 4, 3, 5, round.Routine}}},
		"pressing does not slip": {[]due.Tank{asked(visited("a", "s", every(14, 2), 12), due.Asks{Urgency: care.Today})}, []want{
			{[]string{"a"}, 2, 0, 4, round.NoSlip}}},
		// A task wants to be looked at on Tuesday; the agreement tolerates that.
		"looked at sooner": {[]due.Tank{asked(visited("a", "s", every(14, 3), 10), due.Asks{LookOn: q.Some(monday.Add(1))})}, []want{
			{[]string{"a"}, 1, 1, 7, round.Routine}}},
		"an extra visit takes the next one along": {[]due.Tank{asked(visited("a", "s", every(14, 2), 12), due.Asks{Extra: q.Some(monday.Add(1))})}, []want{
			{[]string{"a"}, 1, 0, 1, round.Urgent}}},
	} {
		f := week(c.tanks...)
		jobs := f.Jobs(nil)
		if len(jobs) != len(c.jobs) {
			t.Errorf("%s: %d jobs: %+v", name, len(jobs), jobs)
			continue
		}
		for i, w := range c.jobs {
			j := jobs[i]
			got := want{j.Tanks, int(j.Due - monday), int(j.From - monday), int(j.Until - monday), j.Press}
			if !slices.Equal(got.tanks, w.tanks) || got.due != w.due || got.from != w.from || got.until != w.until || got.press != w.press {
				t.Errorf("%s: job %d is %+v, want %+v", name, i, got, w)
			}
		}
	}
}

func TestAPromiseIsAStopOfItsOwn(t *testing.T) {
	f := week(visited("a", "s", every(28, 2), 3))
	f.Promises = []due.Promise{{Site: "s", Day: monday.Add(3), From: 540, To: 660}}
	jobs := f.Jobs(nil)
	if len(jobs) != 1 || jobs[0].Due != monday.Add(3) || !jobs[0].Promise.OK {
		t.Fatalf("a promise without a tank that is due: %+v", jobs)
	}
	f = week(visited("a", "s", every(14, 2), 12))
	f.Promises = []due.Promise{{Site: "s", Day: monday.Add(3), From: 540, To: 660}}
	if jobs = f.Jobs(nil); len(jobs) != 1 || !jobs[0].Promise.OK {
		t.Errorf("a promise within what is due: %+v", jobs)
	}
}

func TestMinutesAreLearntSlowly(t *testing.T) {
	f := week(visited("a", "s", every(7, 1), 7))
	s := f.Site("s")
	s.Parking = 5
	stop := func(minutes int) due.PastStop {
		return due.PastStop{Day: monday.Add(-7), Minutes: minutes, Tanks: []string{"a"}}
	}
	for _, c := range []struct {
		past []due.PastStop
		want int
	}{
		{nil, 45}, // 40 agreed and 5 from the car
		// One stop of twice the time against three of the agreed: (3 + 2) / 4 = 1.25.
		{[]due.PastStop{stop(80)}, 55},
		// Nine of them: (3 + 18) / 12 = 1.75.
		{slices.Repeat([]due.PastStop{stop(80)}, 9), 75},
		// However long it took, never more than twice what is agreed.
		{slices.Repeat([]due.PastStop{stop(400)}, 9), 85},
		// One lost day among many teaches nothing: the middle counts.
		{append(slices.Repeat([]due.PastStop{stop(40)}, 6), stop(480)), 45},
		{[]due.PastStop{{Day: monday, Minutes: 60, Tanks: []string{"gone"}}}, 45},
	} {
		s.Past = c.past
		if got := f.Minutes(s, []string{"a"}); got != c.want {
			t.Errorf("%d past stops: %d minutes, want %d", len(c.past), got, c.want)
		}
	}
}

func TestAHabitIsFourOfTheLastSix(t *testing.T) {
	on := func(days ...int) (out []due.PastStop) {
		for _, d := range days {
			out = append(out, due.PastStop{Day: monday.Add(d)})
		}
		return out
	}
	for _, c := range []struct {
		past []due.PastStop
		want q.Opt[time.Weekday]
	}{
		{on(-6, -13, -20), q.Opt[time.Weekday]{}},
		{on(-6, -13, -20, -27), q.Some(time.Tuesday)},
		{on(-5, -13, -20, -27, -33, -40), q.Opt[time.Weekday]{}},
		{on(-1, -2, -20, -27, -34, -41), q.Some(time.Tuesday)},
	} {
		s := due.Site{Past: c.past}
		if got := s.Habit(); got != c.want {
			t.Errorf("%d stops: %v, want %v", len(c.past), got, c.want)
		}
	}
}
