package balance

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Decaying is a daily dose of something that is lost in proportion to what is
// there, as chelated iron is (0.1 to 0.5 per day is a judgement).
type Decaying struct {
	DailyDose quantity.MgPerLitre
	Rate      float64 // per day
	Source    quantity.MgPerLitre
	Share     quantity.Share
	Days      int // between changes
}

// SettleDecaying returns where it settles, in the order change, then each day a
// dose and its decay.
//
//	E = exp(-k), G = d·E(1-Eⁿ)/(1-E)
//	after:  A = (wS + (1-w)·G)/(1 - (1-w)Eⁿ),  before: B = A·Eⁿ + G
//
// Source: geometric series.
func SettleDecaying(d Decaying) (Steady, error) {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The daily dose", float64(d.DailyDose), 0, 1e4, "mg/L"},
		{"The rate of loss", d.Rate, 1e-6, 20, "1/d"},
		{"The source water", float64(d.Source), 0, 1e5, "mg/L"},
		{"The share changed", float64(d.Share), 0.001, 1, ""},
		{"The days between changes", float64(d.Days), 1, 365, "d"},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return Steady{}, err
		}
	}
	w := float64(d.Share)
	e := num.Exp(-d.Rate)
	en := num.Exp(-d.Rate * float64(d.Days))
	g := float64(d.DailyDose) * e * (1 - en) / -num.Expm1(-d.Rate)
	a := (float64(w*float64(d.Source)) + float64((1-w)*g)) / (1 - float64((1-w)*en))
	return Steady{After: quantity.MgPerLitre(a), Before: quantity.MgPerLitre(float64(a*en) + g)}, nil
}
