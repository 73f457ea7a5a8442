package round

import (
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Bad input is said in words, and the rest is planned.
func TestWhyAStopHasNoPlace(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *Problem)
		why    string
		remedy string // the sentence's ID
	}{
		"no position":    {func(p *Problem) { p.Places[3].Unknown = true }, "round.why.no_position", "round.remedy.position"},
		"nobody at work": {func(p *Problem) { p.People = nil }, "round.why.nobody", ""},
		"skill":          {func(p *Problem) { p.Stops[2].Skills = []string{"gas"} }, "round.why.skill", "round.remedy.skill"},
		"evening": {func(p *Problem) {
			p.Stops[2].Windows = []Window{{Weekday: time.Tuesday, From: 17 * Hour, To: 19 * Hour}}
		}, "round.why.hours", "round.remedy.open"},
		"Sunday": {func(p *Problem) { p.Stops[2].Windows = []Window{{Weekday: time.Sunday, From: 9 * Hour, To: 19 * Hour}} }, "round.why.closed", "round.remedy.open"},
		"away":   {func(p *Problem) { p.Stops[2].Away = []Leave{{From: monday, To: monday.Add(9)}} }, "round.why.away", ""},
		"later":  {func(p *Problem) { p.Stops[2].NotBefore = q.Some(monday.Add(9)) }, "round.why.not_then", ""},
		"load":   {func(p *Problem) { p.Stops[2].Load.WaterL = 900 }, "round.why.load", "round.remedy.load"},
		"short window": {func(p *Problem) {
			p.Stops[2].Windows = []Window{{Weekday: time.Monday, From: 9 * Hour, To: 9*Hour + 30*Minute}}
		}, "round.why.closed", "round.remedy.longer_open"},
		"promised past": {func(p *Problem) {
			p.Stops[2].Promised = q.Some(Promise{Day: monday.Add(-3), From: 9 * Hour, To: 10 * Hour})
		}, "round.why.promised_elsewhen", ""},
	} {
		p := small()
		p.Vans = []Van{{ID: "v0", Carries: Load{WaterL: 500, Cylinders: 2}}, {ID: "v1", Carries: Load{WaterL: 500, Cylinders: 2}}}
		for i := range p.People {
			for j := range p.People[i].Hours {
				p.People[i].Hours[j].Van = "v" + itoa(i)
			}
		}
		c.change(&p)
		plan := Solve(p, Options{Iterations: 100, Threads: 1})
		if len(plan.Unplaced) == 0 {
			t.Errorf("%s: everything is placed", name)
			continue
		}
		i := 0
		if c.why != "round.why.nobody" {
			if len(plan.Unplaced) != 1 || plan.Unplaced[0].Stop != "s3" {
				t.Errorf("%s: the rest is not planned: %v", name, plan.Unplaced)
			}
		} else if len(plan.Unplaced) != len(p.Stops) || len(plan.Said) != 1 {
			t.Errorf("%s: %d unplaced, said %v", name, len(plan.Unplaced), plan.Said)
		}
		u := plan.Unplaced[i]
		if len(u.Why) != 1 || u.Why[0].ID != c.why || u.Remedy.ID != c.remedy {
			t.Errorf("%s: %v, remedy %v", name, u.Why, u.Remedy)
		}
		if len(Check(p, plan)) > 0 {
			t.Errorf("%s: %v", name, Check(p, plan))
		}
	}
}

// A full day says who would have to stay, and for how long that is enough.
func TestTheRemedyOfAFullDayIsTrue(t *testing.T) {
	p := small()
	p.Days = 1
	p.People = p.People[:1]
	for i := range p.Stops {
		p.Stops[i].Due, p.Stops[i].Work = monday, Hour+10*Minute
	}
	plan := Solve(p, Options{Iterations: 500, Threads: 1})
	if len(plan.Unplaced) == 0 {
		t.Fatal("seven stops of 70 minutes fit into eight hours")
	}
	u := plan.Unplaced[0]
	if u.Remedy.ID != "round.remedy.longer" {
		t.Fatalf("remedy %v", u.Remedy)
	}
	text := say.Render(u.Remedy, say.MetricUnits)
	p.People[0].Hours[0].To += 2 * Hour
	if again := Solve(p, Options{Iterations: 500, Threads: 1}); len(again.Unplaced) >= len(plan.Unplaced) {
		t.Errorf("%q, and two hours more do not let it in", text)
	}
}

