package demoshop

import (
	"math"
	"math/rand/v2"
)

// pool is the truth about one tank's water. Every change of it is a flow of
// mass: fed, dosed, changed, taken up, oxidised, evaporated.
type pool struct {
	litres float64 // net, when full
	short  float64 // litres evaporated and not topped off
	no3    float64 // mg/L from here on, whole ions
	no2    float64
	tan    float64 // mg/L as N
	po4    float64
	k      float64
	fe     float64
	kh     float64 // °d
	gh     float64
	co2    float64 // mg/L late in the light period
	temp   float64 // °C

	nitrifiers [2]float64 // share of what a mature filter oxidises: TAN, NO2
	flow       float64    // L/h
	cylinder   float64    // kg of CO2 left
}

// day is what happens to a tank in a day.
type day struct {
	feed                   float64 // g
	no3, po4, k, fe        float64 // mg/L dosed
	uptake                 float64 // mg/L NO3 that the plants would take
	soilN                  float64 // mg/L N that rich soil gives off
	evaporates             float64 // L
	topoffKH, topoffGH     float64 // °d of the water that replaces it
	toppedOff              bool
	co2Target, co2GramsDay float64
	slowing                float64 // share of flow lost in a day
	setPoint, room         float64 // °C
}

const (
	nInFeed      = 0.45 / 6.25 * 0.8 * 0.8 // g N per g of feed: 45 % protein, a fifth kept, four fifths dissolved
	pInFeed      = 0.011 * 0.5             // g P per g of feed: the rest is kept or stays solid
	no3PerN      = 4.4266
	po4PerP      = 3.0661
	khPerNitrify = 0.0904 * no3PerN // °d lost per mg/L N oxidised
	khPerUptake  = 0.0452           // °d gained per mg/L NO3 taken up
)

// live moves the pool on by one day.
func (p *pool) live(d day, r *rand.Rand) {
	// What is fed becomes ammonia, what the filter can oxidises in two steps.
	p.tan += d.feed*nInFeed*1000/p.litres + d.soilN
	first := math.Min(p.tan, p.tan*0.98*p.nitrifiers[0])
	if p.kh < 0.5 {
		first *= math.Max(0.1, p.kh/0.5) // nitrification runs out of alkalinity
	}
	p.tan -= first
	p.kh = math.Max(0, p.kh-first*khPerNitrify)
	p.no2 += first * 46.005 / 14.007
	second := p.no2 * 0.98 * p.nitrifiers[1]
	p.no2 -= second
	p.no3 += second * 62.004 / 46.005

	// Plants take ammonia first, then nitrate, as far as the light's pace and
	// the CO2 allow and as far as there is any.
	pace := d.uptake
	if d.co2Target > 0 {
		pace *= 0.35 + 0.65*math.Min(1, p.co2/d.co2Target)
	}
	pace *= 0.9 + 0.2*r.Float64()
	fromTAN := math.Min(p.tan*0.5, pace/no3PerN)
	p.tan -= fromTAN
	fromNO3 := math.Min(p.no3, pace-fromTAN*no3PerN)
	p.no3 -= fromNO3
	p.kh += fromNO3*khPerUptake - fromTAN*no3PerN*khPerUptake
	grown := fromNO3 + fromTAN*no3PerN
	p.po4 = math.Max(0, p.po4+d.po4+d.feed*pInFeed*1000/p.litres*po4PerP-grown/14)
	p.k = math.Max(0, p.k+d.k-grown*0.22)
	p.no3 += d.no3
	p.fe = (p.fe + d.fe) * math.Exp(-0.3)

	// Water leaves, salts stay.
	p.short += d.evaporates
	if d.toppedOff {
		p.kh += d.topoffKH * p.short / p.litres
		p.gh += d.topoffGH * p.short / p.litres
		p.short = 0
	}

	p.breathe(d, r)
	p.temp += 0.6*(math.Max(d.setPoint, d.room-0.5)-p.temp) + 0.1*r.NormFloat64()
	p.flow *= math.Exp(-d.slowing)
	for i := range p.nitrifiers {
		p.nitrifiers[i] = math.Min(1, p.nitrifiers[i]*1.16) // a colony doubles in five days or so
	}
}

// breathe sets the day's CO2: what the cylinder still gives, else what air and
// animals leave in the water.
func (p *pool) breathe(d day, r *rand.Rand) {
	if d.co2Target == 0 || p.cylinder <= 0 {
		p.co2 = 2.5 + 0.4*r.NormFloat64()
	} else {
		p.cylinder = math.Max(0, p.cylinder-d.co2GramsDay/1000)
		p.co2 = d.co2Target * (1 + 0.05*r.NormFloat64())
	}
	p.co2 = math.Max(1, p.co2)
}

// concentrated is a value as the water shows it with what has evaporated gone.
func (p *pool) concentrated(v float64) float64 { return v * p.litres / (p.litres - p.short) }

// change replaces a share of the water by source water s.
func (p *pool) change(share float64, s source) {
	mix := func(tank *float64, new float64) { *tank = *tank*(1-share) + new*share }
	p.short = 0
	mix(&p.no3, s.no3)
	mix(&p.no2, 0)
	mix(&p.tan, 0)
	mix(&p.po4, s.po4)
	mix(&p.k, s.k)
	mix(&p.fe, 0)
	mix(&p.kh, s.kh)
	mix(&p.gh, s.gh)
}

// source is change water: tap water with a share of pure water, and salts
// where the way of the tank adds them.
type source struct{ kh, gh, no3, po4, k float64 }

// taps of Alderbrook: the river works, and the old well supply of Copper Hill.
var (
	riverTap = source{kh: 4.2, gh: 6.5, no3: 5, po4: 0.1, k: 1.5}
	wellTap  = source{kh: 13, gh: 17, no3: 11, po4: 0.1, k: 2}
	shrimpRO = source{kh: 0, gh: 5, no3: 0, po4: 0, k: 3}
)

func (s source) with(ro float64) source {
	return source{s.kh * (1 - ro), s.gh * (1 - ro), s.no3 * (1 - ro), s.po4 * (1 - ro), s.k * (1 - ro)}
}
