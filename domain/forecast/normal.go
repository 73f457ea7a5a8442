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
	if z > 6 {
		return 1
	}
	if z < -6 {
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
	if x > hi {
		return hi
	}
	return x
}

// ln is the natural logarithm to about two units in the last place, at a third
// of the time that num.Log needs for half a unit. 0 and below, and what is not
// finite, are left to it.
func ln(x float64) float64 {
	if !(x >= 1e-300 && x <= 1e300) {
		return num.Log(x)
	}
	const half, one = 0x3fe0000000000000, 0x3ff0000000000000
	b := math.Float64bits(x)
	k := int(b>>52) - 1023
	m := math.Float64frombits(b&(1<<52-1) | one) // 1 to 2
	if m > math.Sqrt2 {
		m = math.Float64frombits(b&(1<<52-1) | half)
		k++
	}
	// ln m = 2s(1 + s²/3 + s⁴/5 + …), s = (m-1)/(m+1)
	f := m - 1
	s := f / (2 + f)
	z := float64(s * s)
	t := 2.0 / 21
	t = float64(t*z) + 2.0/19
	t = float64(t*z) + 2.0/17
	t = float64(t*z) + 2.0/15
	t = float64(t*z) + 2.0/13
	t = float64(t*z) + 2.0/11
	t = float64(t*z) + 2.0/9
	t = float64(t*z) + 2.0/7
	t = float64(t*z) + 2.0/5
	t = float64(t*z) + 2.0/3
	t = float64(float64(t*z)*s) + float64(2*s)
	n := float64(k)
	return float64(n*0x1.62e42feep-1) + (t + float64(n*0x1.a39ef35793c76p-33))
}
