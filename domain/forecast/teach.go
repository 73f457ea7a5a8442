package forecast

import (
	"cmp"
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Lesson is what a test at the next visit would be worth.
type Lesson struct {
	Kind  q.Kind
	Gain  float64 // share of the uncertainty that the test takes away, 0 to 1
	Doubt float64 // how open it is whether a limit is kept: 0 settled, 1 even chances
	Worth float64 // what to order by, 0 to 1
}

// WhichTestTeaches orders the kinds by what reading them on a day would teach,
// the most first: how much of the uncertainty it takes away, and whether
// something hangs on it.
func WhichTestTeaches(s State, setup tank.Setup, c Course, on q.Date, limits []Limit) []Lesson {
	if !s.Usable() || on < s.Day || on-s.Day > 3650 {
		return nil
	}
	run := runner{s: s, setup: &setup, course: &c, next: on}
	run.to(on)
	var out []Lesson
	for i, k := range kinds {
		m, v, noise, ok := run.s.spread(i)
		if !ok {
			continue
		}
		l := Lesson{Kind: k, Gain: 1 - math.Sqrt(noise/(v+noise))}
		for _, lim := range limits {
			if lim.Kind != k || !finite(lim.At) {
				continue
			}
			at := lim.At
			switch {
			case i < nutrient:
				at = term(i, at)
			case k == q.Flow:
				at = num.Log(math.Max(at, 1e-9))
			}
			p := phi((at - m) / math.Sqrt(v+1e-12))
			l.Doubt = math.Max(l.Doubt, 4*p*(1-p))
		}
		l.Worth = l.Gain * (0.2 + float64(0.8*l.Doubt))
		out = append(out, l)
	}
	num.SortStable(out, func(a, b Lesson) int { return cmp.Compare(b.Worth, a.Worth) })
	return out
}

// spread is mean and variance of a kind on its own scale, and the variance of
// what a kit would read of it.
func (s *State) spread(i int) (m, v, noise float64, ok bool) {
	n := &usual
	switch {
	case i < nutrient:
		m, v = s.Mean[i], s.Cov[at(i, i)]
		c := concentration(i, m)
		// A class is about as wide as its value, a third of it either way.
		sd := math.Sqrt(float64(n.KitFloor[i]*n.KitFloor[i])+float64(c*c)*(float64(n.KitNoise[i]*n.KitNoise[i])+0.04)) / (c + offset[i])
		return m, v, float64(sd*sd) + float64(n.Kit[i]*n.Kit[i]), true
	case i < moves:
		m, v = s.Mean[i], s.Cov[at(i, i)]
		off := n.Kit[i] * m
		return m, v, float64(n.DropNoise*n.DropNoise) + 1.0/12 + float64(off*off), true
	case kinds[i] == q.Flow && s.Flow.Known:
		return s.Flow.Mean[lnNow], s.Flow.Cov[0], float64(n.FlowNoise * n.FlowNoise), true
	case kinds[i] == q.CylinderGross && s.Cylinder.Known:
		return s.Cylinder.Mean[0], s.Cylinder.Cov[0], float64(n.CylScale * n.CylScale), true
	}
	return 0, 0, 0, false
}
