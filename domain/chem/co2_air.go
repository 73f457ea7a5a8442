package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// OutdoorCO2 is the share of CO2 in dry outdoor air of the 2020s. Rooms with
// people hold 600 to 1500 ppm.
const OutdoorCO2 quantity.PartPerMillion = 425

// CO2WithAir returns the CO2 of water in equilibrium with moist air of t (0 to
// 40 °C) whose dry part holds x of CO2 (0 to 100000 ppm), at a height h.
//
//	CO2 = x (P - pH2O) K0,  ln K0 = -58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100) mol/L/atm
//	ln pH2O = 24.4543 - 67.4509 (100/T) - 4.8489 ln(T/100) atm
//
// Source: R. F. Weiss (1974), Marine Chemistry 2, 203-215, at salinity 0; R. F.
// Weiss and B. A. Price (1980), Marine Chemistry 8, 347-359, for the vapour.
func CO2WithAir(t quantity.Celsius, x quantity.PartPerMillion, h quantity.Metre) (quantity.MgPerLitre, error) {
	if err := num.Within("Temperature", float64(t), 0, 40, "°C"); err != nil {
		return 0, err
	}
	if err := num.Within("CO2 in the air", float64(x), 0, 100000, "ppm"); err != nil {
		return 0, err
	}
	p, err := AirPressure(h)
	if err != nil {
		return 0, err
	}
	k := float64(t.ToKelvin()) / 100
	ln := num.Log(k)
	k0 := num.Exp(-58.0931 + 90.5069/k + float64(22.2940*ln))
	vapour := num.Exp(24.4543 - 67.4509/k - float64(4.8489*ln))
	return quantity.MgPerLitre(float64(x) * 1e-6 * (float64(p) - vapour) * k0 * MassCO2 * 1000), nil
}

// Air is the air that a tank or a sample stands in.
type Air struct {
	CO2      quantity.PartPerMillion // of the dry air; OutdoorCO2 where nothing is known
	Altitude quantity.Metre
}

// PHInAir returns the pH of water of this KH in equilibrium with the air.
func PHInAir(kh quantity.DegreeKH, w Water, a Air) (quantity.PH, error) {
	eq, err := CO2WithAir(w.Temp, a.CO2, a.Altitude)
	if err != nil {
		return 0, err
	}
	return PHForCO2(eq, kh, w)
}
