// Package source is the water that goes in at a change: blends of tap and pure
// water, what a softener does to it, chlorine and chloramine, its temperature and
// gas, and how fast the tank's water may be moved towards it.
package source

import (
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// TapFraction returns the share of tap water that brings a blend of tap and pure
// water to a target, for GH, KH, conductivity or any ion.
//
//	x = (target - RO)/(tap - RO)
//
// A target outside what lies between the two is an Invalid fault. Source: linear
// mixing.
func TapFraction(target, tap, ro float64) (quantity.Share, error) {
	for _, v := range [...]float64{target, tap, ro} {
		if err := num.Within("A value of the water", v, 0, 1e5, ""); err != nil {
			return 0, err
		}
	}
	if tap == ro {
		if target == tap {
			return 1, nil
		}
		return 0, fault.New(fault.Invalid, "Tap and pure water both hold %.4g; no blend of them gives %.4g.", tap, target)
	}
	x := (target - ro) / (tap - ro)
	if x < 0 || x > 1 {
		return 0, fault.New(fault.Invalid, "No blend gives %.4g: tap water holds %.4g and pure water %.4g.", target, tap, ro)
	}
	return quantity.Share(x), nil
}

// Mixed returns what a blend with the share tap of tap water holds.
func Mixed(share quantity.Share, tap, ro float64) (float64, error) {
	if err := num.Within("The share of tap water", float64(share), 0, 1, ""); err != nil {
		return 0, err
	}
	v, err := num.Finite("The blend", ro+float64(float64(share)*(tap-ro)))
	return v, err
}

// TapFractionFor returns the share of tap water for two targets at once. Two
// targets with one tap give two shares; the smaller one is taken, so that neither
// target is passed, and salts bring the rest. Tap water below both targets gives
// 1. The targets are (target, tap, RO) triples, such as GH and KH.
func TapFractionFor(targets ...[3]float64) (quantity.Share, error) {
	best := quantity.Share(1)
	for _, t := range targets {
		for _, v := range t {
			if err := num.Within("A value of the water", v, 0, 1e5, ""); err != nil {
				return 0, err
			}
		}
		target, tap, ro := t[0], t[1], t[2]
		if tap <= target || tap <= ro {
			continue
		}
		best = min(best, quantity.Share(max(0, (target-ro)/(tap-ro))))
	}
	return best, nil
}
