package chem

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Drop is a pair of pH readings of the same water: in the tank, and of a sample
// aerated until its pH no longer moved, both at the tank's temperature.
type Drop struct {
	Degassed, Tank quantity.PH
	KH             quantity.Opt[quantity.DegreeKH] // refines the result by 1 to 9 % where known
	Water          Water
	Air            Air // that the sample was aerated with
}

// CO2FromDrop returns the CO2 of the tank by the pH-drop method.
//
//	CO2 = CO2(air) · 10^(pH degassed - pH tank) · f
//
// f is the share of bicarbonate in the tank over that in the sample, 1 where
// KH is not known. KH drops out otherwise, and non-carbonate buffers nearly so:
// that is the method's merit. A sample that was not fully degassed, or a room
// with more CO2 than stated, makes it read too low.
//
// The readings must lie at pH 4.3 to 10, the sample's not below the tank's by
// more than 0.3 (a meter's disagreement with itself).
//
// Source: mass action at constant alkalinity; see CO2 and CO2WithAir.
func CO2FromDrop(d Drop) (quantity.MgPerLitre, error) {
	for _, p := range [...]quantity.PH{d.Degassed, d.Tank} {
		if err := num.Within("pH", float64(p), minPH, maxPH, ""); err != nil {
			return 0, err
		}
	}
	if err := num.Within("The drop of pH from the aerated sample to the tank", float64(d.Degassed-d.Tank), -0.3, 5, ""); err != nil {
		return 0, err
	}
	eq, err := CO2WithAir(d.Water.Temp, d.Air.CO2, d.Air.Altitude)
	if err != nil {
		return 0, err
	}
	f := 1.0
	if d.KH.OK {
		if err := num.Within("KH", float64(d.KH.V), 0.01, maxKH, "°d"); err != nil {
			return 0, err
		}
		c, err := d.Water.carbonate()
		if err != nil {
			return 0, err
		}
		alk := float64(d.KH.V) * MeqPerDegree / 1000
		tank := c.bicarbonate(num.Exp10(-float64(d.Tank)), alk)
		sample := c.bicarbonate(num.Exp10(-float64(d.Degassed)), alk)
		// At very low KH the water's own acidity decides, and f means nothing.
		if sample > 0 && tank > 0 {
			f = clamp(tank/sample, 0.5, 2)
		}
	}
	return quantity.MgPerLitre(float64(eq) * num.Exp10(float64(d.Degassed-d.Tank)) * f), nil
}

// CO2DropInterval returns CO2 by the pH-drop method from readings that mean
// intervals; ppm is what the room's air may hold. The estimate is built as in
// CO2Interval; Trusted is false where the drop is below 0.2, within what the
// readings themselves may be off.
func CO2DropInterval(degassed, tank, ppm quantity.Interval, d Drop) (CO2Estimate, error) {
	at := func(g, t, x float64) (float64, error) {
		e := d
		e.Degassed, e.Tank, e.Air.CO2 = quantity.PH(g), quantity.PH(t), quantity.PartPerMillion(x)
		v, err := CO2FromDrop(e)
		return float64(v), err
	}
	g, t, x := middle(degassed), middle(tank), middle(ppm)
	value, err := at(g, t, x)
	if err != nil {
		return CO2Estimate{}, err
	}
	out := CO2Estimate{Value: quantity.MgPerLitre(value), Hi: quantity.MgPerLitre(math.Inf(1)), Trusted: g-t >= 0.2}
	if finite(degassed.Lo, tank.Hi, ppm.Lo) {
		lo, err := at(max(degassed.Lo, tank.Hi-0.3), tank.Hi, ppm.Lo)
		if err != nil {
			return CO2Estimate{}, err
		}
		out.Lo = quantity.MgPerLitre(lo)
	}
	if finite(degassed.Hi, tank.Lo, ppm.Hi) {
		hi, err := at(degassed.Hi, tank.Lo, ppm.Hi)
		if err != nil {
			return CO2Estimate{}, err
		}
		out.Hi = quantity.MgPerLitre(hi)
	}
	a, b, c := math.Ln10*half(degassed), math.Ln10*half(tank), half(ppm)/x
	out.SigmaLn = sqrt((float64(a*a) + float64(b*b) + float64(c*c)) / 3)
	out.Lo90, out.Hi90 = out.Lo, out.Hi
	if finite(out.SigmaLn) {
		spread := quantity.MgPerLitre(num.Exp(1.645 * out.SigmaLn))
		out.Lo90, out.Hi90 = max(out.Lo, out.Value/spread), min(out.Hi, out.Value*spread)
	}
	return out, nil
}

// DropForCO2 returns the drop of pH from a sample aerated in this air to a tank
// with the wanted CO2, without the refinement by KH.
func DropForCO2(co2 quantity.MgPerLitre, t quantity.Celsius, a Air) (quantity.PH, error) {
	if err := num.Within("CO2", float64(co2), 1e-3, 2000, "mg/L"); err != nil {
		return 0, err
	}
	if err := num.Within("CO2 in the air", float64(a.CO2), 1, 100000, "ppm"); err != nil {
		return 0, err
	}
	eq, err := CO2WithAir(t, a.CO2, a.Altitude)
	if err != nil {
		return 0, err
	}
	return quantity.PH(num.Log10(float64(co2 / eq))), nil
}
