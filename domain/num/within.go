package num

import (
	"math"
	"strconv"

	"scaperound/domain/fault"
)

// Within returns nil where lo ≤ v ≤ hi, and otherwise a fault that says what is
// out of which range. NaN and infinities are always outside. name begins a
// sentence, such as "Temperature"; unit may be empty.
func Within(name string, v, lo, hi float64, unit string) error {
	if v >= lo && v <= hi && !math.IsInf(v, 0) {
		return nil
	}
	return outside(name, v, lo, hi, unit)
}

// Positive returns nil for a finite v above zero.
func Positive(name string, v float64, unit string) error {
	if v > 0 && !math.IsInf(v, 1) {
		return nil
	}
	return fault.New(fault.Invalid, "%s must be above 0, not %s.", name, figure(v, unit))
}

// NotNegative returns nil for a finite v of zero or more.
func NotNegative(name string, v float64, unit string) error {
	if v >= 0 && !math.IsInf(v, 1) {
		return nil
	}
	return fault.New(fault.Invalid, "%s cannot be below 0, and here it is %s.", name, figure(v, unit))
}

func outside(name string, v, lo, hi float64, unit string) error {
	if math.IsInf(hi, 1) {
		return fault.New(fault.Invalid, "%s must be at least %s, not %s.", name, figure(lo, unit), figure(v, unit))
	}
	return fault.New(fault.Invalid, "%s must lie from %s to %s, where this calculation holds; here it is %s.",
		name, figure(lo, ""), figure(hi, unit), figure(v, unit))
}

// Finite returns v, or a fault where the arithmetic left the finite numbers.
func Finite(name string, v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fault.New(fault.Invalid, "%s cannot be computed from these values.", name)
	}
	return v, nil
}

func figure(v float64, unit string) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if math.IsNaN(v) {
		s = "not a number"
	}
	if unit != "" && unit != "pH" {
		s += " " + unit
	}
	return s
}
