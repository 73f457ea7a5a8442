package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// AmmoniaChronic returns the 30-day criterion for total ammonia where sensitive
// snails and mussels live, at pH 6.5 to 9 and 0 to 30 °C.
//
//	CCC = 0.8876 (0.0278/(1+10^(7.688-pH)) + 1.1994/(1+10^(pH-7.688))) 2.126·10^(0.028(20-max(t,7)))
//
// A 4-day mean may reach 2.5 times as much. Source: US EPA (2013), Aquatic Life
// Ambient Water Quality Criteria for Ammonia - Freshwater, EPA-822-R-13-001.
func AmmoniaChronic(ph quantity.PH, t quantity.Celsius) (quantity.MgNPerLitre, error) {
	if err := checkCriteria(ph, t); err != nil {
		return 0, err
	}
	p := float64(ph)
	acid := 0.0278 / (1 + num.Exp10(7.688-p))
	basic := 1.1994 / (1 + num.Exp10(p-7.688))
	return quantity.MgNPerLitre(0.8876 * (acid + basic) * 2.126 * num.Exp10(0.028*(20-max(float64(t), 7)))), nil
}

// AmmoniaAcute returns the 1-hour criterion for total ammonia without salmonids,
// at pH 6.5 to 9 and 0 to 30 °C.
//
//	CMC = 0.7249 (0.0114/(1+10^(7.204-pH)) + 1.6181/(1+10^(pH-7.204))) min(51.93, 23.12·10^(0.036(20-t)))
//
// Source: as AmmoniaChronic.
func AmmoniaAcute(ph quantity.PH, t quantity.Celsius) (quantity.MgNPerLitre, error) {
	if err := checkCriteria(ph, t); err != nil {
		return 0, err
	}
	p := float64(ph)
	acid := 0.0114 / (1 + num.Exp10(7.204-p))
	basic := 1.6181 / (1 + num.Exp10(p-7.204))
	return quantity.MgNPerLitre(0.7249 * (acid + basic) * min(51.93, 23.12*num.Exp10(0.036*(20-float64(t))))), nil
}

// The published tables stop at pH 6.5 and 9; from 5 to 6.5 the curves are nearly
// flat and are used as they are.
func checkCriteria(ph quantity.PH, t quantity.Celsius) error {
	if err := num.Within("pH", float64(ph), 5, 9, ""); err != nil {
		return err
	}
	return num.Within("Temperature", float64(t), 0, 30, "°C")
}
