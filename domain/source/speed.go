package source

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Speed is how far one change may move a value of the water.
type Speed struct {
	Relative quantity.Share // of the value before, such as 0.15
	Absolute float64        // in the value's unit; whichever allows more
}

// The speeds of practice for general hardness and dissolved salts, for neglected
// or moved tanks and shrimp; a tank that is used to large changes is compared with
// its own last three.
var (
	ForFish   = Speed{Relative: 0.15, Absolute: 2} // per day, GH in °d
	ForShrimp = Speed{Relative: 0.10, Absolute: 0.5}
)

// Step is one change of a series.
type Step struct {
	Share quantity.Share
	After float64
}

// Series returns the changes, one a day, that lead from start to target with this
// source without moving the value faster than speed nor changing more than the
// share most at once. At most 60 steps are given.
//
// The last step lands on the target. A target on the other side of the source, or
// more than 60 steps away, is an Invalid fault. Source: dilution; the speeds are
// practice.
func Series(start, target, src float64, speed Speed, most quantity.Share) ([]Step, error) {
	for _, v := range [...]float64{start, target, src} {
		if err := num.Within("A value of the water", v, 0, 1e5, ""); err != nil {
			return nil, err
		}
	}
	if err := num.Within("The largest change", float64(most), 0.01, 1, ""); err != nil {
		return nil, err
	}
	if !(speed.Relative >= 0 && speed.Relative <= 1 && speed.Absolute >= 0) || speed.Relative == 0 && speed.Absolute == 0 {
		return nil, fault.New(fault.Invalid, "How fast the water may change is not a sensible speed.")
	}
	if math.Abs(start-target) < 1e-9 {
		return nil, nil
	}
	if (target-start)*(src-target) < 0 || target == src && most < 1 {
		return nil, fault.New(fault.Invalid, "Changes with this water never reach %.4g: it holds %.4g and the tank %.4g.", target, src, start)
	}
	var out []Step
	for v := start; ; {
		allowed := max(float64(speed.Relative)*v, speed.Absolute)
		move := min(allowed, math.Abs(target-v), float64(most)*math.Abs(src-v))
		if len(out) == 60 || move < 1e-9 {
			return nil, fault.New(fault.Invalid, "It would take more than 60 changes to get from %.4g to %.4g with this water.", start, target)
		}
		w := move / math.Abs(src-v)
		if src < v {
			v -= move
		} else {
			v += move
		}
		out = append(out, Step{quantity.Share(w), v})
		if math.Abs(v-target) < 1e-9 {
			return out, nil
		}
	}
}
