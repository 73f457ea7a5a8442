package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// OxygenSaturation returns the oxygen of fresh water in equilibrium with moist
// air, at 0 to 40 °C and a height h.
//
//	ln C  = -139.34411 + 1.575701e5/T - 6.642308e7/T² + 1.243800e10/T³ - 8.621949e11/T⁴  (mg/L, 1 atm)
//	C(P)  = C·P (1 - Pw/P)(1 - θP)/((1 - Pw)(1 - θ))
//	ln Pw = 11.8571 - 3840.70/T - 216961/T²,  θ = 0.000975 - 1.426e-5 t + 6.436e-8 t²
//
// Source: B. B. Benson and D. Krause (1984), Limnology and Oceanography 29,
// 620-632, in mg/L (the form per kilogram begins with -138.74202 and must not be
// mixed up with it).
func OxygenSaturation(t quantity.Celsius, h quantity.Metre) (quantity.MgPerLitre, error) {
	if err := num.Within("Temperature", float64(t), 0, 40, "°C"); err != nil {
		return 0, err
	}
	atm, err := AirPressure(h)
	if err != nil {
		return 0, err
	}
	x := 1 / float64(t.ToKelvin())
	c := num.Exp(-139.34411 + float64(x*(1.575701e5+float64(x*(-6.642308e7+float64(x*(1.243800e10+float64(x*-8.621949e11))))))))
	p, deg := float64(atm), float64(t)
	pw := num.Exp(11.8571 - float64(3840.70*x) - float64(float64(216961*x)*x))
	theta := 0.000975 - float64(1.426e-5*deg) + float64(6.436e-8*deg*deg)
	return quantity.MgPerLitre(c * p * (1 - pw/p) * (1 - float64(theta*p)) / ((1 - pw) * (1 - theta))), nil
}

// OxygenPercent returns a reading of 0 to 60 mg/L as per cent of saturation. More
// than 100 is usual while plants are lit.
func OxygenPercent(o2 quantity.MgPerLitre, t quantity.Celsius, h quantity.Metre) (float64, error) {
	if err := num.Within("Oxygen", float64(o2), 0, 60, "mg/L"); err != nil {
		return 0, err
	}
	sat, err := OxygenSaturation(t, h)
	if err != nil {
		return 0, err
	}
	return 100 * float64(o2/sat), nil
}
