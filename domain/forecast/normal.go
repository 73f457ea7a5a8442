package forecast

import (
	"math"

	"scaperound/domain/num"
)

// z80 is the standard normal quantile of 0.9: a central 80 % interval.
const z80 = 1.2815515655446004

// phi is the standard normal distribution function, to 8e-8.
//
// Source: M. Abramowitz and I. A. Stegun (1964), Handbook of Mathematical
// Functions, 26.2.17.
func phi(z float64) float64 {
	if z > 8 {
		return 1
	}
	if z < -8 {
		return 0
	}
	x := math.Abs(z)
	t := 1 / (1 + float64(0.2316419*x))
	p := float64(t*1.330274429) - 1.821255978
	p = float64(t*p) + 1.781477937
	p = float64(t*p) - 0.356563782
	p = float64(t*p) + 0.319381530
	tail := 0.3989422804014327 * num.Exp(-float64(x*x)/2) * float64(t*p)
	if z > 0 {
		return 1 - tail
	}
	return tail
}

// plus returns a + b·c without a fused rounding.
func plus(a, b, c float64) float64 { return a + float64(b*c) }

func clamp(x, lo, hi float64) float64 {
	if !(x > lo) { // NaN too
		return lo
	}
	return math.Min(x, hi)
}
