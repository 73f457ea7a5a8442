package source

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// SodiumFromSoftener returns the sodium that an ion exchanger gives for the
// hardness it takes: two for each calcium or magnesium, 8.20 mg/L per °d. KH
// stays. Softened water is no change water: use the unsoftened tap.
//
// Source: charge balance of the exchange.
func SodiumFromSoftener(removed quantity.DegreeGH) (quantity.MgPerLitre, error) {
	if err := num.Within("The hardness removed", float64(removed), 0, 200, "°d"); err != nil {
		return 0, err
	}
	return quantity.MgPerLitre(float64(removed) * 2 * chem.MmolPerDegree * chem.MassNa), nil
}
