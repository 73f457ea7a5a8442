// Package gear is the equipment under and around a tank: heater, CO2 cylinder,
// the room it may empty into, evaporation, and the floor that bears it all.
package gear

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// The critical and triple points of carbon dioxide.
const (
	criticalKelvin  = 304.1282 // K
	criticalBar     = 73.773   // bar
	criticalDensity = 467.6    // kg/m³
	tripleCelsius   = -56.558  // °C
	criticalCelsius = criticalKelvin - 273.15
)

// reduced returns 1 - T/Tc for temperatures at which liquid and vapour stand
// side by side.
func reduced(t quantity.Celsius) (float64, error) {
	if err := num.Within("The cylinder's temperature", float64(t), tripleCelsius, criticalCelsius, "°C (above 30.98 °C there is no liquid CO2)"); err != nil {
		return 0, err
	}
	return max(0, 1-float64(t.ToKelvin())/criticalKelvin), nil
}

// SaturationPressure returns the absolute pressure of CO2 over its liquid, -56 to
// 30.98 °C. A gauge shows it, less the air's, and so the room's temperature and
// not the content, until the last liquid is gone.
//
//	ln(p/pc) = (Tc/T)(-7.0602087 x + 1.9391218 x^1.5 - 1.6463597 x² - 3.2995634 x⁴), x = 1 - T/Tc
//
// Source: R. Span and W. Wagner (1996), J. Phys. Chem. Ref. Data 25, 1509-1596,
// equation 3.13.
func SaturationPressure(t quantity.Celsius) (quantity.Bar, error) {
	x, err := reduced(t)
	if err != nil {
		return 0, err
	}
	s := float64(-7.0602087*x) + float64(1.9391218*num.Pow(x, 1.5)) - float64(1.6463597*x*x) - float64(3.2995634*x*x*x*x)
	return quantity.Bar(criticalBar * num.Exp(s/(1-x))), nil
}

// VapourDensity returns the density of CO2 vapour over its liquid in kg/m³.
//
//	ln(ρ/ρc) = -1.7074879 x^0.34 - 0.8227467 x^½ - 4.6008549 x - 10.111178 x^(7/3) - 29.742252 x^(14/3)
//
// Source: as SaturationPressure, equation 3.15.
func VapourDensity(t quantity.Celsius) (float64, error) {
	x, err := reduced(t)
	if err != nil {
		return 0, err
	}
	s := float64(-1.7074879*num.Pow(x, 0.340)) - float64(0.82274670*num.Pow(x, 0.5)) - float64(4.6008549*x) -
		float64(10.111178*num.Pow(x, 7.0/3)) - float64(29.742252*num.Pow(x, 14.0/3))
	return criticalDensity * num.Exp(s), nil
}

// LiquidDensity returns the density of the liquid in kg/m³.
//
//	ln(ρ/ρc) = 1.9245108 x^0.34 - 0.62385555 x^½ - 0.32731127 x^(10/6) + 0.39245142 x^(11/6)
//
// Source: as SaturationPressure, equation 3.14.
func LiquidDensity(t quantity.Celsius) (float64, error) {
	x, err := reduced(t)
	if err != nil {
		return 0, err
	}
	s := float64(1.9245108*num.Pow(x, 0.340)) - float64(0.62385555*num.Pow(x, 0.5)) - float64(0.32731127*num.Pow(x, 10.0/6)) +
		float64(0.39245142*num.Pow(x, 11.0/6))
	return criticalDensity * num.Exp(s), nil
}

// UsualFill is how full a cylinder is filled, kg of CO2 per litre of cylinder.
const UsualFill = 0.75

// LeftWhenLiquidGone returns the share of the charge that is still in the
// cylinder when its last liquid has gone and the gauge begins to fall, for a fill
// of 0.2 to 0.9 kg/L.
//
// Source: mass balance: the vapour's density over the fill.
func LeftWhenLiquidGone(t quantity.Celsius, fill float64) (quantity.Share, error) {
	if err := num.Within("The cylinder's fill", fill, 0.2, 0.9, "kg/L"); err != nil {
		return 0, err
	}
	rho, err := VapourDensity(t)
	if err != nil {
		return 0, err
	}
	return quantity.Share(min(1, rho/1000/fill)), nil
}
