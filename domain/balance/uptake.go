package balance

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Between is what is known of one nutrient between two visits. Sigmas are one
// standard deviation; for a kit's class of half width h it is h/√3.
type Between struct {
	First, Second quantity.MgPerLitre // before the change of each visit
	Source        quantity.MgPerLitre
	Share         quantity.Share      // changed at the first visit
	Doses         quantity.MgPerLitre // given between the visits, in all
	Feed          quantity.MgPerLitre // what the feed brought in
	Days          quantity.Days

	SigmaFirst, SigmaSecond, SigmaSource, SigmaDoses, SigmaFeed quantity.MgPerLitre
	SigmaShare                                                  quantity.Share
}

// Uptake is a net uptake with its standard error, mg/L per day. It is net of
// what the feed's dissolved part did not cover, of denitrification and of sorption.
type Uptake struct {
	PerDay float64
	Sigma  float64
	// Censored says that the second reading is zero: at least so much was taken.
	Censored bool
}

// NetUptake returns what went, per day.
//
//	u  = (C1(1-w) + wS + ΣD + F - C2)/Δt
//	σ² = ((1-w)²σ1² + σ2² + (C1-S)²σw² + w²σS² + σD² + σF²)/Δt²
//
// A line through readings before the changes is not an uptake. A kit's bias or a
// wrong volume shifts every interval alike and does not shrink with more of them.
// Source: mass balance; JCGM 100:2008, 5.1.2 for the error.
func NetUptake(b Between) (Uptake, error) {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The first reading", float64(b.First), 0, 1e5, "mg/L"},
		{"The second reading", float64(b.Second), 0, 1e5, "mg/L"},
		{"The source water", float64(b.Source), 0, 1e5, "mg/L"},
		{"The share changed", float64(b.Share), 0, 1, ""},
		{"The doses", float64(b.Doses), 0, 1e5, "mg/L"},
		{"What the feed brought", float64(b.Feed), 0, 1e5, "mg/L"},
		{"The days between the visits", float64(b.Days), 0.1, 400, "d"},
		{"An error", float64(b.SigmaFirst), 0, 1e5, "mg/L"},
		{"An error", float64(b.SigmaSecond), 0, 1e5, "mg/L"},
		{"An error", float64(b.SigmaSource), 0, 1e5, "mg/L"},
		{"An error", float64(b.SigmaDoses), 0, 1e5, "mg/L"},
		{"An error", float64(b.SigmaFeed), 0, 1e5, "mg/L"},
		{"The error of the share", float64(b.SigmaShare), 0, 1, ""},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return Uptake{}, err
		}
	}
	w, dt := float64(b.Share), float64(b.Days)
	u := (float64(float64(b.First)*(1-w)) + float64(w*float64(b.Source)) + float64(b.Doses) + float64(b.Feed) - float64(b.Second)) / dt
	sum := 0.0
	for _, s := range [...]float64{
		(1 - w) * float64(b.SigmaFirst), float64(b.SigmaSecond), float64(b.First-b.Source) * float64(b.SigmaShare),
		w * float64(b.SigmaSource), float64(b.SigmaDoses), float64(b.SigmaFeed),
	} {
		sum += float64(s * s)
	}
	return Uptake{PerDay: u, Sigma: math.Sqrt(sum) / dt, Censored: b.Second == 0}, nil
}
