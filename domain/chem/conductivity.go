package chem

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Conductivity returns what an analysis should conduct at 25 °C, in µS/cm.
//
//	EC = Σ λ·|z|·c · f
//
// with f from 0.9 to 1 for what the ions hinder each other; its middle is the
// value, its ends the interval.
//
// Source: F. Kohlrausch's law of independent migration; conductivities at
// infinite dilution from the CRC Handbook.
func Conductivity(w Ions) (quantity.Interval, error) {
	if err := w.check(); err != nil {
		return quantity.Interval{}, err
	}
	sum := 0.0
	for i, c := range w {
		d := &ionData[i]
		z := d.charge
		if z < 0 {
			z = -z
		}
		// meq/L times S cm²/eq is µS/cm.
		sum += float64(d.lambda * float64(z) * float64(c) / d.mass)
	}
	return quantity.Interval{Value: 0.95 * sum, Lo: 0.9 * sum, Hi: sum}, nil
}

// Balance is the charge balance of an analysis.
type Balance struct {
	Cations, Anions quantity.MeqPerLitre
	// Error is (cations - anions)/(cations + anions), 0 for no ions at all.
	Error quantity.Share
	// Sound is set within ±10 %: beyond, an ion is missing or a reading is wrong.
	Sound bool
}

// IonBalance adds up the charges of an analysis. Alkalinity goes in as HCO3.
//
// Source: Standard Methods for the Examination of Water and Wastewater, 1030 E;
// its ±2 to 10 % for laboratories is widened to what kits can show.
func IonBalance(w Ions) (Balance, error) {
	if err := w.check(); err != nil {
		return Balance{}, err
	}
	var b Balance
	for i, c := range w {
		d := &ionData[i]
		eq := quantity.MeqPerLitre(float64(c) / d.mass)
		if d.charge > 0 {
			b.Cations += eq * quantity.MeqPerLitre(d.charge)
		} else {
			b.Anions -= eq * quantity.MeqPerLitre(d.charge)
		}
	}
	if sum := b.Cations + b.Anions; sum > 0 {
		b.Error = quantity.Share((b.Cations - b.Anions) / sum)
	}
	b.Sound = b.Error >= -0.1 && b.Error <= 0.1
	return b, nil
}

// Verdict is what conductivity says about a set of readings.
type Verdict string

// Verdicts.
const (
	Agrees  Verdict = "agrees"
	TooMuch Verdict = "readings_too_high" // the readings would conduct more than was measured
	Unknown Verdict = "something_else"    // far more conducts than was measured: an ion is not known
)

// LieDetector compares a measured conductivity (µS/cm at 25 °C) with what the
// readings should conduct at the least. Readings cannot conduct more than the
// meter shows: then one of them, or the meter, is wrong. That more conducts than
// was measured is usual, since sodium, chloride and sulfate are rarely tested, so
// it is only said where it is more than half of the whole.
//
// meter is the meter's relative error, such as 0.05.
func LieDetector(measured quantity.MicroSPerCm, w Ions, meter float64) (Verdict, error) {
	if err := num.Within("Conductivity", float64(measured), 0, 20000, "µS/cm"); err != nil {
		return "", err
	}
	if err := num.Within("The meter's error", meter, 0, 0.5, ""); err != nil {
		return "", err
	}
	want, err := Conductivity(w)
	if err != nil {
		return "", err
	}
	switch {
	case want.Lo > float64(measured)*(1+meter)+5:
		return TooMuch, nil
	case want.Hi < 0.5*float64(measured)*(1-meter)-5:
		return Unknown, nil
	}
	return Agrees, nil
}

// DissolvedSolids returns mg/L of a conductivity by a meter's factor (0.5 to 0.75;
// 0.64 is customary). Meters differ, so conductivity is what is kept.
func DissolvedSolids(ec quantity.MicroSPerCm, factor float64) (quantity.MgPerLitre, error) {
	if err := num.Within("Conductivity", float64(ec), 0, 20000, "µS/cm"); err != nil {
		return 0, err
	}
	if err := num.Within("The factor", factor, 0.45, 0.8, ""); err != nil {
		return 0, err
	}
	return quantity.MgPerLitre(float64(ec) * factor), nil
}

// ConductivityStep is by how much two conductivities (0 to 80 000 µS/cm at 25 °C)
// differ, whichever is the larger.
func ConductivityStep(before, now quantity.MicroSPerCm) (quantity.MicroSPerCm, error) {
	for _, c := range [...]quantity.MicroSPerCm{before, now} {
		if err := num.Within("Conductivity", float64(c), 0, 80000, "µS/cm"); err != nil {
			return 0, err
		}
	}
	return max(now-before, before-now), nil
}
