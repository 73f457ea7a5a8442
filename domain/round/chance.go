package round

import (
	"math/bits"

	"scaperound/domain/num"
)

// chance is a small generator of its own (Steele and Vigna's mix of a counter,
// SplitMix64), so that a search with a seed goes the same way everywhere.
type chance struct{ at uint64 }

func (c *chance) next() uint64 {
	c.at += 0x9e3779b97f4a7c15
	z := c.at
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is a whole number from 0 to n-1.
func (c *chance) below(n int) int {
	hi, _ := bits.Mul64(c.next(), uint64(n))
	return int(hi)
}

// oneIn reports true once in some 2^32/of.
func (c *chance) under(of uint32) bool { return uint32(c.next()) < of }

const logSteps = 1 << 12

// minusLog holds −ln of the middles of equal steps from 0 to 1: what annealing
// draws at each step, without working out a logarithm.
var minusLog = func() (t [logSteps]float64) {
	for i := range t {
		t[i] = -num.Log((float64(i) + 0.5) / logSteps)
	}
	return t
}()

// expo is a number that is exponentially distributed with mean 1.
func (c *chance) expo() float64 { return minusLog[c.next()>>(64-12)] }
