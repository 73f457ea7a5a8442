package volume

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Litres between two levels of a tank, with a correction for what stands in the
// way (hardscape and plants) as a share of the space.

// LineFor returns how far the level falls when so many litres are drained from a
// free water surface (cm², of which the share free is water). A saved line per
// tank, found by metering once, is better.
func LineFor(drained quantity.Litre, length, width quantity.Centimetre, free quantity.Share) (quantity.Centimetre, error) {
	if err := num.Within("The water drained", float64(drained), 0, largestFilling, "L"); err != nil {
		return 0, err
	}
	area, err := surface(length, width, free)
	if err != nil {
		return 0, err
	}
	return quantity.Centimetre(float64(drained) * 1000 / area), nil
}

// ToLine returns the litres that a fall of the level by drop takes out.
func ToLine(drop quantity.Centimetre, length, width quantity.Centimetre, free quantity.Share) (quantity.Litre, error) {
	if err := num.Within("The fall of the level", float64(drop), 0, largestSide, "cm"); err != nil {
		return 0, err
	}
	area, err := surface(length, width, free)
	if err != nil {
		return 0, err
	}
	return quantity.Litre(float64(drop) * area / 1000), nil
}

func surface(length, width quantity.Centimetre, free quantity.Share) (float64, error) {
	if err := num.Within("The inner length", float64(length), 1, largestSide, "cm"); err != nil {
		return 0, err
	}
	if err := num.Within("The inner width", float64(width), 1, largestSide, "cm"); err != nil {
		return 0, err
	}
	if err := num.Within("The free share", float64(free), 0.05, 1, ""); err != nil {
		return 0, err
	}
	return float64(length) * float64(width) * float64(free), nil
}

// Gravity is the standard acceleration of free fall, m/s².
const Gravity = 9.80665

// DrainTime returns how long a siphon takes from a level h1 above the hose's
// outlet down to h2.
//
//	t = 2A/(Cd·a·√(2g))·(√h1 - √h2)
//
// The discharge coefficient is about 0.6 for a sharp edge and 0.35 to 0.55 for a
// long hose: time one bucket and calibrate. Valid for areas of 0.001 to 100 m²,
// levels of 0 to 20 m, bores of 1 to 200 mm, Cd 0.05 to 1.
//
// Source: E. Torricelli (1644), with the coefficient of hydraulics handbooks.
func DrainTime(area quantity.SquareMetre, h1, h2 quantity.Metre, bore quantity.Millimetre, cd float64) (quantity.Seconds, error) {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The tank's area", float64(area), 0.001, 100, "m²"},
		{"The upper level", float64(h1), 0, 20, "m"},
		{"The lower level", float64(h2), 0, 20, "m"},
		{"The hose's bore", float64(bore), 1, 200, "mm"},
		{"The discharge coefficient", cd, 0.05, 1, ""},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return 0, err
		}
	}
	if h2 > h1 {
		return 0, fault.New(fault.Invalid, "The lower level (%.3g m) is above the upper one (%.3g m).", float64(h2), float64(h1))
	}
	r := float64(bore) / 2000
	hose := math.Pi * r * r
	return quantity.Seconds(2 * float64(area) / (cd * hose * math.Sqrt(2*Gravity)) * (math.Sqrt(float64(h1)) - math.Sqrt(float64(h2)))), nil
}

// FillTime returns how long a steady inflow needs for so many litres.
func FillTime(v quantity.Litre, inflow quantity.LitrePerHour) (quantity.Seconds, error) {
	if err := num.Within("The water to fill in", float64(v), 0, largestFilling, "L"); err != nil {
		return 0, err
	}
	if err := num.Within("The inflow", float64(inflow), 0.1, 1e6, "L/h"); err != nil {
		return 0, err
	}
	return quantity.Seconds(float64(v) / float64(inflow) * 3600), nil
}
