package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// The German degree is 10 mg/L CaO; everything else follows from molar masses.
//
// Source: DIN 38409-6 (definition), abridged atomic weights.
const (
	MmolPerDegree  = 10 / MassCaO                   // mmol/L of Ca+Mg per °d GH
	MeqPerDegree   = 2 * MmolPerDegree              // meq/L of alkalinity per °d KH
	CaCO3PerDegree = MmolPerDegree * MassCaCO3      // mg/L as CaCO3 per °d
	HCO3PerDegree  = MeqPerDegree * MassHCO3        // mg/L HCO3- per °d KH
	CaPerDegree    = MmolPerDegree * MassCa         // mg/L Ca per °d GH, if all is Ca
	MgPerDegree    = MmolPerDegree * MassMg         // mg/L Mg per °d GH, if all is Mg
	PerFrench      = 10 / CaCO3PerDegree            // °d per French degree (10 mg/L CaCO3)
	CaCO3PerClark  = grain / imperialGallon         // mg/L CaCO3 per Clark degree
	CaCO3PerGrain  = grain / usGallon               // mg/L CaCO3 per grain per US gallon
	PerClark       = CaCO3PerClark / CaCO3PerDegree // °d per Clark degree
	PerGrain       = CaCO3PerGrain / CaCO3PerDegree // °d per grain per US gallon
)

const (
	grain          = 64.79891    // mg
	imperialGallon = 4.54609     // L
	usGallon       = 3.785411784 // L
)

// Alkalinity returns the alkalinity of a carbonate hardness in meq/L.
func Alkalinity(kh quantity.DegreeKH) quantity.MeqPerLitre {
	return quantity.MeqPerLitre(float64(kh) * MeqPerDegree)
}

// KHOfAlkalinity returns the carbonate hardness of an alkalinity.
func KHOfAlkalinity(alk quantity.MeqPerLitre) quantity.DegreeKH {
	return quantity.DegreeKH(float64(alk) / MeqPerDegree)
}

// GHFromCaMg returns the general hardness of calcium and magnesium.
//
// It needs concentrations of zero or more and returns an Invalid fault
// otherwise. KH cannot be had from it: soft sodium bicarbonate water and
// softened water have a KH above their GH.
func GHFromCaMg(ca, mg quantity.MgPerLitre) (quantity.DegreeGH, error) {
	if err := num.NotNegative("Calcium", float64(ca), "mg/L"); err != nil {
		return 0, err
	}
	if err := num.NotNegative("Magnesium", float64(mg), "mg/L"); err != nil {
		return 0, err
	}
	return quantity.DegreeGH((float64(ca)/MassCa + float64(mg)/MassMg) / MmolPerDegree), nil
}

// CaMgFromGH splits a general hardness by a mass ratio of calcium to magnesium,
// which must be zero or more. It is the inverse of GHFromCaMg along that ratio.
func CaMgFromGH(gh quantity.DegreeGH, caToMg float64) (ca, mg quantity.MgPerLitre, err error) {
	if err = num.NotNegative("GH", float64(gh), "°d"); err != nil {
		return 0, 0, err
	}
	if err = num.Within("The ratio of calcium to magnesium", caToMg, 0, 1e6, ""); err != nil {
		return 0, 0, err
	}
	m := float64(gh) * MmolPerDegree / (caToMg/MassCa + 1/MassMg)
	return quantity.MgPerLitre(caToMg * m), quantity.MgPerLitre(m), nil
}
