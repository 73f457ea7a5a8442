package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// UsualIonic is the ionic strength assumed where neither conductivity nor an
// analysis is known: the middle of planted tanks, about 310 µS/cm. Over the whole
// range of tanks (100 to 800 µS/cm) the CO2 it leads to is off by at most 6 %.
const UsualIonic quantity.MolPerLitre = 0.005

// IonicFromEC estimates the ionic strength from conductivity at 25 °C, 0 to
// 20000 µS/cm.
//
//	I = 1.6e-5 · EC25
//
// Source: L. L. Russell (1976), PhD thesis, University of California, Berkeley,
// as given in Snoeyink and Jenkins, Water Chemistry (1980).
func IonicFromEC(ec quantity.MicroSPerCm) (quantity.MolPerLitre, error) {
	if err := num.Within("Conductivity", float64(ec), 0, 20000, "µS/cm"); err != nil {
		return 0, err
	}
	return quantity.MolPerLitre(1.6e-5 * float64(ec)), nil
}

// IonicFromIons returns ½ Σ c z² of an analysis.
//
// Source: G. N. Lewis and M. Randall (1921), J. Am. Chem. Soc. 43, 1112.
func IonicFromIons(w Ions) (quantity.MolPerLitre, error) {
	if err := w.check(); err != nil {
		return 0, err
	}
	sum := 0.0
	for i, c := range w {
		z := float64(ionData[i].charge)
		sum += float64(float64(c) / ionData[i].mass * z * z)
	}
	return quantity.MolPerLitre(sum / 2000), nil
}

// EC25 refers a conductivity measured at t to 25 °C, 0 to 45 °C.
//
//	EC25 = EC/(1 + 0.019 (t-25))
//
// Source: ISO 7888 (1985) permits a linear compensation; 1.9 % per K is usual
// for natural fresh water.
func EC25(measured quantity.MicroSPerCm, t quantity.Celsius) (quantity.MicroSPerCm, error) {
	if err := num.NotNegative("Conductivity", float64(measured), "µS/cm"); err != nil {
		return 0, err
	}
	if err := num.Within("Temperature", float64(t), 0, 45, "°C"); err != nil {
		return 0, err
	}
	return quantity.MicroSPerCm(float64(measured) / (1 + 0.019*(float64(t)-25))), nil
}
