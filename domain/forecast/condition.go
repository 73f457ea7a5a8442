package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
)

// meaning is how a reading speaks: it lies in Lo to Hi, blurred by what one sees
// of a colour or a drop.
type meaning struct {
	lo, hi    float64 // ±Inf at an open end
	sd, share float64 // standard deviation: fixed, and as a share of the value
	wrong     float64 // what a wrong reading would do: the same everywhere
}

// likelihood of the reading where the kit would truly show y.
func (m *meaning) likelihood(y float64) float64 {
	r := m.share * y
	s := math.Sqrt(float64(m.sd*m.sd) + float64(r*r))
	hi, lo := 1.0, 0.0
	if !math.IsInf(m.hi, 1) {
		hi = phi((m.hi - y) / s)
	}
	if !math.IsInf(m.lo, -1) {
		lo = phi((m.lo - y) / s)
	}
	return math.Max(0, hi-lo)
}

const grid = 61

// posterior is what the moments of x ~ N(m, v) become when y = of(x) is read.
type posterior struct {
	m, v     float64
	evidence float64 // probability of the reading
	wrong    float64 // probability that it is wrong
	guess    float64
}

// scale says how a sum of terms becomes what a kit shows.
type scale struct {
	log    bool
	offset float64
}

func (s scale) shown(x float64) float64 {
	if !s.log {
		return math.Max(0, x)
	}
	return math.Max(0, num.Exp(math.Min(x, 14))-s.offset)
}

// read conditions a normal on a reading by the trapezoidal rule.
func (m *meaning) read(mean, v float64, sc scale) posterior {
	sd := math.Sqrt(v)
	wrong := usual.Wrong
	var z0, z1, z2, w1, guess float64
	var all float64
	for i := range grid {
		u := -5 + 10*float64(i)/(grid-1)
		p := num.Exp(-float64(u*u) / 2)
		y := sc.shown(plus(mean, sd, u))
		good := (1 - wrong) * m.likelihood(y)
		bad := wrong * m.wrong
		w := p * (good + bad)
		all += p
		z0 += w
		z1 = plus(z1, w, u)
		z2 = plus(z2, w, float64(u*u))
		w1 = plus(w1, p, bad)
	}
	guess = sc.shown(mean)
	if !(z0 > 0) || math.IsInf(z0, 0) {
		return posterior{m: mean, v: v, evidence: 1e-12, wrong: 1, guess: guess}
	}
	mu := z1 / z0
	spread := math.Max(1e-6, z2/z0-float64(mu*mu))
	return posterior{m: plus(mean, sd, mu), v: math.Min(spread, 1.5) * v, evidence: z0 / all, wrong: w1 / z0, guess: guess}
}

// meaningOf is what a reading says, by its kind.
func meaningOf(k int, r q.Interval) meaning {
	n := &usual
	out := meaning{lo: r.Lo, hi: r.Hi, wrong: 0.1}
	switch {
	case k < nutrient:
		out.sd, out.share = n.KitFloor[k], n.KitNoise[k]
		if !(r.Lo > 0) {
			out.lo = math.Inf(-1) // not found at all belongs to it
		}
	default:
		out.sd, out.share = n.DropNoise, n.DropShare
		if !(r.Lo > 0) {
			out.lo = math.Inf(-1)
		}
		if r.Hi == 0 {
			out.hi = 0
		}
	}
	if !(out.hi > out.lo) {
		out.lo, out.hi = r.Value-out.sd/4, r.Value+out.sd/4
	}
	out.wrong = math.Min(0.2, math.Max(0.02, (clamp(out.hi, 0, 1e6)-math.Max(out.lo, 0))/(20+float64(2*r.Value))))
	if k < nutrient {
		out.wrong = 0.1
	}
	return out
}
