package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// CO2Shortcut returns what the trade's rule of thumb makes of pH and KH.
//
//	CO2 = 3 · KH · 10^(7-pH)
//
// It hides one temperature and one ionic strength. In planted tanks it reads
// mostly 5 to 20 % too low, which for animals is the wrong side; it is shown
// beside the full value and never used in its place.
//
// Source: practice of the trade, without a primary source.
func CO2Shortcut(ph quantity.PH, kh quantity.DegreeKH) (quantity.MgPerLitre, error) {
	if err := checkPHKH(ph, kh); err != nil {
		return 0, err
	}
	return quantity.MgPerLitre(3 * float64(kh) * num.Exp10(7-float64(ph))), nil
}

// ShortcutError returns (shortcut/full) - 1: below zero where the rule of thumb
// reads too low. KH must be above 0.
func ShortcutError(ph quantity.PH, kh quantity.DegreeKH, w Water) (float64, error) {
	if err := num.Within("KH", float64(kh), 0.01, maxKH, "°d"); err != nil {
		return 0, err
	}
	full, err := CO2(ph, kh, w)
	if err != nil {
		return 0, err
	}
	short, err := CO2Shortcut(ph, kh)
	if err != nil {
		return 0, err
	}
	return num.Finite("The error of the shortcut", float64(short/full)-1)
}
