package gear

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// FromLevel returns the water that a fall of the level stands for: millimetres
// times square metres are litres.
func FromLevel(drop quantity.Millimetre, area quantity.SquareMetre) (quantity.Litre, error) {
	if err := num.Within("The fall of the level", float64(drop), 0, 2000, "mm"); err != nil {
		return 0, err
	}
	if err := num.Within("The surface", float64(area), 0.001, 100, "m²"); err != nil {
		return 0, err
	}
	return quantity.Litre(float64(drop) * float64(area)), nil
}

// Concentrating returns by which factor salts rise while water evaporates and is
// not replaced.
//
//	f = V/(V - E t)
//
// Source: mass conservation. At least a tenth of the water must be left.
func Concentrating(v quantity.Litre, perDay quantity.Litre, days quantity.Days) (float64, error) {
	if err := num.Within("The volume", float64(v), 0.1, 1e6, "L"); err != nil {
		return 0, err
	}
	lost := float64(perDay) * float64(days)
	if err := num.Within("The water evaporated", lost, 0, 0.9*float64(v), "L"); err != nil {
		return 0, err
	}
	return float64(v) / (float64(v) - lost), nil
}

// HardeningByTopOff returns where a salt, a hardness or a conductivity settles
// before the change, when both the top-off and the change use the same water. Pure
// water for topping off removes the second term.
//
//	B = S (1 + E T/(w V))
//
// Source: mass balance of salts in the steady state.
func HardeningByTopOff(source float64, w quantity.Share, perDay quantity.Litre, v quantity.Litre, days quantity.Days) (float64, error) {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The source water", source, 0, 1e5, ""},
		{"The share changed", float64(w), 0.001, 1, ""},
		{"Evaporation", float64(perDay), 0, 1e4, "L a day"},
		{"The volume", float64(v), 0.1, 1e6, "L"},
		{"The days between changes", float64(days), 0.1, 400, "d"},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return 0, err
		}
	}
	return source * (1 + float64(perDay)*float64(days)/(float64(w)*float64(v))), nil
}

// VapourPressure returns the saturation pressure of water vapour in kPa, 0 to 60
// °C.
//
//	e = 0.6112 exp(17.62 t/(243.12 + t))
//
// Source: WMO Guide to Instruments and Methods of Observation, annex 4.B.
func VapourPressure(t quantity.Celsius) (float64, error) {
	if err := num.Within("Temperature", float64(t), 0, 60, "°C"); err != nil {
		return 0, err
	}
	return 0.6112 * num.Exp(17.62*float64(t)/(243.12+float64(t))), nil
}

// OpenEvaporation estimates what a quiet open surface loses in litres a day, for
// water and air temperatures of 0 to 60 °C, a relative humidity of 0 to 1 and air
// moving at 0 to 1 m/s. With a lid it is a tenth to a third of that. The level on
// the glass is the better measure.
//
//	E = A (pw - pa)(0.089 + 0.0782 v)/Y · 0.5 kg/s, Y = 2400 kJ/kg
//
// Source: ASHRAE Handbook, HVAC Applications, natatoriums, activity factor 0.5.
func OpenEvaporation(area quantity.SquareMetre, water, air quantity.Celsius, humidity quantity.Share, wind float64) (quantity.Litre, error) {
	if err := num.Within("The surface", float64(area), 0, 100, "m²"); err != nil {
		return 0, err
	}
	if err := num.Within("The air's humidity", float64(humidity), 0, 1, ""); err != nil {
		return 0, err
	}
	if err := num.Within("The air's speed", wind, 0, 1, "m/s"); err != nil {
		return 0, err
	}
	pw, err := VapourPressure(water)
	if err != nil {
		return 0, err
	}
	pa, err := VapourPressure(air)
	if err != nil {
		return 0, err
	}
	d := max(0, pw-float64(pa*float64(humidity)))
	return quantity.Litre(float64(area) * d * (0.089 + float64(0.0782*wind)) / 2400 * 0.5 * secondsPerDay), nil
}
