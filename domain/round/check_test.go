package round

import (
	"testing"
	"time"

	q "scaperound/domain/quantity"
)

// Each rule is broken once, in a plan that is right otherwise, and seen.
func TestTheCheckerSeesEveryBreach(t *testing.T) {
	base := func() Problem {
		p := small()
		p.Vans = []Van{{ID: "v0", Carries: Load{WaterL: 500, Cylinders: 2}}, {ID: "v1", Carries: Load{WaterL: 500, Cylinders: 2}}}
		for i := range p.People {
			for j := range p.People[i].Hours {
				p.People[i].Hours[j].Van = "v" + itoa(i)
				p.People[i].Hours[j].Break = Break{From: 10 * Hour, To: 10*Hour + 30*Minute, Length: 30 * Minute}
			}
		}
		p.Stops[6].People = 2
		return p
	}
	// first is the first route with two stops at least.
	first := func(p *Plan) *Route {
		for i := range p.Routes {
			if len(p.Routes[i].Visits) > 1 {
				return &p.Routes[i]
			}
		}
		t.Fatal("no route has two stops")
		return nil
	}
	stop := func(p *Problem, id string) *Stop {
		for i := range p.Stops {
			if p.Stops[i].ID == id {
				return &p.Stops[i]
			}
		}
		return nil
	}
	for name, c := range map[string]struct {
		rule   string
		change func(p *Problem, plan *Plan)
	}{
		"window": {BreachWindow, func(p *Problem, plan *Plan) {
			stop(p, first(plan).Visits[0].Stop).Windows = []Window{{Day: q.Some(first(plan).Day), From: 16 * Hour, To: 17 * Hour}}
		}},
		"hours": {BreachHours, func(p *Problem, plan *Plan) { first(plan).Back = 17*Hour + 1 }},
		"leave": {BreachHours, func(p *Problem, plan *Plan) {
			p.People[0].Leave, p.People[1].Leave = []Leave{{monday, monday.Add(9)}}, []Leave{{monday, monday.Add(9)}}
		}},
		"skill": {BreachSkill, func(p *Problem, plan *Plan) { stop(p, first(plan).Visits[0].Stop).Skills = []string{"gas"} }},
		"load":  {BreachLoad, func(p *Problem, plan *Plan) { stop(p, first(plan).Visits[0].Stop).Load.Cylinders = 3 }},
		"one van": {BreachVan, func(p *Problem, plan *Plan) {
			for j := range p.People[1].Hours {
				p.People[1].Hours[j].Van = "v0"
			}
		}},
		"kept": {BreachLock, func(p *Problem, plan *Plan) {
			stop(p, first(plan).Visits[0].Stop).Keep = q.Some(Keep{Day: monday.Add(4), Person: "ada"})
		}},
		"kept at": {BreachLock, func(p *Problem, plan *Plan) {
			r := first(plan)
			stop(p, r.Visits[0].Stop).Keep = q.Some(Keep{Day: r.Day, Start: q.Some(r.Visits[0].Start + 1)})
		}},
		"promise": {BreachPromise, func(p *Problem, plan *Plan) {
			r := first(plan)
			stop(p, r.Visits[0].Stop).Promised = q.Some(Promise{Day: r.Day, From: 15 * Hour, To: 16 * Hour})
		}},
		"last": {BreachLast, func(p *Problem, plan *Plan) { stop(p, first(plan).Visits[0].Stop).KeptApart = true }},
		"away": {BreachAway, func(p *Problem, plan *Plan) {
			r := first(plan)
			stop(p, r.Visits[0].Stop).Away = []Leave{{r.Day, r.Day}}
		}},
		"not before": {BreachAway, func(p *Problem, plan *Plan) {
			r := first(plan)
			stop(p, r.Visits[0].Stop).NotBefore = q.Some(r.Day.Add(1))
		}},
		"too fast": {BreachTimes, func(p *Problem, plan *Plan) {
			p.Travel = GreatCircle(p.Places)
			for i := range p.Travel.Drive {
				p.Travel.Drive[i] *= 3
			}
		}},
		"rush hour": {BreachTimes, func(p *Problem, plan *Plan) {
			p.Travel = GreatCircle(p.Places)
			for h := range p.Travel.Pace {
				p.Travel.Pace[h] = 300
			}
		}},
		"too short":   {BreachTimes, func(p *Problem, plan *Plan) { first(plan).Visits[0].Done -= Minute }},
		"back":        {BreachTimes, func(p *Problem, plan *Plan) { r := first(plan); r.Back = r.Visits[len(r.Visits)-1].Done }},
		"no break":    {BreachBreak, func(p *Problem, plan *Plan) { first(plan).Break.OK = false }},
		"early break": {BreachBreak, func(p *Problem, plan *Plan) { first(plan).Break.V = 9*Hour + 30*Minute }},
		"work in it": {BreachBreak, func(p *Problem, plan *Plan) {
			r := first(plan)
			r.Visits[0].Start, r.Visits[0].Done = r.Break.V, r.Break.V+Hour
		}},
		"missing":    {BreachMissing, func(p *Problem, plan *Plan) { r := first(plan); r.Visits = r.Visits[:len(r.Visits)-1] }},
		"twice":      {BreachTwice, func(p *Problem, plan *Plan) { r := first(plan); r.Visits = append(r.Visits, r.Visits[0]) }},
		"two rounds": {BreachTwice, func(p *Problem, plan *Plan) { plan.Routes = append(plan.Routes, Route{Day: monday, Person: "ada"}) }},
		"both":       {BreachTwice, func(p *Problem, plan *Plan) { plan.Unplaced = []Unplaced{{Stop: "s1"}} }},
		"listed twice": {BreachTwice, func(p *Problem, plan *Plan) {
			r := first(plan)
			x := Unplaced{Stop: r.Visits[len(r.Visits)-1].Stop}
			r.Visits = r.Visits[:len(r.Visits)-1]
			plan.Unplaced = []Unplaced{x, x}
		}},
		"alone": {BreachTogether, func(p *Problem, plan *Plan) {
			for i := range plan.Routes {
				for j, v := range plan.Routes[i].Visits {
					if v.With != "" {
						plan.Routes[i].Visits = append(plan.Routes[i].Visits[:j:j], plan.Routes[i].Visits[j+1:]...)
						return
					}
				}
			}
		}},
		"not together": {BreachTogether, func(p *Problem, plan *Plan) {
			for i := range plan.Routes {
				for j := range plan.Routes[i].Visits {
					if v := &plan.Routes[i].Visits[j]; v.With != "" {
						v.Start, v.Done = v.Start+Minute, v.Done+Minute
						return
					}
				}
			}
		}},
		"stranger":     {BreachUnknown, func(p *Problem, plan *Plan) { first(plan).Person = "eve" }},
		"strange stop": {BreachUnknown, func(p *Problem, plan *Plan) { first(plan).Visits[0].Stop = "x" }},
		"no position":  {BreachUnknown, func(p *Problem, plan *Plan) { p.Places[stop(p, first(plan).Visits[0].Stop).Place].Unknown = true }},
		"cost":         {BreachCost, func(p *Problem, plan *Plan) { plan.Cost.Drive++ }},
		"late": {BreachCost, func(p *Problem, plan *Plan) {
			s := stop(p, first(plan).Visits[0].Stop)
			s.Press, s.Due = Urgent, monday.Add(-1)
		}},
	} {
		p := base()
		plan := Solve(p, Options{Iterations: 300, Threads: 1})
		if b := Check(p, plan); len(b) > 0 || len(plan.Unplaced) > 0 {
			t.Fatalf("not right to begin with: %v %v", b, plan.Unplaced)
		}
		c.change(&p, &plan)
		found := false
		for _, b := range Check(p, plan) {
			found = found || b.Rule == c.rule
		}
		if !found {
			t.Errorf("%s: not seen as %s but as %v", name, c.rule, Check(p, plan))
		}
	}
}

