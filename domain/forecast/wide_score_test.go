package forecast

import (
	"math"
	"testing"

	q "scaperound/domain/quantity"
)

// Tanks that were in nobody's mind when the numbers of this package were set: of
// each habit, of those that are read in full and sparsely.
func TestOnWideTanks(t *testing.T) {
	for _, c := range []struct {
		name            string
		thin            bool
		ratio           float64
		low, high, iron float64
	}{{"every kind at every visit", false, 0.55, 0.72, 0.90, 0.72}, {"two or three readings a visit", true, 0.66, 0.72, 0.90, 0.68}} {
		sum := scored(1, 121, func(seed uint64) lived { return newWide(seed).live(15, c.thin) })
		ln := 0.0
		for i, x := range sum {
			in := x.in / x.n
			ln += math.Log(x.off/x.last) / float64(len(sum))
			t.Logf("%s: %s off by %.3g, the last value by %.3g; %.2f in the interval; score %.3g, of the last value %.3g", c.name, kinds[i], x.off/x.n, x.last/x.n, in, x.score/x.n, x.lastScore/x.n)
			low := c.low
			if kinds[i] == q.Iron {
				low = c.iron // what fades in days is told by the last doses, which nobody saw
			}
			if in < low || in > c.high {
				t.Errorf("%s: %.2f of the true %s lie in the 80 %% interval", c.name, in, kinds[i])
			}
			if x.score >= x.lastScore {
				t.Errorf("%s: the interval of %s scores %.3g, that of the last value %.3g", c.name, kinds[i], x.score/x.n, x.lastScore/x.n)
			}
		}
		t.Logf("%s: ratio %.3f", c.name, math.Exp(ln))
		if math.Exp(ln) > c.ratio {
			t.Errorf("%s: errors are %.3f of the last value's, want at most %.2f", c.name, math.Exp(ln), c.ratio)
		}
	}
}
