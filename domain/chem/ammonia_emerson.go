package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// PKaAmmonium returns -log Ka of NH4+ = NH3 + H+ at 0 to 50 °C.
//
//	pKa = 0.09018 + 2729.92/T
//
// Source: K. Emerson, R. C. Russo, R. E. Lund and R. V. Thurston (1975), J. Fish.
// Res. Board Can. 32, 2379-2383. A widely copied printing has 2727.92.
func PKaAmmonium(t quantity.Celsius) (float64, error) {
	if err := num.Within("Temperature", float64(t), 0, 50, "°C"); err != nil {
		return 0, err
	}
	return 0.09018 + 2729.92/float64(t.ToKelvin()), nil
}

// FractionNH3 returns the toxic share of the total ammonia, at pH 0 to 14 and 0
// to 50 °C in fresh water. Salts up to 0.02 mol/L lower it by at most 10 %,
// which is left out: the error is on the safe side.
//
// Source: see PKaAmmonium.
func FractionNH3(ph quantity.PH, t quantity.Celsius) (quantity.Share, error) {
	if err := num.Within("pH", float64(ph), 0, 14, ""); err != nil {
		return 0, err
	}
	pka, err := PKaAmmonium(t)
	if err != nil {
		return 0, err
	}
	return quantity.Share(1 / (1 + num.Exp10(pka-float64(ph)))), nil
}

// NH3N returns the free ammonia nitrogen of a total ammonia nitrogen of 0 to
// 1000 mg/L. Judge it at the day's highest pH.
func NH3N(tan quantity.MgNPerLitre, ph quantity.PH, t quantity.Celsius) (quantity.MgNPerLitre, error) {
	if err := num.Within("Total ammonia", float64(tan), 0, 1000, "mg N/L"); err != nil {
		return 0, err
	}
	f, err := FractionNH3(ph, t)
	if err != nil {
		return 0, err
	}
	return quantity.MgNPerLitre(float64(tan) * float64(f)), nil
}

// NH3NInterval returns the free ammonia nitrogen of readings that mean
// intervals: TAN in mg N/L, pH, temperature in °C. It rises with all three, so
// its bounds are at the corners; an open pH is cut at 0 and 14, an open TAN gives
// +Inf.
func NH3NInterval(tan, ph, temp quantity.Interval) (quantity.Interval, error) {
	v, err := NH3N(quantity.MgNPerLitre(tan.Value), quantity.PH(ph.Value), quantity.Celsius(temp.Value))
	if err != nil {
		return quantity.Interval{}, err
	}
	lo, err := FractionNH3(quantity.PH(clamp(ph.Lo, 0, 14)), quantity.Celsius(clamp(temp.Lo, 0, 50)))
	if err != nil {
		return quantity.Interval{}, err
	}
	hi, err := FractionNH3(quantity.PH(clamp(ph.Hi, 0, 14)), quantity.Celsius(clamp(temp.Hi, 0, 50)))
	if err != nil {
		return quantity.Interval{}, err
	}
	return quantity.Interval{Value: float64(v), Lo: max(0, tan.Lo) * float64(lo), Hi: tan.Hi * float64(hi)}, nil
}
