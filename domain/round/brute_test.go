package round_test

import (
	"math/rand/v2"
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// On instances small enough to try every way, the search finds the least
// driving there is.
func TestTheSearchFindsTheBestOfAllWays(t *testing.T) {
	for seed := range uint64(8) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		p := tiny(rnd, 7, 3)
		plan := round.Solve(p, round.Options{Seed: seed, Iterations: 1500, Threads: 2})
		if b := round.Check(p, plan); len(b) > 0 {
			t.Fatalf("seed %d: %v", seed, b)
		}
		if best := every(p); len(plan.Unplaced) > 0 || plan.Cost.Drive != best {
			t.Errorf("seed %d: drives %d with %d unplaced, the best of all ways drives %d", seed, plan.Cost.Drive, len(plan.Unplaced), best)
		}
	}
}

func tiny(rnd *rand.Rand, stops, people int) round.Problem {
	p := round.Problem{From: q.NewDate(2026, time.November, 30), Days: 1, Weights: round.Weights{Unplaced: 1_000_000},
		Vans: []round.Van{{ID: "a", Carries: round.Load{WaterL: 100}}, {ID: "b", Carries: round.Load{WaterL: 100}}, {ID: "c", Carries: round.Load{WaterL: 100}}}}
	n := stops + 1
	x, y := make([]int, n), make([]int, n)
	for i := range n {
		x[i], y[i] = rnd.IntN(3000), rnd.IntN(3000)
		p.Places = append(p.Places, round.Place{})
	}
	p.Travel.Drive = make([]round.Seconds, n*n)
	for i := range n {
		for j := range n {
			p.Travel.Drive[i*n+j] = round.Seconds(max(x[i]-x[j], x[j]-x[i]) + max(y[i]-y[j], y[j]-y[i]))
		}
	}
	for i := range people {
		p.People = append(p.People, round.Person{ID: string(rune('a' + i)), Special: []round.Shift{{Day: p.From, From: 8 * round.Hour, To: 17 * round.Hour, Van: string(rune('a' + i))}}})
	}
	for i := 1; i < n; i++ {
		from := 8*round.Hour + round.Seconds(rnd.IntN(5))*round.Hour
		p.Stops = append(p.Stops, round.Stop{ID: string(rune('0' + i)), Place: i, Work: 30 * round.Minute, Due: p.From, Load: round.Load{WaterL: 10 + rnd.IntN(30)},
			Windows: []round.Window{{Weekday: time.Monday, From: from, To: from + 3*round.Hour}}})
	}
	return p
}

// every tries all ways to deal the stops out to people who are all alike: each
// next stop goes first to some person, or after the last one of somebody.
func every(p round.Problem) int64 {
	n := len(p.Places)
	best := int64(1) << 60
	type state struct {
		place int
		free  round.Seconds
		load  int
	}
	at := make([]state, len(p.People))
	for i := range at {
		at[i].free = 8 * round.Hour
	}
	var try func(who int, left int, drive int64)
	try = func(who int, left int, drive int64) {
		if drive >= best {
			return
		}
		s := at[who]
		home := p.Travel.Drive[s.place*n]
		if s.free+home <= 17*round.Hour {
			if left == 0 {
				best = min(best, drive+int64(home))
			} else if who+1 < len(at) {
				try(who+1, left, drive+int64(home))
			}
		}
		for i := range p.Stops {
			if left&(1<<i) == 0 {
				continue
			}
			x := &p.Stops[i]
			way := p.Travel.Drive[s.place*n+x.Place]
			start := max(s.free+way, x.Windows[0].From)
			if start+x.Work > x.Windows[0].To || s.load+x.Load.WaterL > 100 {
				continue
			}
			at[who] = state{x.Place, start + x.Work, s.load + x.Load.WaterL}
			try(who, left&^(1<<i), drive+int64(way))
			at[who] = s
		}
	}
	try(0, 1<<len(p.Stops)-1, 0)
	return best
}
