package forecast

import (
	"math"
	"math/rand/v2"
	"testing"

	"scaperound/domain/balance"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

func close(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

// still is a tank in which nothing happens by itself.
func still() (z [terms]float64) {
	for i := range nutrient {
		z[i] = term(i, 10)
		z[eatNO3+i] = -30
	}
	z[gh], z[kh], z[lossFe], z[feedNO3], z[feedPO4], z[evap] = 8, 5, -30, -30, -30, -30
	z[inNO3], z[inGH], z[inKH] = 4, 12, 3
	return z
}

// all carries every part of the water.
func all(w water, z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	var buf [moves]part
	for _, p := range w.parts(&buf) {
		w.pass(p.name, z, e, out)
	}
}

// What is dosed is there afterwards, to the milligram, where nothing takes it.
func TestMassIsConserved(t *testing.T) {
	var e [mostChances]float64
	var out [moves]float64
	z := still()
	iv := interval{days: 9, dose: supply{2, 0.3, 1.5, 0.01, 0.1, 0.2}, jolt: 1, topoff: tank.TopoffRO}
	all(water{days: &iv}, &z, &e, &out)
	for i := range moves {
		got, want, tol := out[i], z[i]+9*iv.dose[i], 1e-9
		if i < nutrient {
			// The smallest uptake and loss that the terms allow is a few mg in a thousand litres.
			got, want, tol = concentration(i, out[i]), 10+9*iv.dose[i], 0.01
			if i == lnFe {
				tol = 0.7 // loss is held at e^-5 a day and above
			}
		}
		if i == kh {
			tol = 1e-3 // what little nitrate is taken up gives back some
		}
		close(t, string(kinds[i]), got, want, tol)
	}
	c := change{share: 0.3, refilled: true, source: [3]float64{1, 2, 0.5}, topoff: tank.TopoffRO, at: supply{lnK: 3}}
	all(water{work: &c}, &z, &e, &out)
	for i, in := range []float64{4, 1, 2, 0.5, 12, 3} {
		got, was := out[i], z[i]
		if i < nutrient {
			got, was = concentration(i, out[i]), 10
		}
		close(t, "after a change, "+string(kinds[i]), got, 0.7*was+0.3*in+c.at[i], 1e-9)
	}
}

// Water that evaporates leaves its salts; filled up with the source, it brings
// more. By hand: a hundredth of the water a day for ten days.
func TestEvaporation(t *testing.T) {
	var e [mostChances]float64
	var out [moves]float64
	z := still()
	z[evap] = math.Log(0.01)
	iv := interval{days: 10, jolt: 1, topoff: tank.TopoffNone}
	all(water{days: &iv}, &z, &e, &out)
	close(t, "GH", out[gh], 8/0.9, 1e-9)
	copy(z[:], out[:])
	c := change{since: 10, refilled: true, topoff: tank.TopoffNone}
	all(water{work: &c}, &z, &e, &out)
	close(t, "GH after filling up", out[gh], 8+0.1*12, 1e-9)
	z = still()
	z[evap] = math.Log(0.01)
	iv.topoff = tank.TopoffTap
	all(water{days: &iv}, &z, &e, &out)
	close(t, "GH, topped off from the tap", out[gh], 8+10*0.01*12, 1e-9)
}

// A step of uptake takes what it says where there is plenty, never more than is
// there, and solves its own equation in between.
func TestUptakeWithSaturation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 1000 {
		a, g, k := 50*r.Float64(), 20*r.Float64(), 0.01+r.Float64()
		c := eaten(a, g, k)
		if c < 0 || c > a {
			t.Fatalf("eaten(%v, %v, %v) = %v", a, g, k, c)
		}
		close(t, "balance", c+g*c/(c+k), a, 1e-9*(1+a))
	}
	close(t, "plenty", eaten(1000, 2, 0.5), 998, 0.01)
	close(t, "nothing", eaten(0, 2, 0.5), 0, 0)
}

// 10 mg/L of nitrate made cost 0.90 °d of KH (two equivalents to a nitrogen), and
// give back half of it when they are taken up.
func TestNitrateAndKH(t *testing.T) {
	close(t, "made", 10*khPerNO3, 0.904, 0.005)
	var e [mostChances]float64
	var out [moves]float64
	z := still()
	z[feedNO3] = 0
	iv := interval{days: 5, fed: [3]float64{2, 0, 0}, jolt: 1, topoff: tank.TopoffRO}
	all(water{days: &iv}, &z, &e, &out)
	close(t, "KH", out[kh], 5-0.904, 0.01)
	close(t, "NO3", concentration(lnNO3, out[lnNO3]), 20, 0.02)
}

// Run for a year under one routine, the middle of the forecast settles where the
// closed form of the saw-tooth says.
func TestSettlesWhereTheClosedFormSays(t *testing.T) {
	var e [mostChances]float64
	var out [moves]float64
	z := still()
	z[eatNO3] = math.Log(1.2)
	iv := interval{days: 7, dose: supply{3}, jolt: 1, topoff: tank.TopoffRO}
	c := change{share: 0.5, refilled: true, topoff: tank.TopoffRO}
	for range 60 {
		all(water{work: &c}, &z, &e, &out)
		copy(z[:], out[:])
		all(water{days: &iv}, &z, &e, &out)
		copy(z[:], out[:])
	}
	want, err := balance.Settle(balance.Routine{Dose: 21, Uptake: 1.2, Source: 4, Share: 0.5, Days: 7})
	if err != nil {
		t.Fatal(err)
	}
	// With 29 mg/L there, saturation holds the uptake two in a hundred lower.
	close(t, "before the change", concentration(lnNO3, z[lnNO3]), float64(want.Before), 0.4)
}

// A reading moves mean and variance as numerical integration of prior times
// likelihood says, with the library's own distribution function on a fine grid.
func TestReadingAgainstIntegration(t *testing.T) {
	cdf := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	for _, c := range []struct {
		m, v, lo, hi float64
		kind         int
	}{
		{math.Log(12), 0.2, 7.5, 15, lnNO3},
		{math.Log(30), 0.4, 7.5, 15, lnNO3},
		{math.Log(3), 0.5, 0, 0.5, lnNO3}, // nothing found where some was expected
		{math.Log(40), 0.1, 125, math.Inf(1), lnNO3},
		{math.Log(0.2), 0.3, 0.175, 0.375, lnPO4},
		{8.2, 1.1, 7, 8, gh},
		{0.3, 0.4, 0, 0, kh}, // the colour was there before the first drop
		{15, 0.02, 12, 13, gh},
	} {
		m := meaningOf(c.kind, q.Interval{Value: c.lo, Lo: c.lo, Hi: c.hi})
		sc := scale{}
		if c.kind < nutrient {
			sc = scale{true, offset[c.kind]}
		}
		got := m.read(c.m, c.v, sc)
		var z0, z1, z2, all float64
		const n = 200000
		sd := math.Sqrt(c.v)
		for i := range n {
			u := -8 + 16*(float64(i)+0.5)/n
			x := c.m + sd*u
			y := math.Max(0, x)
			if sc.log {
				y = math.Max(0, math.Exp(x)-sc.offset)
			}
			s := math.Hypot(m.sd, m.share*y)
			lo, hi := 0.0, 1.0
			if !math.IsInf(m.lo, -1) {
				lo = cdf((m.lo - y) / s)
			}
			if !math.IsInf(m.hi, 1) {
				hi = cdf((m.hi - y) / s)
			}
			p := math.Exp(-u * u / 2)
			w := p * ((1-usual.Wrong)*(hi-lo) + usual.Wrong*m.wrong)
			all += p
			z0 += w
			z1 += w * x
			z2 += w * x * x
		}
		mean := z1 / z0
		close(t, "mean", got.m, mean, 0.02*sd)
		close(t, "variance", got.v, math.Min(z2/z0-mean*mean, 1.5*c.v), 0.02*c.v)
		close(t, "evidence", got.evidence, z0/all, 0.005)
	}
}

func TestNormalDistribution(t *testing.T) {
	for z := -7.9; z < 8; z += 0.1 {
		close(t, "phi", phi(z), 0.5*math.Erfc(-z/math.Sqrt2), 1e-7)
	}
}

func TestLogarithm(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 20000 {
		x := math.Exp(40*r.Float64() - 20)
		if got, want := ln(x), math.Log(x); math.Abs(got-want) > 4e-16*math.Abs(want)+1e-16 {
			t.Fatalf("ln(%v) = %v, want %v", x, got, want)
		}
	}
	for _, x := range []float64{0, 1, 1e-305, math.MaxFloat64, math.Inf(1), -1} {
		if got, want := ln(x), math.Log(x); got != want && !(math.IsNaN(got) && math.IsNaN(want)) && math.Abs(got-want) > 1e-13 {
			t.Errorf("ln(%v) = %v, want %v", x, got, want)
		}
	}
}

// Where the water only mixes, the propagation is exact: mean and covariance of a
// linear map of normals.
func TestPushOfALinearMap(t *testing.T) {
	s := Start(newMadeUp(2).setup)
	s.Cov[at(gh, inGH)] = 0.3 * math.Sqrt(s.Cov[at(gh, gh)]*s.Cov[at(inGH, inGH)])
	was := s
	c := change{share: 0.3, refilled: true, topoff: tank.TopoffRO}
	s.push(water{work: &c})
	v := func(i, j int) float64 { return was.Cov[at(i, j)] }
	close(t, "mean", s.Mean[gh], 0.7*was.Mean[gh]+0.3*was.Mean[inGH], 1e-9)
	close(t, "variance", s.Cov[at(gh, gh)], 0.49*v(gh, gh)+0.09*v(inGH, inGH)+0.42*v(gh, inGH), 1e-9)
	close(t, "covariance", s.Cov[at(gh, inGH)], 0.7*v(gh, inGH)+0.3*v(inGH, inGH), 1e-9)
}
