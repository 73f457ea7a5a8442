package web

import (
	"context"
	"math"
	"strings"
	"sync"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// How long the routing service may take, how long its answer is good, and how
// long a failure keeps us from asking again.
const (
	serviceWait  = 8 * time.Second
	serviceGood  = 12 * time.Hour
	serviceSulks = time.Minute
)

// ways remembers what the routing service answered, so that pricing a move does
// not ask it again.
type ways struct {
	mu    sync.Mutex
	asked string
	at    time.Time
	t     *round.Travel // nil: it failed
}

// travel is driving between the places of a problem, by the routing service
// where one is named and answers sense, else by the straight line. The sentence
// says which.
func (p roundBook) travel(ctx context.Context, roads due.Roads, places []round.Place) (round.Travel, say.Sentence) {
	straight := roads.Travel(places)
	if p.cfg.Roads == nil {
		return straight, say.S("due.straight")
	}
	var known []int
	var points []customer.Position
	var key strings.Builder
	for i, x := range places {
		if !x.Unknown {
			at := customer.Position{Lat: x.Lat, Lon: x.Lon}
			known, points = append(known, i), append(points, at)
			key.WriteString(at.String() + ";")
		}
	}
	p.ways.mu.Lock()
	defer p.ways.mu.Unlock()
	age := p.cfg.Now().Sub(p.ways.at)
	if p.ways.asked != key.String() || p.ways.t == nil && age > serviceSulks || age > serviceGood {
		p.ways.asked, p.ways.at = key.String(), p.cfg.Now()
		p.ways.t = p.ask(ctx, straight, len(places), known, points)
	}
	if p.ways.t == nil {
		return straight, say.S("due.no_service")
	}
	t := *p.ways.t
	t.Pace = roads.Pace
	return t, say.S("due.by_service")
}

// ask asks the routing service; nil where it is away or its answer makes no
// sense.
func (p roundBook) ask(ctx context.Context, straight round.Travel, n int, known []int, points []customer.Position) *round.Travel {
	ctx, cancel := context.WithTimeout(ctx, serviceWait)
	defer cancel()
	seconds, metres, err := p.cfg.Roads.Table(ctx, points)
	if err != nil {
		p.log.Warn("the routing service did not answer", "err", err)
		return nil
	}
	k := len(points)
	if len(seconds) != k*k || len(metres) != 0 && len(metres) != k*k {
		p.log.Warn("the routing service answered a table of another size", "points", k, "got", len(seconds))
		return nil
	}
	t := round.Travel{Drive: make([]round.Seconds, n*n), Metres: make([]int32, n*n)}
	copy(t.Metres, straight.Metres)
	for a, i := range known {
		for b, j := range known {
			s := seconds[a*k+b]
			if !sensible(s, straight.Metres[i*n+j]) {
				p.log.Warn("the routing service answered what cannot be", "seconds", s, "metres", straight.Metres[i*n+j])
				return nil
			}
			t.Drive[i*n+j] = round.Seconds(s)
			if len(metres) > 0 {
				t.Metres[i*n+j] = metres[a*k+b]
			}
		}
	}
	return &t
}

// sensible reports whether a way of so many metres can take so long: a day at
// the most, and no faster than 200 km/h beyond the first kilometre.
func sensible(seconds, metres int32) bool {
	fastest := math.Max(0, float64(metres)-1000) / (200 / 3.6)
	return seconds >= 0 && seconds <= 24*3600 && float64(seconds) >= fastest
}
