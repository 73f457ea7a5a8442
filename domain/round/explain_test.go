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
		"away":   {func(p *Problem) { p.Stops[2].Away = []Leave{{From: monday, To: monday.Add(9)}} }, "round.why.closed", ""},
		"load":   {func(p *Problem) { p.Stops[2].Load.WaterL = 900 }, "round.why.load", "round.remedy.load"},
		"short window": {func(p *Problem) {
			p.Stops[2].Windows = []Window{{Weekday: time.Monday, From: 9 * Hour, To: 9*Hour + 30*Minute}}
		}, "round.why.closed", "round.remedy.open"},
		"promised past": {func(p *Problem) {
			p.Stops[2].Promised = q.Some(Promise{Day: monday.Add(-3), From: 9 * Hour, To: 10 * Hour})
		}, "round.why.promised_elsewhen", ""},
	} {
		p := small()
		p.Vans = []Van{{ID: "v", Carries: Load{WaterL: 500, Cylinders: 2}}}
		for i := range p.People {
			for j := range p.People[i].Hours {
				p.People[i].Hours[j].Van = "v"
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
