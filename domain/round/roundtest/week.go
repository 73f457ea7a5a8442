// Package roundtest makes up weeks of work, for tests and for measuring.
package roundtest

import (
	"fmt"
	"math/rand/v2"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// Size of a made-up week.
type Size struct {
	Visits, People, Days int
	// Plain leaves out breaks, rush hours, second windows and jobs for two.
	Plain bool
}

// Monday is the first day of made-up weeks.
var Monday = q.NewDate(2026, time.November, 30)

// Week makes up a town of customers and a week of visits: windows, tolerances,
// skills, loads, regulars, promises, jobs for two, tanks kept apart, stops that
// are kept. The same seed makes the same week. A stop is kept, promised or asks
// for a skill only where somebody can do it then, though not all of them must
// fit beside each other.
func Week(seed uint64, size Size) round.Problem {
	g := &maker{rnd: rand.New(rand.NewPCG(seed, 7)), size: size}
	g.p = round.Problem{From: Monday, Days: size.Days}
	g.place("the shop", 0.01)
	g.quarters()
	g.people()
	for i := range size.Visits {
		g.stop(i)
	}
	g.p.Travel = round.GreatCircle(g.p.Places)
	if size.Plain {
		g.p.Travel.Pace = [24]int{}
	}
	return g.p
}

type maker struct {
	rnd   *rand.Rand
	size  Size
	p     round.Problem
	parts [][2]float64
}

func (g *maker) chance(percent int) bool { return g.rnd.IntN(100) < percent }

func (g *maker) place(name string, spread float64) int {
	at := [2]float64{53.34, -6.26}
	if len(g.parts) > 0 && !g.chance(25) {
		at = g.parts[g.rnd.IntN(len(g.parts))]
	} else if len(g.parts) > 0 {
		spread = 0.06
	}
	g.p.Places = append(g.p.Places, round.Place{ID: fmt.Sprintf("p%d", len(g.p.Places)), Name: name, Lat: at[0] + spread*g.rnd.NormFloat64(), Lon: at[1] + 1.6*spread*g.rnd.NormFloat64()})
	return len(g.p.Places) - 1
}

// quarters are the parts of the town where customers live closer.
func (g *maker) quarters() {
	for range 6 + g.size.Visits/40 {
		g.parts = append(g.parts, [2]float64{53.34 + 0.05*g.rnd.NormFloat64(), -6.26 + 0.08*g.rnd.NormFloat64()})
	}
}

func (g *maker) people() {
	for i := range g.size.People {
		start := 0
		if g.chance(40) {
			start = g.place(fmt.Sprintf("home of %d", i+1), 0.01)
		}
		who := round.Person{ID: fmt.Sprintf("w%d", i+1), Name: fmt.Sprintf("Worker %d", i+1)}
		for _, skill := range []string{"gas", "marine", "ladder"} {
			if i < 2 || g.chance(45) {
				who.Skills = append(who.Skills, skill)
			}
		}
		van := fmt.Sprintf("v%d", i+1)
		g.p.Vans = append(g.p.Vans, round.Van{ID: van, Name: "van " + van, Carries: round.Load{WaterL: 500 + 100*g.rnd.IntN(4), Cylinders: 4}})
		from, to := 8*round.Hour, 17*round.Hour
		if g.chance(25) {
			to = 14 * round.Hour
		}
		for d := time.Monday; d <= time.Saturday; d++ {
			h := round.Hours{Weekday: d, Shift: round.Shift{From: from, To: to, Start: start, End: start, Van: van}}
			if !g.size.Plain && to > 15*round.Hour {
				h.Break = round.Break{From: 11*round.Hour + 30*round.Minute, To: 13*round.Hour + 30*round.Minute, Length: 30 * round.Minute}
			}
			who.Hours = append(who.Hours, h)
		}
		if i > 1 && g.chance(15) {
			away := Monday.Add(g.rnd.IntN(g.size.Days))
			who.Leave = []round.Leave{{From: away, To: away.Add(g.rnd.IntN(2))}}
		}
		g.p.People = append(g.p.People, who)
	}
}

func (g *maker) stop(i int) {
	s := round.Stop{
		ID: fmt.Sprintf("s%d", i+1), Name: fmt.Sprintf("Site %d", i+1), Phone: fmt.Sprintf("555 %04d", i+1),
		Place: g.place(fmt.Sprintf("site %d", i+1), 0.006), Work: round.Seconds(20+5*g.rnd.IntN(9)) * round.Minute,
		Due: Monday.Add(g.rnd.IntN(g.size.Days)), EarlyDays: g.rnd.IntN(3), LateDays: g.rnd.IntN(4), LastBy: g.anybody(),
	}
	if g.chance(50) {
		s.Load.WaterL = 10 * g.rnd.IntN(13)
	}
	if g.chance(10) {
		s.Load.Cylinders = 1
	}
	if g.chance(15) {
		s.Skills = []string{[]string{"gas", "marine", "ladder"}[g.rnd.IntN(3)]}
	}
	if g.chance(30) {
		s.Prefer = g.anybody()
	}
	if g.chance(25) {
		s.Weekday = q.Some(s.Due.Weekday())
	}
	switch n := g.rnd.IntN(100); {
	case n < 4:
		s.Press = round.Urgent
	case n < 10:
		s.Press = round.NoSlip
	}
	g.windows(&s)
	switch n := g.rnd.IntN(100); {
	case n < 3 && !g.size.Plain:
		s.People = 2
	case n < 6:
		s.KeptApart = true
	case n < 10 && len(s.Windows) == 0:
		at := round.Seconds(9+g.rnd.IntN(4)) * round.Hour
		s.Promised = q.Some(round.Promise{Day: s.Due, From: at, To: at + round.Hour})
	case n < 14 && len(s.Windows) == 0:
		s.Keep = q.Some(round.Keep{Day: s.Due, Person: g.p.People[g.rnd.IntN(2)].ID})
	}
	g.p.Stops = append(g.p.Stops, s)
}

func (g *maker) anybody() string { return g.p.People[g.rnd.IntN(len(g.p.People))].ID }

// windows of a site: none, the same each day, or different ones, two on some days.
func (g *maker) windows(s *round.Stop) {
	kind := g.rnd.IntN(100)
	if kind < 45 {
		return
	}
	from := round.Seconds(8+g.rnd.IntN(5)) * round.Hour
	length := round.Seconds(2+g.rnd.IntN(3)) * round.Hour
	for d := time.Monday; d <= time.Saturday; d++ {
		if kind >= 75 {
			if g.chance(25) && d != s.Due.Weekday() {
				continue
			}
			from = round.Seconds(8+g.rnd.IntN(5)) * round.Hour
		}
		s.Windows = append(s.Windows, round.Window{Weekday: d, From: from, To: from + length})
		if kind >= 90 && !g.size.Plain {
			s.Windows = append(s.Windows, round.Window{Weekday: d, From: from + length + round.Hour, To: from + length + 3*round.Hour})
		}
	}
}
