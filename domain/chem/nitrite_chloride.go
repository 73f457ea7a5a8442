package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// ChlorideForNitrite returns the chloride at which there are 16 chloride ions for
// each nitrite ion, which kept nitrite out of the blood of channel catfish
// altogether. It takes 0 to 500 mg/L NO2.
//
// Fish that do not concentrate nitrite gain nothing, and some plants, catfish
// and soft-water fish bear little salt: it is something to consider, never
// automatic. Source: J. R. Tomasso, B. A. Simco and K. B. Davis (1979), J. Fish.
// Res. Board Can. 36, 1141-1144.
func ChlorideForNitrite(no2 quantity.MgPerLitre) (quantity.MgPerLitre, error) {
	if err := num.Within("Nitrite", float64(no2), 0, 500, "mg/L"); err != nil {
		return 0, err
	}
	return no2 * (16 * MassCl / MassNO2), nil
}

// SaltForChloride returns the sodium chloride that brings this much chloride.
func SaltForChloride(cl quantity.MgPerLitre) (quantity.MgPerLitre, error) {
	if err := num.Within("Chloride", float64(cl), 0, 100000, "mg/L"); err != nil {
		return 0, err
	}
	return cl * (MassNaCl / MassCl), nil
}
