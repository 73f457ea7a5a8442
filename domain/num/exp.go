package num

import "math"

// ln 2 as a sum: the first part has enough trailing zeros that its product with
// any binary exponent of a float64 is exact.
const (
	ln2Hi  = 0x1.62e42feep-1
	ln2Lo  = 0x1.a39ef35793c76p-33
	log2e  = 0x1.71547652b82fep+0
	expMax = 709.782712893384  // the largest x with a finite result
	expMin = -745.133219101941 // below it the result is zero
)

// Exp returns e to the power x: +Inf above 709.78, 0 below -745.13, NaN for NaN.
func Exp(x float64) float64 { return expSum(x, 0) }

// expSum is e to the power hi+lo, where lo is a correction far below hi.
//
// The argument is brought into ±ln2/2 and the series of e^r, cut where the next
// term is below 2^-57, is summed so that the largest terms are added last.
func expSum(hi, lo float64) float64 {
	switch {
	case math.IsNaN(hi) || math.IsInf(hi, 1):
		return hi
	case hi > expMax:
		return math.Inf(1)
	case hi < expMin:
		return 0
	}
	k := math.Floor(float64(hi*log2e) + 0.5)
	a := hi - float64(k*ln2Hi) // exact
	b := float64(k*ln2Lo) - lo
	r := a - b
	c := (a - r) - b // what the rounding of r lost
	// The tail of the series from r²/2 on, by Horner's scheme.
	p := 1.0 / 6227020800
	p = float64(p*r) + 1.0/479001600
	p = float64(p*r) + 1.0/39916800
	p = float64(p*r) + 1.0/3628800
	p = float64(p*r) + 1.0/362880
	p = float64(p*r) + 1.0/40320
	p = float64(p*r) + 1.0/5040
	p = float64(p*r) + 1.0/720
	p = float64(p*r) + 1.0/120
	p = float64(p*r) + 1.0/24
	p = float64(p*r) + 1.0/6
	p = float64(p*r) + 0.5
	// c changes the result by e^r·c; the factor 1+r is all of e^r that is felt.
	tail := float64(float64(r*r)*p) + float64(c*(1+r))
	y := 1 + (r + tail)
	if k > -1021 && k < 1023 { // the power of two is a number by itself, and the product exact
		return y * math.Float64frombits(uint64(int(k)+1023)<<52)
	}
	return math.Ldexp(y, int(k))
}

// Exp10 returns ten to the power x, with the range of Exp.
func Exp10(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x) > 400 {
		return expSum(float64(x*math.Ln10), 0)
	}
	hi, lo := mulSum(x, 0, ln10Hi, ln10Lo)
	return expSum(hi, lo)
}

// Expm1 returns e^x - 1 without loss near zero.
func Expm1(x float64) float64 {
	if math.Abs(x) > 0.7 || math.IsNaN(x) {
		return Exp(x) - 1
	}
	// The same series without its first term.
	term, sum := x, 0.0
	for n := 2.0; n < 24; n++ {
		term = float64(term*x) / n
		sum += term
	}
	return x + sum
}