// Of two stops with one ID the first is planned and the second is listed, which
// is no fault of the plan; a third one in the list would be.
func TestTwoStopsOfOneIDAreChecked(t *testing.T) {
	p := small()
	p.Stops = append(p.Stops, p.Stops[2])
	plan := Solve(p, Options{Iterations: 300, Threads: 1})
	if len(plan.Unplaced) != 1 || plan.Unplaced[0].Stop != p.Stops[2].ID {
		t.Fatalf("without a place: %v", plan.Unplaced)
	}
	if b := Check(p, plan); len(b) > 0 {
		t.Errorf("%v", b)
	}
	plan.Unplaced = append(plan.Unplaced, plan.Unplaced[0])
	if b := Check(p, plan); len(b) == 0 || b[0].Rule != BreachTwice {
		t.Errorf("listed twice: %v", b)
	}
}

// The hours of the week are read as written down: leave, and days that differ.
func TestShifts(t *testing.T) {
	who := Person{Hours: nine(0), Leave: []Leave{{monday.Add(1), monday.Add(2)}}, Special: []Shift{{Day: monday.Add(2), From: 10 * Hour, To: 12 * Hour}, {Day: monday.Add(3)}}}
	for day, want := range []Seconds{8 * Hour, 0, 2 * Hour, 0, 8 * Hour, 0} {
		s, ok := shiftOf(&who, monday.Add(day))
		if got := s.To - s.From; ok != (want > 0) || ok && got != want {
			t.Errorf("day %d (%v): %v %d, want %d", day, time.Weekday((day+1)%7), ok, got, want)
		}
	}
}
