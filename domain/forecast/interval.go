package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// interval is what is known of the days between two moments.
type interval struct {
	days   float64
	since  float64 // days since full, at its start
	dose   supply  // by the day
	noise  float64 // of what was really dosed, ln
	less   float64 // ln by which less was dosed than the tank's usual
	jolt   float64 // times the usual chance of the rates
	fed    [3]float64
	source [3]float64 // PO4, K, Fe of the source water, mg/L
	topoff tank.Topoff
	soil   float64 // expected sink of KH, 1/d
}

// between is what is known of the days before the visit.
func between(s *State, setup *tank.Setup, plan *tank.Plan, d visit.DosesBetween, days, net float64, on q.Date) interval {
	iv := interval{days: days, since: s.SinceFull, dose: dailyOf(*plan, net), fed: fedDaily(setup, net), jolt: 1, topoff: setup.Topoff, soil: soilSink(setup, on)}
	iv.source = sourceOf(setup)
	n := &usual
	owner := setup.Share.Doses
	iv.noise = n.Report[0]
	if owner {
		iv.noise = n.Report[2]
	}
	switch d.How {
	case "some_missed":
		iv.noise = n.Report[3]
		iv.less = n.SomeMissed
		if d.Missed.OK {
			planned := math.Max(1, dosesIn(plan, days))
			iv.less = num.Log(1 - clamp(float64(d.Missed.V)/planned, 0, 0.95))
		}
	case "altered":
		iv.noise = 0.5
	case "as_planned":
		iv.noise = math.Min(iv.noise, n.Report[1])
	}
	return iv
}

func sourceOf(setup *tank.Setup) (u [3]float64) {
	for i, k := range [...]q.Kind{q.Phosphate, q.Potassium, q.Iron} {
		u[i] = clamp(setup.Change(k).Or([...]float64{0.1, 2, 0}[i]), 0, 1e4)
	}
	return u
}

// parts are the moving terms with what they feel of the days.
func (iv *interval) parts(buf *[moves]part) []part {
	no3 := part{partNO3, setOf(lnNO3, kh), setOf(lnNO3, eatNO3, kh, driftKH), setOf(chNO3)}
	po4 := part{partPO4, setOf(lnPO4), setOf(lnPO4, eatPO4), setOf(chPO4)}
	k := part{partK, setOf(lnK), setOf(lnK, eatK, driftK), setOf(chK)}
	fe := part{partFe, setOf(lnFe), setOf(lnFe, eatFe, lossFe), setOf(chFe)}
	hard := part{partGH, setOf(gh), setOf(gh, driftGH), 0}
	if iv.fed[0] > 0 {
		no3.in |= setOf(feedNO3)
		no3.chances |= setOf(chFeed)
	}
	if iv.fed[1] > 0 {
		po4.in |= setOf(feedPO4)
		po4.chances |= setOf(chFeed)
	}
	if iv.soil > 0 {
		no3.in |= setOf(sinkKH)
	}
	if iv.topoff == tank.TopoffTap {
		no3.in |= setOf(inNO3, inKH)
		hard.in |= setOf(inGH)
	}
	for i, p := range [...]*part{&no3, &po4, &k, &fe, &hard} {
		if iv.dose[i] > 0 || i == lnNO3 && iv.dose[kh] > 0 {
			p.in |= setOf(given)
			p.chances |= setOf(chDose)
		}
		if iv.topoff != tank.TopoffRO {
			p.in |= setOf(evap)
		}
	}
	buf[0], buf[1], buf[2], buf[3], buf[4] = no3, po4, k, fe, hard
	return buf[:5]
}

const eatSteps = 4

// pass carries one part of the water through the interval.
func (iv *interval) pass(p partName, z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	t := iv.days
	lost := 0.0 // share of the water, by the day
	if iv.topoff != tank.TopoffRO {
		lost = num.Exp(clamp(z[evap], -9, -3))
	}
	// How much less water there is at the start and at the end.
	dense := 1.0
	if iv.topoff != tank.TopoffRO && iv.topoff != tank.TopoffTap {
		dense = (1 - min(0.8, float64(lost*iv.since))) / (1 - min(0.8, float64(lost*(iv.since+t))))
		lost = 0 // nothing is filled up before the visit
	}
	switch p {
	case partNO3:
		made := iv.feeds(0, z[feedNO3], e)
		c, used := iv.nutrient(lnNO3, made, float64(lost*max(0, z[inNO3])), z, e)
		out[lnNO3] = term(lnNO3, c*dense)
		out[kh] = max(leastKH, iv.alkalinity(made, used, lost, z, e)*dense)
	case partPO4:
		c, _ := iv.nutrient(lnPO4, iv.feeds(1, z[feedPO4], e), float64(lost*iv.source[0]), z, e)
		out[lnPO4] = term(lnPO4, c*dense)
	case partK:
		c, _ := iv.nutrient(lnK, iv.fed[2]+z[driftK], float64(lost*iv.source[1]), z, e)
		out[lnK] = term(lnK, c*dense)
	case partFe:
		out[lnFe] = term(lnFe, iv.iron(float64(lost*iv.source[2]), z, e)*dense)
	case partGH:
		daily := z[driftGH] + float64(lost*z[inGH])
		if iv.dose[gh] > 0 {
			daily += float64(iv.dose[gh] * iv.factor(1, z, e))
		}
		out[gh] = max(0, plus(z[gh], t, daily)*dense)
	}
}

