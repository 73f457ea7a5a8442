package forecast

import (
	"math"

	"scaperound/domain/chem"
	"scaperound/domain/num"
)

// chances of one interval or of one visit's work.
const (
	chDose = iota
	chNO3
	chPO4
	chK
	chFe
	chFeed
	mostChances
)

// khPerNO3 is the fall of KH while 1 mg/L of NO3 is formed from ammonia: two
// equivalents; uptake returns one.
const khPerNO3 = 2 / chem.MassNO3 / chem.MeqPerDegree

// leastKH is about what is left when the alkalinity is used up, °d.
const leastKH = 0.06

// concentration of a nutrient's term, mg/L.
func concentration(i int, x float64) float64 {
	return max(0, num.Exp(min(x, 14))-offset[i])
}

func term(i int, c float64) float64 { return ln(max(c, 0) + offset[i]) }

// eaten solves c = a - g·c/(c + k) for c: a step of uptake with saturation that
// cannot take what is not there.
func eaten(a, g, k float64) float64 {
	b := a - k - g
	r := math.Sqrt(float64(b*b) + float64(4*a*k))
	if b > 0 {
		return (b + r) / 2
	}
	return 2 * a * k / (r - b)
}
