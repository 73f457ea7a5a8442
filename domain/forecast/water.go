package forecast

import (
	"math"

	"scaperound/domain/chem"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
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

// chances of one interval or of one visit's work.
const (
	chDose = iota
	chNO3
	chPO4
	chK
	chFe
	chFeed
	mostChances
)

// khPerNO3 is the fall of KH while 1 mg/L of NO3 is formed from ammonia: two
// equivalents; uptake returns one.
const khPerNO3 = 2 / chem.MassNO3 / chem.MeqPerDegree

// leastKH is about what is left when the alkalinity is used up, °d.
const leastKH = 0.06

// concentration of a nutrient's term, mg/L.
func concentration(i int, x float64) float64 {
	return math.Max(0, num.Exp(math.Min(x, 14))-offset[i])
}

func term(i int, c float64) float64 { return num.Log(math.Max(c, 0) + offset[i]) }

// eaten solves c = a - g·c/(c + k) for c: a step of uptake with saturation that
// cannot take what is not there.
func eaten(a, g, k float64) float64 {
	b := a - k - g
	r := math.Sqrt(float64(b*b) + float64(4*a*k))
	if b > 0 {
		return (b + r) / 2
	}
	return 2 * a * k / (r - b)
}

// idle is the first of the terms, to the last, that the interval does not feel.
func (iv *interval) idle() int {
	if iv.topoff == tank.TopoffRO {
		return evap
	}
	if iv.topoff == tank.TopoffTap {
		return kitNO3
	}
	return inNO3
}

const eatSteps = 4

// pass carries the water through the interval.
func (iv *interval) pass(z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	t := iv.days
	n := &usual
	jolt := iv.jolt * math.Sqrt(math.Min(1, 10/t))
	factor := num.Exp(clamp(z[given]+plus(iv.less, iv.noise, e[chDose]), -8, 1))
	lost := num.Exp(clamp(z[evap], -9, -3))
	feedOf := plus(z[feedNO3], n.FeedJolt*jolt, e[chFeed])
	made := [3]float64{iv.fed[0] * num.Exp(clamp(feedOf, -4, 2)), iv.fed[1] * num.Exp(clamp(plus(z[feedPO4], n.FeedJolt*jolt, e[chFeed]), -4, 2)), iv.fed[2]}
	// How much less water there is at the start and at the end.
	dense := 1.0
	refill := [moves]float64{}
	switch iv.topoff {
	case tank.TopoffRO:
	case tank.TopoffTap:
		refill = [moves]float64{math.Max(0, z[inNO3]), iv.source[0], iv.source[1], iv.source[2], z[inGH], z[inKH]}
	default:
		dense = (1 - math.Min(0.8, float64(lost*iv.since))) / (1 - math.Min(0.8, float64(lost*(iv.since+t))))
	}
	h := t / eatSteps
	var usedNO3 float64
	for i := range 3 {
		c := concentration(i, z[i])
		g := num.Exp(clamp(plus(z[eatNO3+i], n.Jolt[i]*jolt, e[chNO3+i]), -8, 4))
		in := float64(iv.dose[i]*factor) + made[i] + float64(lost*refill[i])
		start := c
		for range eatSteps {
			c = eaten(plus(c, in, h), float64(g*h), half[i])
		}
		if i == 0 {
			usedNO3 = plus(start, in, t) - c
		}
		out[i] = term(i, c*dense)
	}
	// Iron is lost in proportion beside what is taken up.
	iron := concentration(lnFe, z[lnFe])
	hFe := t / (2 * eatSteps)
	fade := 1 / (1 + float64(hFe*num.Exp(clamp(z[lossFe], -5, 3))))
	eat := num.Exp(clamp(plus(z[eatFe], n.Jolt[lnFe]*jolt, e[chFe]), -10, 2))
	// Only the last doses are still there, and fewer of them are less even.
	uneven := math.Sqrt(clamp(0.2*t, 1, 2))
	factorFe := num.Exp(clamp(z[given]+plus(iv.less, iv.noise*uneven, e[chDose]), -8, 1))
	inFe := float64(iv.dose[lnFe]*factorFe) + float64(lost*refill[lnFe])
	for range 2 * eatSteps {
		iron = eaten(fade*plus(iron, inFe, hFe), float64(eat*hFe*fade), half[lnFe])
	}
	out[lnFe] = term(lnFe, iron*dense)

	hard := z[gh] + float64(t*(z[driftGH]+float64(iv.dose[gh]*factor)+float64(lost*refill[gh])))
	out[gh] = math.Max(0, hard*dense)

	sink := 0.0
	if iv.soil > 0 {
		sink = iv.soil * num.Exp(clamp(z[sinkKH], -3, 2))
	}
	rate := z[driftKH] + float64(iv.dose[kh]*factor) + float64(lost*refill[kh]) - float64(khPerNO3*made[0]) + float64(khPerNO3/2*usedNO3/t)
	alk := z[kh]
	if sink > 1e-6 {
		f := num.Exp(-float64(sink * t))
		alk = float64(alk*f) + rate/sink*(1-f)
	} else {
		alk = plus(alk, rate, t)
	}
	out[kh] = math.Max(leastKH, alk*dense)
}

// change is a visit's water change and what is dosed after it.
type change struct {
	share    float64 // drained, of the full tank
	since    float64 // days since full
	refilled bool
	sd       float64 // ln, of the share
	at       supply
	sdDose   float64
	source   [3]float64
	topoff   tank.Topoff
}

func (c *change) pass(z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	w := clamp(c.share*num.Exp(float64(c.sd*e[chNO3])), 0, 1)
	full := 1.0
	if c.topoff != tank.TopoffRO && c.topoff != tank.TopoffTap {
		full = 1 - math.Min(0.8, float64(num.Exp(clamp(z[evap], -9, -3))*c.since))
	}
	// Of the water afterwards, old stays and the rest is new.
	old := math.Max(0, full-w)
	if !c.refilled && c.share == 0 {
		old = 1
	}
	in := [moves]float64{math.Max(0, z[inNO3]), c.source[0], c.source[1], c.source[2], math.Max(0, z[inGH]), math.Max(0, z[inKH])}
	factor := num.Exp(float64(c.sdDose * e[chDose]))
	for i := range nutrient {
		out[i] = term(i, float64(old*concentration(i, z[i]))+float64((1-old)*in[i])+float64(factor*c.at[i]))
	}
	for _, i := range [...]int{gh, kh} {
		out[i] = float64(old*z[i]) + float64((1-old)*in[i]) + float64(factor*c.at[i])
	}
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
