package gear

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Weighing is a cylinder on a scale some days after its swap, with the same
// fittings on it each time.
type Weighing struct {
	Since quantity.Days
	Gross quantity.Kilogram
}

// Use is how fast a cylinder empties.
type Use struct {
	PerDay  quantity.Gram // least squares over all weighings since the swap
	Sigma   quantity.Gram // standard error of PerDay
	Lost    quantity.Kilogram
	Content quantity.Opt[quantity.Kilogram] // where charge is known: charge less loss
}

// FromWeighings returns the use since the swap. Loss since the swap needs no
// tare: exchange cylinders differ in it, and the stamped one may or may not count
// the valve. charge is what the supplier filled in, where it is known; scale is
// the standard deviation of the scale.
//
// It takes at least two weighings on different days, 0 to 5000 d and above 0 to
// 200 kg. Source: least squares.
func FromWeighings(ws []Weighing, charge quantity.Opt[quantity.Kilogram], scale quantity.Gram) (Use, error) {
	if len(ws) < 2 || len(ws) > 1000 {
		return Use{}, fault.New(fault.Invalid, "How fast a cylinder empties needs at least two weighings since its swap.")
	}
	if err := num.Within("The scale's error", float64(scale), 0, 1000, "g"); err != nil {
		return Use{}, err
	}
	n := float64(len(ws))
	mx, my := 0.0, 0.0
	first, last := ws[0], ws[0]
	for _, w := range ws {
		if err := num.Within("Days since the swap", float64(w.Since), 0, 5000, "d"); err != nil {
			return Use{}, err
		}
		if err := num.Within("The cylinder's weight", float64(w.Gross), 0.1, 200, "kg"); err != nil {
			return Use{}, err
		}
		mx += float64(w.Since) / n
		my += float64(w.Gross) * 1000 / n
		if w.Since < first.Since {
			first = w
		}
		if w.Since > last.Since {
			last = w
		}
	}
	sxx, sxy := 0.0, 0.0
	for _, w := range ws {
		dx := float64(w.Since) - mx
		sxx += float64(dx * dx)
		sxy += float64(dx * (float64(w.Gross)*1000 - my))
	}
	if !(sxx > 0) {
		return Use{}, fault.New(fault.Invalid, "The weighings are all of one day; how fast a cylinder empties needs two days.")
	}
	rate := -sxy / sxx
	rss := 0.0
	for _, w := range ws {
		r := float64(w.Gross)*1000 - my + float64(rate*(float64(w.Since)-mx))
		rss += float64(r * r)
	}
	v := float64(scale) * float64(scale)
	if len(ws) > 2 {
		v = max(v, rss/(n-2))
	}
	u := Use{PerDay: quantity.Gram(rate), Sigma: quantity.Gram(math.Sqrt(v / sxx)), Lost: first.Gross - last.Gross}
	if charge.OK {
		u.Content = quantity.Some(max(0, charge.V-max(0, u.Lost)))
	}
	return u, nil
}

// Content returns gross less tare, or a fault where the tare is the larger.
func Content(gross, tare quantity.Kilogram) (quantity.Kilogram, error) {
	if err := num.Within("The cylinder's weight", float64(gross), 0.1, 200, "kg"); err != nil {
		return 0, err
	}
	if err := num.Within("The tare", float64(tare), 0.05, float64(gross)+0.05, "kg"); err != nil {
		return 0, err
	}
	return max(0, gross-tare), nil
}

// SwapShare is the share of the charge at which a cylinder is swapped: below it
// the pressure falls, and some regulators then let more through (their outlet
// pressure creeps up as the inlet falls). It is practice.
const SwapShare quantity.Share = 0.2

// DaysLeft returns how long a content (kg) lasts at a daily use before the share
// keep of the charge is reached. It is 0 where that is already so, and false where
// nothing is used.
func DaysLeft(content, charge quantity.Kilogram, perDay quantity.Gram, keep quantity.Share) (quantity.Days, bool) {
	left := float64(content) - float64(charge)*float64(keep)
	switch {
	case !(perDay > 0) || math.IsNaN(left):
		return 0, false
	case left <= 0:
		return 0, true
	}
	d := left * 1000 / float64(perDay)
	return quantity.Days(d), d < 36500
}

// LeftOfCharge is the share of its charge that a cylinder still holds, 0 to 1. More
// than the charge cannot be left.
func LeftOfCharge(left, charge quantity.Kilogram) (quantity.Share, error) {
	if err := num.Within("The charge", float64(charge), 0.05, 100, "kg"); err != nil {
		return 0, err
	}
	if err := num.Within("What is left", float64(left), 0, float64(charge)*1.05, "kg"); err != nil {
		return 0, err
	}
	return quantity.Share(min(1, float64(left)/float64(charge))), nil
}
