package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// PhosphatePK2 is -log K of H2PO4- = H+ + HPO4-- at 25 °C.
//
// Source: R. G. Bates and S. F. Acree (1943), J. Res. Nat. Bur. Standards 30, 129.
const PhosphatePK2 = 7.20

// KHFromPhosphate returns the part of a titrated KH that is phosphate and not
// carbonate.
//
//	alkalinity = c(PO4)/(1 + 10^(7.20-pH))
//
// It takes 0 to 500 mg/L PO4 and pH 4.3 to 10.
func KHFromPhosphate(po4 quantity.MgPerLitre, ph quantity.PH) (quantity.DegreeKH, error) {
	if err := num.Within("Phosphate", float64(po4), 0, 500, "mg/L"); err != nil {
		return 0, err
	}
	if err := num.Within("pH", float64(ph), minPH, maxPH, ""); err != nil {
		return 0, err
	}
	meq := float64(po4) / MassPO4 / (1 + num.Exp10(PhosphatePK2-float64(ph)))
	return quantity.DegreeKH(meq / MeqPerDegree), nil
}

// KHFromEndpoint returns what a titration to a fixed end point (pH 3.5 to 5.5)
// reads too much: the free acid that the end point itself needs.
func KHFromEndpoint(end quantity.PH) (quantity.DegreeKH, error) {
	if err := num.Within("The end point's pH", float64(end), 3.5, 5.5, ""); err != nil {
		return 0, err
	}
	return quantity.DegreeKH(num.Exp10(3-float64(end)) / MeqPerDegree), nil
}

// CarbonateGap is how a degassed sample's pH compares with its KH.
type CarbonateGap struct {
	Expected quantity.PH // pH of that KH in equilibrium with the air
	Gap      quantity.PH // measured less expected
	Doubt    bool        // more than 0.3 apart: KH is not all carbonate, or a reading is wrong
}

// CarbonateDoubt compares the pH of an aerated sample with the pH that its KH
// should give. A gap below -0.3 is what humic acids, phosphate or an acid buffer
// leave behind, or a sample that was not degassed; the CO2 from pH and KH is
// then an upper bound.
//
// Source: the direction of the error in natural waters: G. Abril et al. (2015),
// Biogeosciences 12, 67-78. The limit of 0.3 is a judgement: twice what a
// careful reading of both may be off.
func CarbonateDoubt(degassed quantity.PH, kh quantity.DegreeKH, w Water, a Air) (CarbonateGap, error) {
	if err := num.Within("pH", float64(degassed), minPH, maxPH, ""); err != nil {
		return CarbonateGap{}, err
	}
	want, err := PHInAir(kh, w, a)
	if err != nil {
		return CarbonateGap{}, err
	}
	gap := degassed - want
	return CarbonateGap{Expected: want, Gap: gap, Doubt: gap > 0.3 || gap < -0.3}, nil
}