// Half a minute too long is a minute longer, never none: from nine, with 20
// minutes of driving there and back, 7 h 20 min 30 s of work end at 17:00:30.
func TestARemedyIsInWholeMinutes(t *testing.T) {
	p := Problem{From: monday, Days: 1, Places: line(2), Travel: Travel{Drive: []Seconds{0, 20 * Minute, 20 * Minute, 0}},
		People: []Person{{ID: "ada", Name: "Ada", Hours: nine(0)}},
		Stops:  []Stop{{ID: "s", Name: "the hall", Place: 1, Work: 7*Hour + 20*Minute + 30, Due: monday}}}
	plan := Solve(p, Options{Iterations: 10, Threads: 1})
	if len(plan.Unplaced) != 1 {
		t.Fatal("it fits")
	}
	if text := say.Render(plan.Unplaced[0].Remedy, say.MetricUnits); text != "It fits if Ada stays 1 minute longer on Monday 30 November, until 17:01." {
		t.Error(text)
	}
}

// What is said of a window that is too short is enough, and no minute too much.
func TestTheRemedyOfAShortWindowIsTrue(t *testing.T) {
	p := small()
	window := Window{Weekday: time.Monday, From: 11 * Hour, To: 12 * Hour}
	p.Stops[2].Windows, p.Stops[2].Work = []Window{window}, 100*Minute
	plan := Solve(p, Options{Iterations: 100, Threads: 1})
	if len(plan.Unplaced) != 1 || plan.Unplaced[0].Remedy.ID != "round.remedy.longer_open" {
		t.Fatalf("unplaced %v", plan.Unplaced)
	}
	for _, a := range plan.Unplaced[0].Remedy.Args {
		if a.Name == "time" && a.Text != "40 minutes" {
			t.Errorf("%s longer, but 100 minutes of work lack 40 of an hour", a.Text)
		}
	}
	p.Stops[2].Windows[0].To += 40 * Minute
	if plan = Solve(p, Options{Iterations: 100, Threads: 1}); len(plan.Unplaced) > 0 {
		t.Errorf("40 minutes more do not let it in: %v", plan.Unplaced)
	}
}

func TestAVanIsOutWithOnePersonAtATime(t *testing.T) {
	p := small()
	p.Days = 1
	p.Vans = []Van{{ID: "v", Name: "the van", Carries: Load{WaterL: 500}}}
	for i := range p.Stops {
		p.Stops[i].Due, p.Stops[i].Work = monday, Hour+10*Minute
	}
	share := func(day int, from, to Seconds) {
		for i := range p.People {
			p.People[i].Hours[day].Van = "v"
		}
		p.People[0].Hours[day].To, p.People[1].Hours[day].From = from, to
	}
	share(0, 17*Hour, 9*Hour)
	plan := Solve(p, Options{Iterations: 500, Threads: 1})
	out := 0
	for _, r := range plan.Routes {
		if len(r.Visits) > 0 {
			out++
		}
	}
	if b := Check(p, plan); len(b) > 0 || out != 1 {
		t.Errorf("%d rounds with one van, %v", out, b)
	}
	if len(plan.Said) != 1 || plan.Said[0].ID != "round.one_van" {
		t.Errorf("said %v", plan.Said)
	}
	if u := plan.Unplaced; len(u) == 0 {
		t.Error("seven stops of 70 minutes fit into eight hours")
	}
	// One in the morning, one in the afternoon: both go.
	share(0, 13*Hour, 13*Hour)
	plan = Solve(p, Options{Iterations: 500, Threads: 1})
	if b := Check(p, plan); len(b) > 0 || len(plan.Said) > 0 || len(plan.Routes[0].Visits) == 0 || len(plan.Routes[1].Visits) == 0 {
		t.Errorf("%v, said %v", b, plan.Said)
	}
	// Who alone has the skill stays without the van that somebody else has.
	share(0, 17*Hour, 9*Hour)
	p.People[1].Skills, p.Stops[0].Skills = []string{"gas"}, []string{"gas"}
	p.Stops[1].Keep = q.Some(Keep{Day: monday, Person: "ada"})
	plan = Solve(p, Options{Iterations: 500, Threads: 1})
	for _, u := range plan.Unplaced {
		if u.Stop == "s1" && u.Why[0].ID != "round.why.van" {
			t.Errorf("why %v", u.Why)
		}
	}
}