// factor is what is really dosed against the plan.
func (iv *interval) factor(uneven float64, z *[terms]float64, e *[mostChances]float64) float64 {
	return num.Exp(clamp(z[given]+plus(iv.less, iv.noise*uneven, e[chDose]), -8, 1))
}

// feeds is what the feed makes in a day, mg/L.
func (iv *interval) feeds(i int, ln float64, e *[mostChances]float64) float64 {
	if !(iv.fed[i] > 0) {
		return 0
	}
	return iv.fed[i] * num.Exp(clamp(plus(ln, usual.FeedJolt*iv.joltBy(), e[chFeed]), -4, 2))
}

// joltBy is by how much more the rates may jump than is usual: over a long time
// jumps even out.
func (iv *interval) joltBy() float64 { return iv.jolt * math.Sqrt(min(1, 10/iv.days)) }

// nutrient is a concentration at the end, mg/L of the full tank, and how much was
// taken up until then.
func (iv *interval) nutrient(i int, made, refilled float64, z *[terms]float64, e *[mostChances]float64) (c, used float64) {
	in := made + refilled
	if iv.dose[i] > 0 {
		in += float64(iv.dose[i] * iv.factor(1, z, e))
	}
	c = concentration(i, z[i])
	h := iv.days / eatSteps
	most := float64(h * num.Exp(clamp(plus(z[eatNO3+i], usual.Jolt[i]*iv.joltBy(), e[chNO3+i]), -8, 4)))
	all := plus(c, in, iv.days)
	for range eatSteps {
		c = eaten(plus(c, in, h), most, half[i])
	}
	return c, all - c
}

// iron is lost in proportion beside what is taken up. Only the last doses are
// still there, and fewer of them are less even.
func (iv *interval) iron(refilled float64, z *[terms]float64, e *[mostChances]float64) float64 {
	h := iv.days / (2 * eatSteps)
	fade := 1 / (1 + float64(h*num.Exp(clamp(z[lossFe], -5, 3))))
	most := float64(h * fade * num.Exp(clamp(plus(z[eatFe], usual.Jolt[lnFe]*iv.joltBy(), e[chFe]), -10, 2)))
	in := refilled
	if iv.dose[lnFe] > 0 {
		in += float64(iv.dose[lnFe] * iv.factor(math.Sqrt(clamp(0.2*iv.days, 1, 2)), z, e))
	}
	c := concentration(lnFe, z[lnFe])
	for range 2 * eatSteps {
		c = eaten(fade*plus(c, in, h), most, half[lnFe])
	}
	return c
}

// alkalinity is KH at the end, °d of the full tank: what forms nitrate takes it,
// what takes nitrate up gives half of it back, rich soil holds a share of it.
func (iv *interval) alkalinity(made, used, lost float64, z *[terms]float64, e *[mostChances]float64) float64 {
	t := iv.days
	rate := z[driftKH] + float64(lost*z[inKH]) - float64(khPerNO3*made) + float64(khPerNO3/2*used/t)
	if iv.dose[kh] > 0 {
		rate += float64(iv.dose[kh] * iv.factor(1, z, e))
	}
	if !(iv.soil > 0) {
		return plus(z[kh], t, rate)
	}
	sink := iv.soil * num.Exp(clamp(z[sinkKH], -3, 2))
	if sink <= 1e-6 {
		return plus(z[kh], t, rate)
	}
	f := num.Exp(-float64(sink * t))
	return float64(z[kh]*f) + rate/sink*(1-f)
}

// soilSink is the expected first-order sink of KH in rich soil: strongest in the
// first two months.
func soilSink(setup *tank.Setup, on q.Date) float64 {
	if setup.Substrate != tank.RichSoil {
		return 0
	}
	age := setup.AgeWeeks(on).Or(52) * 7
	return 0.08 * num.Exp(-age/120)
}
func dosesIn(p *tank.Plan, days float64) float64 {
	most := 0
	for i := range p.Lines {
		most = max(most, p.Lines[i].DosesPerWeek())
	}
	return float64(most) * days / 7
}

// carry moves the state through an interval and lets what is learnt drift.
func (s *State) carry(iv *interval, setup *tank.Setup) {
	n := &usual
	s.push(water{days: iv})
	t := iv.days
	week := t / 7
	for i := range moves {
		sd := n.Stray[i]
		if i == gh || i == kh {
			sd *= 1 + math.Abs(s.Mean[i])/20
		}
		s.widen(i, sd, week)
	}
	for i := range nutrient {
		s.widen(eatNO3+i, n.Drift, t)
		for j := range i + 1 {
			s.Cov[at(eatNO3+i, eatNO3+j)] += float64(n.DriftShared*n.DriftShared) * t
		}
	}
	s.widen(lossFe, n.LossDrift, t)
	s.widen(feedNO3, n.FeedDrift, t)
	s.widen(feedPO4, n.FeedDrift, t)
	s.widen(driftK, n.DriftKWalk, t)
	s.widen(driftGH, n.DriftGHWalk, t)
	s.widen(driftKH, n.DriftKHWalk, t)
	s.widen(given, n.GivenDrift, t)
	for _, i := range [...]int{inNO3, inGH, inKH} {
		s.widen(i, plus(0.02, n.SourceWalk, math.Abs(s.Mean[i])), t)
	}
	s.SinceFull += t
	if iv.topoff == tank.TopoffRO || iv.topoff == tank.TopoffTap {
		s.SinceFull = 0
	}
	s.bound()
}
