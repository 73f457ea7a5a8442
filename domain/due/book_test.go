package due_test

import (
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// staffed is the facts with somebody at work from Monday to Friday, 8 to 16.
func staffed(f due.Facts, names ...string) due.Facts {
	f.Roads = due.UsualRoads()
	f.Roads.Shop = q.Some(customer.Position{Lat: 53.41, Lon: -6.31})
	for _, n := range names {
		p := due.Person{ID: n, Name: n}
		for day := 1; day <= 5; day++ {
			p.Working.Hours = append(p.Working.Hours, customer.Window{Weekday: day, From: 480, To: 960})
		}
		f.People = append(f.People, p)
	}
	return f
}

var metric = say.Units{System: say.Metric, Decimal: '.'}

func solved(t *testing.T, f *due.Facts, from due.Book) (due.Book, due.Now) {
	t.Helper()
	now := f.Match(from)
	p, _ := f.Problem(due.Without(now.Jobs, now.Dropped()), now.Keep)
	p.Travel = f.Roads.Travel(p.Places)
	plan := round.Solve(p, round.Options{Seed: 1, Iterations: 50, Threads: 1})
	if breaches := round.Check(p, plan); len(breaches) > 0 {
		t.Fatalf("the plan breaks %+v", breaches)
	}
	b := f.Keep(from, now, plan, from.Kept(), now.Aside, metric)
	b.ID = "book"
	return b, now
}

func TestAPlanComesBackAsItWasKept(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 2), 12), visited("b", "r", every(7, 1), 4)), "ilo", "bea")
	b, now := solved(t, &f, due.Book{})
	if len(now.New) != 2 || len(b.Left) != 0 {
		t.Fatalf("new %v, left %+v", now.New, b.Left)
	}
	again := f.Match(b)
	if len(again.New) != 0 || len(again.Gone) != 0 || len(again.Jobs) != 2 {
		t.Fatalf("held against the same facts: %+v", again)
	}
	p, _ := f.Problem(again.Jobs, again.Keep)
	p.Travel = f.Roads.Travel(p.Places)
	if breaches := round.Check(p, f.Plan(p, b)); len(breaches) != 0 {
		for _, x := range breaches {
			if x.Rule != round.BreachCost {
				t.Errorf("read back, it breaks %s: %s", x.Rule, say.Render(x.Say, metric))
			}
		}
	}
}

func TestWhatIsDoneStaysAndWhatNobodyAsksForGoes(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 2), 14), visited("b", "r", every(7, 1), 3)), "ilo")
	b, _ := solved(t, &f, due.Book{})
	first, placed, ok := b.Find(due.JobID("s", 1))
	if !ok {
		t.Fatalf("not placed: %+v", b)
	}
	// The day came and the tank was visited; the other one was visited by chance.
	f.Today = first.Day
	f.Tank("a").Last = q.Some(first.Day)
	f.Tank("b").Last = q.Some(first.Day)
	now := f.Match(b)
	if len(now.Gone) != 1 || now.Gone[0] != due.JobID("r", 1) {
		t.Errorf("gone: %v", now.Gone)
	}
	after, _ := solved(t, &f, b)
	if _, still, ok := after.Find(placed.Job); !ok || still.Begin != placed.Begin {
		t.Error("a stop that is over was taken out of the plan")
	}
	if _, _, ok := after.Find(due.JobID("r", 1)); ok {
		t.Error("a stop that nobody asks for stays in the plan")
	}
}

func TestWhatIsKeptIsPlannedAroundAndWhatIsTakenOutStaysOut(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 3), 12), visited("b", "r", every(14, 3), 12)), "ilo", "bea")
	b, now := solved(t, &f, due.Book{})
	p, _ := f.Problem(now.Jobs, nil)
	p.Travel = f.Roads.Travel(p.Places)
	job := due.JobID("s", 1)
	quote, ok := round.Price(p, f.Plan(p, b), round.Move{Stop: job, Day: monday.Add(4), Person: "bea"})
	if !ok {
		t.Fatal("Friday with Bea is no place")
	}
	quote, ok = round.Price(p, quote.Plan, round.Move{Stop: due.JobID("r", 1), Out: true})
	if !ok {
		t.Fatal("it cannot be taken out")
	}
	moved := f.Keep(b, f.Match(b), quote.Plan, map[string]bool{job: true}, map[string]bool{due.JobID("r", 1): true}, metric)
	moved.ID = "moved"
	again, _ := solved(t, &f, moved)
	if r, x, ok := again.Find(job); !ok || r.Day != monday.Add(4) || r.Person != "bea" || !x.Kept {
		t.Errorf("kept on Friday with Bea, and now on %s with %s (%v)", r.Day, r.Person, ok)
	}
	if len(again.Left) != 1 || !again.Left[0].Aside {
		t.Errorf("taken out by hand: %+v", again.Left)
	}
}

