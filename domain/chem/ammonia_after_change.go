package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Batch is a body of water that is mixed with another.
type Batch struct {
	TAN   quantity.MgNPerLitre
	KH    quantity.DegreeKH
	Temp  quantity.Celsius
	Ionic quantity.MolPerLitre // UsualIonic where not known
}

// AfterChange is what a change of water leads to once the mixture has lost its
// CO2 to the air, which is when its pH is highest.
type AfterChange struct {
	TAN  quantity.MgNPerLitre
	KH   quantity.DegreeKH
	Temp quantity.Celsius
	PH   quantity.PH
	NH3N quantity.MgNPerLitre
}

// NH3NAfterChange predicts the free ammonia after changing the share w of the
// water: TAN, alkalinity and heat mix by volume, then the CO2 settles at co2
// (CO2WithAir for a tank aerated at night), which gives the pH.
//
// It is the check before raising the KH of a tank that holds animals and
// ammonia: a rise of pH from 6.6 to 7.6 multiplies the free ammonia by ten. The
// mixture's KH must come to at least 0.01 °d.
//
// Source: mass balance, PHForCO2 and NH3N.
func NH3NAfterChange(tank, source Batch, w quantity.Share, co2 quantity.MgPerLitre) (AfterChange, error) {
	if err := num.Within("The share changed", float64(w), 0, 1, ""); err != nil {
		return AfterChange{}, err
	}
	for _, b := range [...]Batch{tank, source} {
		if err := num.Within("Total ammonia", float64(b.TAN), 0, 1000, "mg N/L"); err != nil {
			return AfterChange{}, err
		}
		if err := num.Within("KH", float64(b.KH), 0, maxKH, "°d"); err != nil {
			return AfterChange{}, err
		}
	}
	mix := func(a, b float64) float64 { return a + float64(float64(w)*(b-a)) }
	out := AfterChange{
		TAN:  quantity.MgNPerLitre(mix(float64(tank.TAN), float64(source.TAN))),
		KH:   quantity.DegreeKH(mix(float64(tank.KH), float64(source.KH))),
		Temp: quantity.Celsius(mix(float64(tank.Temp), float64(source.Temp))),
	}
	ionic := quantity.MolPerLitre(mix(float64(tank.Ionic), float64(source.Ionic)))
	var err error
	if out.PH, err = PHForCO2(co2, out.KH, Water{out.Temp, ionic}); err != nil {
		return AfterChange{}, err
	}
	if out.NH3N, err = NH3N(out.TAN, out.PH, out.Temp); err != nil {
		return AfterChange{}, err
	}
	return out, nil
}

// ChangeForNH3N returns the largest share of the water that can be changed at
// once with NH3-N staying at or below limit, 0 where even a small change passes
// it, and 1 where any change is safe. See NH3NAfterChange; a limit of 0.02 mg/L
// is the usual long-term guide (EIFAC 1970).
func ChangeForNH3N(tank, source Batch, limit quantity.MgNPerLitre, co2 quantity.MgPerLitre) (quantity.Share, error) {
	if err := num.Positive("The limit of free ammonia", float64(limit), "mg N/L"); err != nil {
		return 0, err
	}
	// NH3-N need not be monotone in the share (less TAN, more KH), so the first
	// share that passes the limit is looked for in steps of 1 %.
	last := quantity.Share(0)
	for i := 1; i <= 100; i++ {
		w := quantity.Share(float64(i) / 100)
		a, err := NH3NAfterChange(tank, source, w, co2)
		if err != nil {
			return 0, err
		}
		if a.NH3N > limit {
			return last, nil
		}
		last = w
	}
	return last, nil
}
