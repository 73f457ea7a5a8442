package chem

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// CO2Estimate is CO2 with what the kits can mean by their readings.
//
// Plants are judged by the lower end, animals by the upper one.
type CO2Estimate struct {
	Value      quantity.MgPerLitre // at the middle of the readings
	Lo, Hi     quantity.MgPerLitre // hard bounds; Hi is +Inf where a reading is open
	Lo90, Hi90 quantity.MgPerLitre // 90 %, within the hard bounds
	SigmaLn    float64             // standard deviation of ln CO2; +Inf where a reading is open
	UpperOnly  bool                // KH may be zero: only Hi says something
	Trusted    bool                // the middle lies where the method holds
}

// CO2Interval returns CO2 from readings of pH, KH (°d) and temperature (°C) that
// each mean an interval. Intervals need not be symmetric (four drops mean "more
// than 3 and up to 4"); an end may be ±Inf ("above 7.6"). Where both ends are
// known the middle of the interval stands for the reading.
//
// CO2 rises with KH and falls with pH and temperature, so the hard bounds are
// its values at the corners. Within a reading's interval every value is taken
// as equally likely, which gives the 90 % interval
//
//	σ² = (ΔKH/(√3 KH))² + (ln10 ΔpH/√3)² + (0.013 Δt/√3)²,  exp(ln CO2 ± 1.645 σ)
//
// with Δ half the width, cut at the hard bounds.
//
// Source: JCGM 100:2008 (GUM), 4.3.7 and 5.1, for rectangular distributions.
func CO2Interval(ph, kh, temp quantity.Interval, ionic quantity.MolPerLitre) (CO2Estimate, error) {
	for _, v := range [...]quantity.Interval{ph, kh, temp} {
		if !(v.Lo <= v.Value && v.Value <= v.Hi) {
			return CO2Estimate{}, num.Within("A reading", v.Value, v.Lo, v.Hi, "")
		}
	}
	p, k, t := middle(ph), middle(kh), middle(temp)
	value, err := CO2(quantity.PH(p), quantity.DegreeKH(k), Water{quantity.Celsius(t), ionic})
	if err != nil {
		return CO2Estimate{}, err
	}
	e := CO2Estimate{Value: value, Trusted: Trusted(quantity.PH(p), quantity.DegreeKH(k))}

	cold, err := Water{quantity.Celsius(clamp(temp.Lo, 0, 60)), ionic}.carbonate()
	if err != nil {
		return CO2Estimate{}, err
	}
	warm, err := Water{quantity.Celsius(clamp(temp.Hi, 0, 60)), ionic}.carbonate()
	if err != nil {
		return CO2Estimate{}, err
	}
	if kh.Lo > 0 && !math.IsInf(ph.Hi, 1) {
		e.Lo = quantity.MgPerLitre(warm.co2(num.Exp10(-ph.Hi), kh.Lo*MeqPerDegree/1000))
	}
	e.Hi = quantity.MgPerLitre(math.Inf(1))
	if !math.IsInf(kh.Hi, 1) && !math.IsInf(ph.Lo, -1) {
		e.Hi = quantity.MgPerLitre(cold.co2(num.Exp10(-ph.Lo), kh.Hi*MeqPerDegree/1000))
	}
	e.UpperOnly = kh.Lo <= 0
	e.Lo90, e.Hi90 = e.Lo, e.Hi
	e.SigmaLn = SigmaLnCO2(half(kh), k, half(ph), half(temp))
	if !math.IsInf(e.SigmaLn, 1) {
		spread := num.Exp(1.645 * e.SigmaLn)
		if !e.UpperOnly {
			e.Lo90 = max(e.Lo, value/quantity.MgPerLitre(spread))
		}
		e.Hi90 = min(e.Hi, value*quantity.MgPerLitre(spread))
	}
	return e, nil
}

// SigmaLnCO2 returns the standard deviation of ln CO2 from half widths of KH,
// pH and temperature (K); see CO2Interval. KH must be above zero, else the
// result is +Inf.
func SigmaLnCO2(halfKH, kh, halfPH, halfTemp float64) float64 {
	if !(kh > 0) {
		return math.Inf(1)
	}
	a := halfKH / kh
	b := math.Ln10 * halfPH
	c := 0.013 * halfTemp
	return sqrt((float64(a*a) + float64(b*b) + float64(c*c)) / 3)
}

// middle is the middle of an interval, or the value where an end is open.
func middle(v quantity.Interval) float64 {
	if m := (v.Lo + v.Hi) / 2; finite(m) {
		return m
	}
	return v.Value
}

// half is half the width of an interval, +Inf where an end is open.
func half(v quantity.Interval) float64 { return (v.Hi - v.Lo) / 2 }

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }

func sqrt(v float64) float64 { return math.Sqrt(v) }