func TestWhomToPhone(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 2), 12)), "ilo", "bea")
	f.Site("s").Phones = []string{"+353 1 555 0101"}
	at := func(day int, person string, hour round.Seconds) due.Book {
		return due.Book{Routes: []due.Route{{Day: monday.Add(day), Person: person, Stops: []due.Placed{{Job: "s.1", Site: "s", Tanks: []string{"a"}, Begin: hour * round.Hour, End: (hour + 1) * round.Hour}}}}}
	}
	for name, c := range map[string]struct {
		now  due.Book
		want string
	}{
		"as it was":      {at(2, "ilo", 9), ""},
		"another day":    {at(3, "ilo", 9), "due.call.day"},
		"another person": {at(2, "bea", 9), "due.call.person"},
		"another time":   {at(2, "ilo", 10), "due.call.time"},
		"no place":       {due.Book{}, "due.call.none"},
	} {
		calls := f.Calls(at(2, "ilo", 9), c.now)
		got := ""
		if len(calls) == 1 {
			got = calls[0].Why.ID
			if len(calls[0].Phones) != 1 {
				t.Errorf("%s: nobody to dial", name)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	f.Promises = []due.Promise{{Site: "s", Day: monday.Add(2), From: 9 * 60, To: 9*60 + 10}}
	late := at(2, "ilo", 9)
	late.Routes[0].Stops[0].Begin += 20 * round.Minute
	if calls := f.Calls(at(2, "ilo", 9), late); len(calls) != 1 || calls[0].Why.ID != "due.call.promise" {
		t.Errorf("a broken promise: %+v", calls)
	}
	f.Today = monday.Add(3)
	if calls := f.Calls(at(2, "ilo", 9), due.Book{}); len(calls) != 0 {
		t.Errorf("somebody is phoned about a day that is over: %+v", calls)
	}
}

func fields(pairs ...string) typed.Fields {
	m := map[string]string{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i]] = pairs[i+1]
	}
	return func(name string) string { return m[name] }
}

func TestHoursAreReadBackAsTheyAreShown(t *testing.T) {
	w, faults := due.ParseWorking(fields("hours.1", "8-16:30", "hours.6", "9.00-12", "break", "30", "break_from", "11:30", "break_to", "13:30",
		"start", "53.41, -6.33", "skills", "Ladder, shrimp; ladder"), metric, due.Working{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if len(w.Hours) != 2 || w.Hours[0].To != 990 || len(w.Skills) != 2 || w.Skills[0] != "ladder" || !w.Start.OK || w.End.OK {
		t.Errorf("read %+v", w)
	}
	again, faults := due.ParseWorking(func(n string) string { return w.Typed()[n] }, metric, w)
	if len(faults) > 0 || len(again.Hours) != 2 || again.Break != w.Break || again.Start != w.Start {
		t.Errorf("read back as %+v, %v", again, faults)
	}
	for name, c := range map[string][]string{
		"hours.1":    {"hours.1", "8-12, 13-16"},
		"hours.2":    {"hours.2", "whenever"},
		"break_from": {"break", "30", "break_to", "12:00"},
		"break_to":   {"break", "45", "break_from", "12:00", "break_to", "12:30"},
		"start":      {"start", "behind the mill"},
	} {
		if _, faults := due.ParseWorking(fields(c...), metric, due.Working{}); len(faults) != 1 || faults[0].Name != name {
			t.Errorf("%s: %v", name, faults)
		}
	}
}

func TestLoadSumsTheDay(t *testing.T) {
	l := due.Load([]due.Carry{{Bring: []string{"full_cylinder", "own_net", "scissors"}, Water: 20}, {Bring: []string{"full_cylinder", "own_net", "scissors", "ro_water"}, Water: 15}})
	if l.Water != 35 || l.Cylinders != 2 || len(l.Bring) != 2 {
		t.Fatalf("%+v", l)
	}
	for _, b := range l.Bring {
		if b.Tanks != 2 || b.Each() != (b.What == "own_net") {
			t.Errorf("%+v, each %v", b, b.Each())
		}
	}
}

// Somebody whose one stop opens at three neither sets off at eight nor rests
// before it.
func TestNobodyLeavesToWaitBeforeTheFirstStop(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 2), 12)), "ilo")
	f.Person("ilo").Working.Break = due.Break{Minutes: 30, From: 690, To: 810}
	for day := 1; day <= 5; day++ {
		f.Site("s").Windows = append(f.Site("s").Windows, customer.Window{Weekday: day, From: 900, To: 960})
	}
	b, _ := solved(t, &f, due.Book{})
	r, x, ok := b.Find(due.JobID("s", 1))
	if !ok || x.Begin < 15*round.Hour {
		t.Fatalf("planned as %+v", b)
	}
	if r.Leave != x.Begin-x.Drive || x.Arrive != x.Begin || r.Break.OK {
		t.Errorf("leaves at %s for %s, with the break %v", due.Clock(r.Leave), due.Clock(x.Begin), r.Break)
	}
}
