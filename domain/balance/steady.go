// Package balance is the saw-tooth of a nutrient between changes of water: where
// it settles, how long that takes, and what the plants took between two visits.
//
// Amounts given are in mg/L of the net volume.
package balance

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Routine is what happens in each period between two changes.
type Routine struct {
	Dose   quantity.MgPerLitre // given in the period, in all
	Uptake float64             // net, mg/L per day; below zero where the tank makes more than it takes
	Source quantity.MgPerLitre // of the change water
	Share  quantity.Share      // changed at its end
	Days   quantity.Days
}

// Steady is where a routine settles.
type Steady struct {
	Before, After quantity.MgPerLitre // the change
	RunsOut       bool                // what is given does not cover the uptake: it falls to zero
}

func (r Routine) check() error {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The dose of a period", float64(r.Dose), 0, 1e5, "mg/L"},
		{"The net uptake", r.Uptake, -1e4, 1e4, "mg/L a day"},
		{"The source water", float64(r.Source), 0, 1e5, "mg/L"},
		{"The share changed", float64(r.Share), 0.001, 1, ""},
		{"The period", float64(r.Days), 0.1, 365, "d"},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return err
		}
	}
	return nil
}

// Settle returns the concentrations before and after the change when the routine
// has settled, with a constant net uptake.
//
//	before: B = (D - uT)/w + S,  after: A = (1-w) B + w S
//
// Given at once after the change, a dose makes A + D the highest value. An uptake
// that the supply does not cover ends at zero before the change. Source: mass
// balance; for u = 0, S = 0, w = ½ it is the classical B = 2 D.
func Settle(r Routine) (Steady, error) {
	if err := r.check(); err != nil {
		return Steady{}, err
	}
	w, s := float64(r.Share), float64(r.Source)
	b := (float64(r.Dose)-float64(r.Uptake*float64(r.Days)))/w + s
	out := Steady{RunsOut: b < 0}
	b = max(0, b)
	out.Before = quantity.MgPerLitre(b)
	out.After = quantity.MgPerLitre(float64((1-w)*b) + float64(w*s))
	return out, nil
}

// DoseFor returns the dose of a period that settles at a wanted value before the
// change: the inverse of Settle. Where even no dose settles higher it is 0.
func DoseFor(before quantity.MgPerLitre, r Routine) (quantity.MgPerLitre, error) {
	r.Dose = 0
	if err := r.check(); err != nil {
		return 0, err
	}
	if err := num.Within("The wanted value", float64(before), 0, 1e5, "mg/L"); err != nil {
		return 0, err
	}
	d := float64(float64(before-r.Source)*float64(r.Share)) + float64(r.Uptake*float64(r.Days))
	return quantity.MgPerLitre(max(0, d)), nil
}

// AfterPeriods returns the value before the n-th change to come, from one before
// a change now.
//
//	B(n) = B + (B0 - B)(1-w)^n
func AfterPeriods(now quantity.MgPerLitre, n int, r Routine) (quantity.MgPerLitre, error) {
	s, err := Settle(r)
	if err != nil {
		return 0, err
	}
	if err := num.Within("The value now", float64(now), 0, 1e5, "mg/L"); err != nil {
		return 0, err
	}
	if err := num.Within("The number of periods", float64(n), 0, 10000, ""); err != nil {
		return 0, err
	}
	if !s.RunsOut {
		left := num.Pow(1-float64(r.Share), float64(n))
		return quantity.MgPerLitre(max(0, float64(s.Before)+float64(float64(now-s.Before)*left))), nil
	}
	// An uptake that is cut at zero has no closed form.
	w, v := float64(r.Share), float64(now)
	for range n {
		v = float64((1-w)*v) + float64(w*float64(r.Source)) + float64(r.Dose) - float64(r.Uptake*float64(r.Days))
		v = max(0, v)
	}
	return quantity.MgPerLitre(v), nil
}

// PeriodsToWithin returns how many changes of the share w (above 0, below 1)
// bring a saw-tooth to within a part (above 0, below 1) of its steady state: 5 at
// 50 % and 9 at 30 %, for a part of 0.05.
//
//	n = ⌈ln part/ln(1-w)⌉
func PeriodsToWithin(part quantity.Share, w quantity.Share) (int, error) {
	if err := num.Within("The part that may be left", float64(part), 1e-6, 0.999, ""); err != nil {
		return 0, err
	}
	if w == 1 {
		return 1, nil
	}
	if err := num.Within("The share changed", float64(w), 0.001, 0.999, ""); err != nil {
		return 0, err
	}
	n := num.Log(float64(part)) / num.Log(1-float64(w))
	return int(math.Ceil(n - 1e-9)), nil
}
