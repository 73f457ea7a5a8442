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
	return max(0, hi-lo)
}

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

// grid is how many points a reading is integrated over, where it can be at all.
const grid = 25

// reach is beyond how many standard deviations nothing is looked for.
const reach = 4.5

// where a reading is possible, in standard deviations of the term from its mean.
func (m *meaning) where(mean, sd float64, sc scale) (from, to float64) {
	from, to = -reach, reach
	share := min(m.share, 0.2)
	at := func(y float64) (float64, bool) {
		if !sc.log {
			return (y - mean) / sd, y > 0
		}
		y += sc.offset
		if !(y > 0) {
			return 0, false
		}
		return (ln(y) - mean) / sd, true
	}
	if !math.IsInf(m.lo, -1) {
		if u, ok := at((m.lo - float64(reach*m.sd)) / (1 + float64(reach*share))); ok {
			from = max(from, u)
		}
	}
	if !math.IsInf(m.hi, 1) {
		if u, ok := at((m.hi + float64(reach*m.sd)) / max(0.1, 1-float64(reach*share))); ok {
			to = min(to, u)
		}
	}
	return from, to
}

// of is the sum of terms of which a kit would show y.
func (s scale) of(y float64) float64 {
	if !s.log {
		return y
	}
	return ln(max(y, 0) + s.offset)
}

// read conditions a normal on a reading: by the trapezoidal rule where the
// reading is right, in closed form where it is wrong.
func (m *meaning) read(mean, v float64, sc scale) posterior {
	sd := math.Sqrt(v)
	guess := sc.shown(mean)
	bad := usual.Wrong * m.wrong
	z0, z1, z2 := bad, 0.0, bad
	from, to := m.where(mean, max(sd, 1e-9), sc)
	if step := (to - from) / (grid - 1); step > 0 {
		// Along the grid the density and exp(x) go on by factors.
		p := num.Exp(-float64(from*from)/2) * float64((1-usual.Wrong)*step) * 0.3989422804014327
		q, qq := num.Exp(-float64(step*(from+step/2))), num.Exp(-float64(step*step))
		x := plus(mean, sd, from)
		y, by := 0.0, 0.0
		if sc.log {
			y, by = num.Exp(min(x, 300)), num.Exp(float64(min(sd, 60)*step))
		}
		for i := range grid {
			u := plus(from, step, float64(i))
			shown := max(0, plus(x, float64(sd*step), float64(i)))
			if sc.log {
				shown = max(0, min(y, 1.2e6)-sc.offset)
			}
			w := p * m.likelihood(shown)
			if i == 0 || i == grid-1 {
				w /= 2
			}
			z0 += w
			z1 = plus(z1, w, u)
			z2 = plus(z2, w, float64(u*u))
			p *= q
			q *= qq
			y *= by
		}
	}
	if !(z0 > 0) || math.IsInf(z0, 0) {
		return posterior{m: mean, v: v, evidence: 1e-12, wrong: 1, guess: guess}
	}
	mu := z1 / z0
	spread := max(1e-6, z2/z0-float64(mu*mu))
	return posterior{m: plus(mean, sd, mu), v: min(spread, 1.5) * v, evidence: z0, wrong: bad / z0, guess: guess}
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
