package forecast

import (
	"math"
	"math/rand/v2"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// A made-up tank is lived day by day by rules of its own, which differ from what
// the forecast assumes: plants that grow and are cut, feed by the pinch, a source
// that changes with the season, kits with a bias, doses that are forgotten.
type madeUp struct {
	rnd    *rand.Rand
	setup  tank.Setup
	plan   tank.Plan
	every  int
	share  float64
	net    float64 // truth
	c      [moves]float64
	mass   float64 // of plants, 1 is full
	grow   float64
	appet  [3]float64
	loseFe float64
	makes  [2]float64 // NO3 and PO4 of the feed, mg/L a day
	source [moves]float64
	season float64
	evap   float64
	dosed  float64
	forget float64
	bias   [moves]float64
	flow   float64
	clean  float64
	clog   float64
	since  float64
	co2    float64
	co2Day float64
	broken int // days on which the doser stands still from then on
}

type lived struct {
	steps []Step
	truth [][Tracked]float64 // before each visit's work; flow and content last
}

var labels = [nutrient][]float64{{0, 5, 10, 25, 50, 100, 160}, {0, 0.1, 0.25, 0.5, 1, 2, 3, 5}, {0, 3, 5, 8, 10, 15, 20, 30, 45}, {0, 0.05, 0.1, 0.2, 0.5, 1}}

func newMadeUp(seed uint64) *madeUp {
	r := rand.New(rand.NewPCG(seed, 77))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	m := &madeUp{rnd: r, broken: -1}
	rich := seed%2 == 0
	size := between(60, 110)
	s := tank.Setup{State: tank.Running, SetUpOn: q.Some(q.Date(10000)), Topoff: tank.TopoffRO}
	s.Substrate = tank.SandGravel
	s.Length, s.Width, s.Level = q.Some(q.Centimetre(size)), q.Some(q.Centimetre(45)), q.Some(q.Centimetre(38))
	s.SubstrateDepth, s.Stone = q.Some(q.Centimetre(5)), q.Some(q.Kilogram(12))
	s.Source = q.Some(tank.Source{Kind: tank.Tap})
	if seed%3 == 0 {
		s.Topoff = tank.TopoffNone
	}
	src := [moves]float64{between(1, 20), between(0, 0.3), between(0, 3), 0, between(4, 16), between(2, 10)}
	m.source = src
	for i := range src {
		known := src[i] * (1 + 0.03*r.NormFloat64())
		s.Source.V.Values = append(s.Source.V.Values, tank.Known{Kind: kinds[i], Value: known})
	}
	v, _ := NetVolume(s)
	m.net = float64(v.V) * (1 + 0.02*r.NormFloat64())
	m.every, m.share = 14, between(0.25, 0.4)
	feed := between(0.2, 0.6)
	m.appet = [3]float64{between(0.4, 1), between(0.03, 0.07), between(0.06, 0.12)}
	perDay := [nutrient]float64{between(0, 0.3), between(0.01, 0.05), between(0.1, 0.4), between(0.01, 0.02)}
	by, owner := tank.DosedByOwner, "customer"
	m.forget = between(0.02, 0.25)
	if rich {
		m.every, m.share = 7, 0.5
		m.appet = [3]float64{between(1.2, 2.4), between(0.09, 0.18), between(0.25, 0.4)}
		perDay = [nutrient]float64{between(0.8, 2.2), between(0.08, 0.2), between(0.5, 1.2), between(0.02, 0.05)}
		by, owner, m.forget = tank.DosedByDoser, "device", 0.01
		s.CO2.Injected = true
		s.CO2.Cylinder, s.CO2.Tare = q.Some(q.Kilogram(5)), q.Some(q.Kilogram(6))
		m.co2, m.co2Day = between(3, 5), between(0.008, 0.025)
	}
	if seed%5 == 1 {
		feed *= 4
	}
	s.Share = tank.CareShare{Feeds: true, Doses: !rich, FeedPerDay: q.Some(q.Gram(feed))}
	m.makes = [2]float64{feed * between(150, 230) / m.net, feed * between(8, 20) / m.net}
	m.plan.By = by
	for i, x := range perDay {
		m.plan.Lines = append(m.plan.Lines, tank.DosingLine{Solute: kinds[i], PerDose: q.Milligram(x * float64(v.V)), Weekdays: 127, ByWhom: owner})
	}
	m.dosed = 1 + 0.06*r.NormFloat64()
	m.mass, m.grow, m.loseFe = between(0.3, 0.8), between(0.01, 0.03), between(0.1, 0.4)
	m.evap = between(0.001, 0.005)
	m.season = between(0, 6)
	for i := range m.bias {
		m.bias[i] = math.Exp(usual.Kit[i] * r.NormFloat64())
		m.c[i] = src[i]*between(0.8, 1.2) + []float64{between(0, 15), between(0, 1), between(0, 10), 0.02, 0, 0}[i]
	}
	m.clean = between(500, 1500)
	s.Filter.Clean = q.Some(q.LitrePerHour(m.clean * (1 + 0.03*r.NormFloat64())))
	m.flow, m.clog = m.clean*0.8, between(0.004, 0.015)
	m.setup = s
	return m
}

// day lets one day pass.
func (m *madeUp) day(n int) {
	r := m.rnd
	given := m.dosed
	if r.Float64() < m.forget || m.broken >= 0 && n >= m.broken {
		given = 0
	}
	mg := func(i int) float64 { return given * float64(m.plan.Lines[i].PerDose) / m.net }
	in := [moves]float64{mg(0), mg(1), mg(2) + 0.6305*mg(0) + 0.4117*mg(1), mg(3)}
	pinch := math.Exp(0.3 * r.NormFloat64())
	in[0] += m.makes[0] * pinch
	in[1] += m.makes[1] * pinch
	used := 0.0
	for i, half := range []float64{0.7, 0.05, 0.8} {
		c := m.c[i] + in[i]
		eat := math.Min(m.appet[i]*(0.4+0.9*m.mass)*c/(c+half), 0.9*c)
		m.c[i] = c - eat
		if i == 0 {
			used = eat
		}
	}
	m.mass += m.grow * m.mass * (1.2 - m.mass)
	fe := m.c[3] + in[3]
	m.c[3] = fe*math.Exp(-m.loseFe) - math.Min(0.9*fe*math.Exp(-m.loseFe), 0.01*m.mass)
	m.c[5] = math.Max(0.06, m.c[5]-0.0902*m.makes[0]*pinch+0.0451*used)
	m.since++
	m.flow *= math.Exp(-m.clog * math.Exp(0.2*r.NormFloat64()))
	m.co2 = math.Max(0, m.co2-m.co2Day*(1+0.1*r.NormFloat64()))
}

// concentrated is what is in the water that is left.
func (m *madeUp) concentrated() [moves]float64 {
	out := m.c
	if m.setup.Topoff == tank.TopoffNone {
		for i := range out {
			out[i] /= 1 - m.evap*m.since
		}
	}
	return out
}

func (m *madeUp) read(i int, c float64) visit.Reading {
	r := visit.Reading{Kind: kinds[i], Phase: visit.Before, Lot: "kit"}
	if i >= nutrient {
		n := math.Max(0, math.Ceil(c*m.bias[i]+0.15*m.rnd.NormFloat64()))
		r.Value, r.Lo, r.Hi = math.Max(0, n-0.5), math.Max(0, n-1), n
		return r
	}
	y := c*m.bias[i]*(1+usual.KitNoise[i]*m.rnd.NormFloat64()) + usual.KitFloor[i]*m.rnd.NormFloat64()
	best := 0
	for j, l := range labels[i] {
		if math.Abs(l-y) < math.Abs(labels[i][best]-y) {
			best = j
		}
	}
	r.Value, r.Hi = labels[i][best], math.Inf(1)
	if best > 0 {
		r.Lo = (labels[i][best-1] + labels[i][best]) / 2
	}
	if best+1 < len(labels[i]) {
		r.Hi = (labels[i][best] + labels[i][best+1]) / 2
	}
	return r
}

// live is so many visits; thin reads a nutrient at one visit of three.
func (m *madeUp) live(visits int, thin bool) lived {
	var out lived
	on, n := q.Date(10400), 0
	for v := range visits {
		if v > 0 {
			days := m.every + m.rnd.IntN(3) - 1
			for range days {
				m.day(n)
				n++
			}
			on = on.Add(days)
		}
		c := m.concentrated()
		rec := visit.Record{Visit: string(rune('A' + v)), Kind: visit.Routine, Day: on, Minute: 600, Performed: on.Midnight().Add(10 * time.Hour)}
		for i := range moves {
			if !thin || (v+i)%3 == 0 || i == 0 && v%4 != 3 {
				rec.Readings = append(rec.Readings, m.read(i, c[i]))
			}
		}
		if !thin || v%3 == 0 {
			x := m.flow * (1 + 0.04*m.rnd.NormFloat64())
			rec.Readings = append(rec.Readings, visit.Reading{Kind: q.Flow, Phase: visit.Before, Lot: "b", Interval: q.Interval{Value: x, Lo: x, Hi: x}})
		}
		if m.setup.CO2.Injected {
			g := math.Round((m.co2+6+0.008*m.rnd.NormFloat64())*100) / 100
			rec.Readings = append(rec.Readings, visit.Reading{Kind: q.CylinderGross, Phase: visit.Before, Lot: "s", Interval: q.Interval{Value: g, Lo: g, Hi: g}})
		}
		out.truth = append(out.truth, [Tracked]float64{c[0], c[1], c[2], c[3], c[4], c[5], m.flow, m.co2})
		w := m.share * math.Exp(0.06*m.rnd.NormFloat64())
		rec.Work = append(rec.Work, visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(m.share * m.net))})
		season := 1 + 0.06*math.Sin(float64(on)/58+m.season)
		old := 1 - w
		if m.setup.Topoff == tank.TopoffNone {
			old = 1 - w - m.evap*m.since
		}
		mixed := 1 + 0.06*m.rnd.NormFloat64() // the share of pure water in the can is never the same
		for i := range m.c {
			m.c[i] = old*c[i] + (1-old)*m.source[i]*season*mixed
		}
		m.since = 0
		if m.mass > 0.9 {
			m.mass *= 0.65
			rec.Work = append(rec.Work, visit.Work{Kind: visit.Trim})
		}
		if m.flow < 0.5*m.clean {
			m.flow = m.clean * (0.9 + 0.05*m.rnd.Float64())
			rec.Work = append(rec.Work, visit.Work{Kind: visit.FilterClean})
		}
		out.steps = append(out.steps, Step{m.setup, m.plan, rec})
	}
	return out
}
