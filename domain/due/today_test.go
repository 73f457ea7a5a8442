package due_test

import (
	"testing"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/visit"
)

// begun is Tuesday at ten, with one stop of Ilo's round reached and one ahead,
// and a third for Bea. The stop's tank is agreed at 40 minutes.
func begun(t *testing.T, outcome visit.StopOutcome) (due.Facts, due.Book) {
	t.Helper()
	tuesday := monday.Add(1)
	f := staffed(week(visited("a", "s", every(14, 2), 12), visited("b", "r", every(14, 2), 12), visited("c", "u", every(14, 2), 12)), "ilo", "bea")
	for i, id := range []string{"s", "r", "u"} {
		f.Site(id).Position.V.Lat += float64(i) / 50
	}
	stop := func(job, site, tank string, hour round.Seconds) due.Placed {
		return due.Placed{Job: job, Site: site, Tanks: []string{tank}, Begin: hour * round.Hour, End: hour*round.Hour + 40*round.Minute}
	}
	b := due.Book{ID: "was", Routes: []due.Route{
		{Day: tuesday, Person: "ilo", Leave: 8 * round.Hour, Back: 13 * round.Hour, Stops: []due.Placed{stop("s.1", "s", "a", 9), stop("r.1", "r", "b", 11)}},
		{Day: tuesday, Person: "bea", Leave: 8 * round.Hour, Back: 12 * round.Hour, Stops: []due.Placed{stop("u.1", "u", "c", 9)}},
	}}
	f.Today, f.Now = tuesday, q.Some[q.MinuteOfDay](600)
	r := due.Reached{Stop: "x", Site: "s", People: []string{"ilo"}, Arrived: 585, Outcome: outcome, Tanks: []string{"a"}}
	if outcome != visit.UnderWay {
		r.Left = q.Some[q.MinuteOfDay](598)
	}
	f.Reach([]due.Reached{r})
	return f, b
}

func TestTheRestOfTodayIsPlannedFromWherePeopleStand(t *testing.T) {
	f, b := begun(t, visit.UnderWay)
	now := f.Match(b)
	p, said := f.Problem(now.Jobs, now.Keep)
	if len(now.New) > 0 || len(now.Gone) > 0 {
		t.Fatalf("the stop under way is asked for once more, or nobody asks: new %v, gone %v", now.New, now.Gone)
	}
	ilo := p.People[0]
	if len(ilo.Special) != 1 {
		t.Fatalf("what is left of Ilo's day: %+v", ilo.Special)
	}
	// Arrived at 09:45 for 40 minutes, so free at 10:25.
	if s := ilo.Special[0]; s.Day != f.Today || s.From != 10*round.Hour+25*round.Minute || p.Places[s.Start].ID != "s" || p.Places[s.End].ID != "shop" || s.To != 16*round.Hour {
		t.Errorf("it is %+v", s)
	}
	// Of Bea nothing was heard for two hours: from the shop, now, and it is said.
	if s := p.People[1].Special; len(s) != 1 || s[0].From != 10*round.Hour || p.Places[s[0].Start].ID != "shop" {
		t.Errorf("Bea's day: %+v", s)
	}
	if len(said) != 1 || said[0].ID != "due.not_heard" {
		t.Errorf("said %+v", said)
	}
	after, _ := solved(t, &f, b)
	if _, x, ok := after.Find("s.1"); !ok || x.Begin != 9*round.Hour {
		t.Error("the stop under way is no longer where it was")
	}
	for _, r := range after.Routes {
		for _, s := range r.Stops {
			if r.Day == f.Today && s.Job != "s.1" && s.Arrive < 10*round.Hour {
				t.Errorf("%s is reached at %s, before now", s.Job, due.Clock(s.Arrive))
			}
		}
	}
}

func TestWhoeverIsOffTodayHasNoRestOfTheDay(t *testing.T) {
	f, b := begun(t, visit.StopDone)
	f.Person("ilo").Leave = []due.Leave{{Person: "ilo", From: f.Today, To: f.Today}}
	now := f.Match(b)
	p, _ := f.Problem(now.Jobs, now.Keep)
	if len(p.People[0].Special) != 0 {
		t.Fatalf("%+v", p.People[0].Special)
	}
	p.Travel = f.Roads.Travel(p.Places)
	dealt := round.Redeal(p, f.Plan(p, b), "ilo", f.Today, round.Options{Seed: 1, Iterations: 50, Threads: 1})
	after := f.Keep(b, now, dealt.Plan, nil, nil, metric)
	if r := after.Route("ilo", f.Today); r == nil || len(r.Stops) != 1 || r.Stops[0].Job != "s.1" {
		t.Errorf("Ilo's own day holds what he did and no more: %+v", r)
	}
	if r, _, ok := after.Find("r.1"); !ok || r.Person == "ilo" && r.Day == f.Today {
		t.Errorf("what he had before him: %+v", r)
	}
}

func TestACallThatFoundNobodyInIsAskedForAgain(t *testing.T) {
	f, b := begun(t, visit.CouldNotEnter)
	now := f.Match(b)
	if len(now.New) != 1 || now.New[0] != "s.2" {
		t.Fatalf("new: %v", now.New)
	}
	after, _ := solved(t, &f, b)
	r, again, ok := after.Find("s.2")
	if !ok || r.Day == f.Today && again.Arrive < 10*round.Hour {
		t.Fatalf("it is planned for %s at %s", r.Day, due.Clock(again.Arrive))
	}
	if _, _, ok := after.Find("s.1"); !ok {
		t.Error("the call in vain was forgotten")
	}
	// Placed for this afternoon, the second call is ahead though the first is behind.
	if r.Day == f.Today && f.Behind(after, r.Day, again) {
		t.Error("the second call counts as made")
	}
}

func TestAHandLeavesTheOtherDaysAlone(t *testing.T) {
	f, b := begun(t, visit.UnderWay)
	now := f.Match(b)
	p, _ := f.Problem(now.Jobs, now.Keep)
	p.Travel = f.Roads.Travel(p.Places)
	quote, ok := round.Price(p, f.Plan(p, b), round.Move{Stop: "u.1", Day: f.Today.Add(1), Person: "bea"})
	if !ok {
		t.Fatal("Wednesday with Bea is no place")
	}
	after := f.Keep(b, now, quote.Plan, map[string]bool{"u.1": true}, nil, metric)
	after.Hold(b, q.Opt[q.Date]{})
	if r := after.Route("ilo", f.Today); r == nil || r.Back != 13*round.Hour || r.Stops[1].Begin != 11*round.Hour {
		t.Errorf("Ilo's day was told anew: %+v", r)
	}
	if r, x, ok := after.Find("u.1"); !ok || r.Day != f.Today.Add(1) || !x.Kept {
		t.Errorf("moved to %+v", r)
	}
}
