package feed

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// KHLostByNitrification returns the fall of KH while so much nitrate (0 to 1000
// mg/L) is formed from ammonia: two equivalents of acid per nitrogen, 0.90 °d for
// 10 mg/L.
//
// Source: NH4+ + 2 O2 = NO3- + 2 H+ + H2O.
func KHLostByNitrification(no3 quantity.MgPerLitre) (quantity.DegreeKH, error) {
	return khOf(no3, 2)
}

// KHGainedByUptake returns the rise of KH while plants take up so much nitrate: one
// equivalent per nitrogen, 0.45 °d for 10 mg/L. Denitrification returns as much;
// uptake of ammonium costs as much.
//
// Source: P. G. Brewer and J. C. Goldman (1976), Limnology and Oceanography 21,
// 108-117.
func KHGainedByUptake(no3 quantity.MgPerLitre) (quantity.DegreeKH, error) {
	return khOf(no3, 1)
}

func khOf(no3 quantity.MgPerLitre, equivalents float64) (quantity.DegreeKH, error) {
	if err := num.Within("Nitrate", float64(no3), 0, 1000, "mg/L"); err != nil {
		return 0, err
	}
	return quantity.DegreeKH(equivalents * float64(no3) / chem.MassNO3 / chem.MeqPerDegree), nil
}
