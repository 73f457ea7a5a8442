package chem

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// MaxIonic is the ionic strength up to which Davies' equation is used, mol/L:
// far above any planted tank (0.001 to 0.02).
const MaxIonic = 0.5

// DebyeHuckelA returns the constant A of the Debye-Hückel family, in
// (L/mol)^½: 0.5116 at 25 °C.
//
//	A = 1.82483e6 (εT)^-1.5,  ε = 87.740 - 0.40008 t + 9.398e-4 t² - 1.410e-6 t³
//
// Source of the permittivity: C. G. Malmberg and A. A. Maryott (1956), J. Res.
// Nat. Bur. Standards 56, 1-8; 0 to 100 °C.
func DebyeHuckelA(t quantity.Celsius) (float64, error) {
	if err := num.Within("Temperature", float64(t), 0, 100, "°C"); err != nil {
		return 0, err
	}
	return debyeHuckelA(t), nil
}

func debyeHuckelA(t quantity.Celsius) float64 {
	c := float64(t)
	eps := 87.740 + float64(c*(-0.40008+float64(c*(9.398e-4+float64(c*-1.410e-6)))))
	x := float64(eps * float64(t.ToKelvin()))
	return 1.82483e6 / float64(x*math.Sqrt(x))
}

// GammaDavies returns the activity coefficient of an ion of charge z (1, 2 or 3)
// at ionic strength i (mol/L, 0 to 0.5; good to about 0.1).
//
//	log γ = -A z² (√I/(1+√I) - 0.3 I)
//
// Source: C. W. Davies (1962), Ion Association, Butterworths.
func GammaDavies(t quantity.Celsius, i quantity.MolPerLitre, z int) (float64, error) {
	if err := num.Within("Temperature", float64(t), 0, 100, "°C"); err != nil {
		return 0, err
	}
	if err := num.Within("Ionic strength", float64(i), 0, MaxIonic, "mol/L"); err != nil {
		return 0, err
	}
	if err := num.Within("The charge of an ion", math.Abs(float64(z)), 0, 3, ""); err != nil {
		return 0, err
	}
	return num.Exp10(logGamma(debyeHuckelA(t), i, z)), nil
}

func logGamma(a float64, i quantity.MolPerLitre, z int) float64 {
	root := math.Sqrt(float64(i))
	return -a * float64(z*z) * (root/(1+root) - float64(0.3*float64(i)))
}
