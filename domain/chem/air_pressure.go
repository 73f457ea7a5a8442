package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// MaxAltitude is the height up to which the standard atmosphere is used here.
const MaxAltitude quantity.Metre = 5000

// AirPressure returns the pressure of the standard atmosphere at a height of
// -430 to 5000 m above the sea.
//
//	P = (1 - 2.25577e-5 h)^5.25588 atm
//
// Source: ISO 2533 (1975), Standard Atmosphere. Weather moves it by ±3 %.
func AirPressure(h quantity.Metre) (quantity.Atmosphere, error) {
	if err := num.Within("Altitude", float64(h), -430, float64(MaxAltitude), "m"); err != nil {
		return 0, err
	}
	if h == 0 {
		return 1, nil
	}
	return quantity.Atmosphere(num.Pow(1-2.25577e-5*float64(h), 5.25588)), nil
}
