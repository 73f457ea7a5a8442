package num

import "math"

// Constants as sums of two float64.
const (
	ln10Hi   = 0x1.26bb1bbb55516p+1
	ln10Lo   = -0x1.f48ad494ea3e9p-53
	log10eHi = 0x1.bcb7b1526e50ep-2
	log10eLo = 0x1.95355baaafad3p-57
)

// Log returns the natural logarithm: -Inf at 0, NaN below 0 and for NaN.
func Log(x float64) float64 {
	if y, done := logEdge(x); done {
		return y
	}
	hi, lo := logSum(x)
	return hi + lo
}

// Log10 returns the logarithm to base ten, with the edges of Log.
func Log10(x float64) float64 {
	if y, done := logEdge(x); done {
		return y
	}
	a, b := logSum(x)
	hi, lo := mulSum(a, b, log10eHi, log10eLo)
	return hi + lo
}

// Pow returns x to the power y for x ≥ 0. A negative x gives NaN, 0^0 is 1.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case math.IsNaN(x) || math.IsNaN(y) || x < 0:
		return math.NaN()
	case x == 0 || math.IsInf(x, 1):
		if (x == 0) == (y > 0) {
			return 0
		}
		return math.Inf(1)
	case math.IsInf(y, 0):
		if (x > 1) == (y > 0) {
			return math.Inf(1)
		}
		return 0
	}
	a, b := logSum(x)
	if p := float64(a * y); p > 800 || p < -800 {
		return Exp(p)
	}
	hi, lo := mulSum(a, b, y, 0)
	return expSum(hi, lo)
}

func logEdge(x float64) (float64, bool) {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 1):
		return x, true
	case x < 0:
		return math.NaN(), true
	case x == 0:
		return math.Inf(-1), true
	}
	return 0, false
}

// logSum returns ln x as a sum of two float64, good to about 65 bits.
//
// x = m·2^k with m between √½ and √2; with s = (m-1)/(m+1),
// ln m = 2s(1 + s²/3 + s⁴/5 + …). The first two terms are carried in double
// width, the rest is small enough for single.
func logSum(x float64) (hi, lo float64) {
	m, k := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m *= 2
		k--
	}
	f := m - 1 // exact
	gHi, gLo := twoSum(m, 1)
	s := f / gHi
	// The remainder of the division, for the second half of s.
	p, e := twoProd(s, gHi)
	sLo := ((f - p) - e - float64(s*gLo)) / gHi
	qHi, qLo := mulSum(s, sLo, s, sLo)

	z := qHi
	t := 2.0 / 25
	t = float64(t*z) + 2.0/23
	t = float64(t*z) + 2.0/21
	t = float64(t*z) + 2.0/19
	t = float64(t*z) + 2.0/17
	t = float64(t*z) + 2.0/15
	t = float64(t*z) + 2.0/13
	t = float64(t*z) + 2.0/11
	t = float64(t*z) + 2.0/9
	t = float64(t*z) + 2.0/7
	t = float64(t*z) + 2.0/5
	t = float64(t*z) * z // s⁴·2/5 + …

	const thirdHi, thirdLo = 0x1.5555555555555p-1, 0x1.5555555555555p-55 // 2/3
	uHi, uLo := mulSum(qHi, qLo, thirdHi, thirdLo)
	uHi, e = twoSum(uHi, t)
	uLo += e
	uHi, e = twoSum(2, uHi)
	uLo += e
	mHi, mLo := mulSum(s, sLo, uHi, uLo)

	n := float64(k)
	hi, e = twoSum(float64(n*ln2Hi), mHi)
	lo = e + (float64(n*ln2Lo) + mLo)
	return fastSum(hi, lo)
}

// twoSum returns a+b and its rounding error (Knuth).
func twoSum(a, b float64) (s, err float64) {
	s = a + b
	bb := s - a
	return s, (a - (s - bb)) + (b - bb)
}

// fastSum is twoSum for |a| ≥ |b| (Dekker).
func fastSum(a, b float64) (s, err float64) {
	s = a + b
	return s, b - (s - a)
}

// twoProd returns a·b and its rounding error (Dekker, after Veltkamp's split).
func twoProd(a, b float64) (p, err float64) {
	const split = 1<<27 + 1
	p = float64(a * b)
	t := float64(split * a)
	aHi := t - (t - a)
	aLo := a - aHi
	t = float64(split * b)
	bHi := t - (t - b)
	bLo := b - bHi
	err = float64(aHi*bHi) - p
	err += float64(aHi * bLo)
	err += float64(aLo * bHi)
	err += float64(aLo * bLo)
	return p, err
}

// mulSum multiplies two sums of two float64.
func mulSum(aHi, aLo, bHi, bLo float64) (hi, lo float64) {
	p, e := twoProd(aHi, bHi)
	e += float64(aHi*bLo) + float64(aLo*bHi)
	return fastSum(p, e)
}
