package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// CalciteIndex returns the saturation index of calcite: below 0 water dissolves
// it, and with it the shells of snails; above 0 it may form.
//
//	SI = log(γ2² [Ca][CO3]) - log Kc
//
// Calcium must be above 0 and at most 2000 mg/L. Source: Plummer and Busenberg
// (1982) for the constants; see CO2 for the carbonate.
func CalciteIndex(ca quantity.MgPerLitre, ph quantity.PH, kh quantity.DegreeKH, w Water) (float64, error) {
	if err := num.Within("Calcium", float64(ca), 0.01, 2000, "mg/L"); err != nil {
		return 0, err
	}
	if err := checkPHKH(ph, kh); err != nil {
		return 0, err
	}
	c, err := w.carbonate()
	if err != nil {
		return 0, err
	}
	logK, err := LogCalcite(w.Temp)
	if err != nil {
		return 0, err
	}
	ah := num.Exp10(-float64(ph))
	hco3 := c.bicarbonate(ah, float64(kh)*MeqPerDegree/1000)
	if err := num.Positive("The bicarbonate", hco3, "mol/L"); err != nil {
		return 0, err
	}
	co3 := c.k2 * c.g1 * hco3 / (ah * c.g2)
	return num.Log10(c.g2*c.g2*float64(ca)/MassCa/1000*co3) - logK, nil
}
