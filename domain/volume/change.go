package volume

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// A dissolved substance here may be anything that mixes by volume: mg/L of an
// ion, °d of hardness, µS/cm.

func checkShare(w quantity.Share) error {
	return num.Within("The share changed", float64(w), 0, 1, "")
}

func checkLevels(values ...float64) error {
	for _, v := range values {
		if err := num.Within("A concentration", v, 0, 1e6, ""); err != nil {
			return err
		}
	}
	return nil
}

// After returns the concentration after n changes of the share w with water that
// holds source.
//
//	C(n) = S + (C0 - S)(1-w)^n
//
// Source: dilution at constant volume. Three changes of 20 % exchange 48.8 %.
func After(start, source float64, w quantity.Share, n int) (float64, error) {
	if err := checkShare(w); err != nil {
		return 0, err
	}
	if err := checkLevels(start, source); err != nil {
		return 0, err
	}
	if err := num.Within("The number of changes", float64(n), 0, 1000, ""); err != nil {
		return 0, err
	}
	left := 1.0
	for range n {
		left *= 1 - float64(w)
	}
	return source + float64((start-source)*left), nil
}

// errUnreachable says why no change leads from start to target.
func errUnreachable(start, target, source float64) error {
	return fault.New(fault.Invalid, "No change with this water leads from %.4g to %.4g: the change water itself holds %.4g.", start, target, source)
}

// remaining is (target-source)/(start-source), the part of the difference that is
// left; it must be above 0 and at most 1.
func remaining(start, target, source float64) (float64, error) {
	if err := checkLevels(start, target, source); err != nil {
		return 0, err
	}
	if start == target {
		return 1, nil
	}
	if start == source {
		return 0, errUnreachable(start, target, source)
	}
	r := (target - source) / (start - source)
	if r <= 0 && target != source || r > 1 {
		return 0, errUnreachable(start, target, source)
	}
	return r, nil
}

// SingleShare returns the share of one change that leads from start to target,
// or an Invalid fault where the source lies on the wrong side of the target.
//
//	w = 1 - (Ct - S)/(C0 - S)
func SingleShare(start, target, source float64) (quantity.Share, error) {
	r, err := remaining(start, target, source)
	if err != nil {
		return 0, err
	}
	return quantity.Share(1 - r), nil
}

// Changes returns how many changes of the share w (above 0, below 1) lead from
// start to target, as a real number; round it up. A target equal to the source
// is never reached.
//
//	n = ln((Ct - S)/(C0 - S))/ln(1-w)
func Changes(start, target, source float64, w quantity.Share) (float64, error) {
	if err := num.Within("The share changed", float64(w), 0.001, 0.999, ""); err != nil {
		return 0, err
	}
	r, err := remaining(start, target, source)
	if err != nil {
		return 0, err
	}
	if r <= 0 {
		return 0, errUnreachable(start, target, source)
	}
	return math.Abs(num.Log(r) / num.Log(1-float64(w))), nil
}

// Litres returns the water of a change of the share w of a net volume.
func Litres(net quantity.Litre, w quantity.Share) (quantity.Litre, error) {
	if err := checkShare(w); err != nil {
		return 0, err
	}
	if err := checkNet(net); err != nil {
		return 0, err
	}
	return quantity.Litre(float64(net) * float64(w)), nil
}

// ShareOf returns which share of the net volume so many litres are.
func ShareOf(changed, net quantity.Litre) (quantity.Share, error) {
	if err := checkNet(net); err != nil {
		return 0, err
	}
	if err := num.Within("The water changed", float64(changed), 0, float64(net), "L"); err != nil {
		return 0, err
	}
	return quantity.Share(float64(changed) / float64(net)), nil
}

func checkNet(net quantity.Litre) error {
	return num.Within("The net volume", float64(net), 0.1, largestFilling, "L")
}

// Continuous returns the concentration after so many litres have dripped through
// a well mixed tank.
//
//	C = S + (C0 - S) exp(-Vd/V)
func Continuous(start, source float64, drip, net quantity.Litre) (float64, error) {
	if err := checkLevels(start, source); err != nil {
		return 0, err
	}
	if err := checkNet(net); err != nil {
		return 0, err
	}
	if err := num.Within("The water dripped", float64(drip), 0, 1e9, "L"); err != nil {
		return 0, err
	}
	return source + float64((start-source)*num.Exp(-float64(drip)/float64(net))), nil
}

// BySalt returns the net volume from a tracer: grams of sodium chloride that
// raised the conductivity by delta µS/cm. perGram is the rise in µS/cm of 1 mg/L
// of salt, about 2.1 in soft water; calibrate it in a litre of the tank's water.
//
//	V = m·1000·k/ΔEC
func BySalt(salt quantity.Gram, delta quantity.MicroSPerCm, perMg float64) (quantity.Litre, error) {
	if err := num.Within("Salt", float64(salt), 0.01, 1e6, "g"); err != nil {
		return 0, err
	}
	if err := num.Within("The rise of conductivity", float64(delta), 1, 1e5, "µS/cm"); err != nil {
		return 0, err
	}
	if err := num.Within("The conductivity of 1 mg/L of salt", perMg, 1, 3, "µS/cm"); err != nil {
		return 0, err
	}
	return quantity.Litre(float64(salt) * 1000 * perMg / float64(delta)), nil
}
