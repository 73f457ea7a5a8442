package forecast

import (
	"math"
	"testing"

	q "scaperound/domain/quantity"
)

type tally struct{ n, off, last, in, score, lastScore float64 }

// scored folds made-up tanks and holds what was expected of each visit, from the
// fourth on, against what was there.
func scored(from, to uint64, live func(seed uint64) lived) (sum [moves + 1]tally) {
	floors := [moves + 1]float64{1.5, 0.08, 1, 0.015, 0.5, 0.3, 15}
	for seed := from; seed < to; seed++ {
		l := live(seed)
		var s State
		var last [moves + 1]float64 // before the first reading: what is on paper
		for i, k := range kinds[:moves] {
			last[i] = l.steps[0].Setup.Change(k).Or(0)
		}
		last[moves] = float64(l.steps[0].Setup.Filter.Clean.V)
		var missed [moves + 1][]float64
		for v, st := range l.steps {
			if v >= 4 {
				for _, e := range Ahead(s, st.Setup, Course{Plan: st.Plan}, []q.Date{st.Visit.Day}) {
					i, _ := indexOf(e.Kind)
					if i > moves {
						continue
					}
					y := l.truth[v][i]
					t := &sum[i]
					t.n++
					t.off += math.Abs(e.Value - y)
					t.last += math.Abs(last[i] - y)
					t.score += winkler(e.Lo, e.Hi, y)
					if y >= e.Lo && y <= e.Hi {
						t.in++
					}
					sd := 0.0
					for _, d := range missed[i] {
						sd += d * d / float64(len(missed[i]))
					}
					half := z80 * math.Max(math.Sqrt(sd), floors[i])
					t.lastScore += winkler(math.Max(0, last[i]-half), last[i]+half, y)
				}
			}
			for _, r := range st.Visit.Readings {
				if i, ok := indexOf(r.Kind); ok && i <= moves {
					missed[i] = append(missed[i], r.Value-last[i])
					last[i] = r.Value
				}
			}
			s = Update(s, st.Setup, st.Plan, st.Visit)
		}
	}
	return sum
}

func winkler(lo, hi, y float64) float64 {
	return hi - lo + 10*math.Max(0, lo-y) + 10*math.Max(0, y-hi)
}

// The bars are those the forecast is held to: against the last value as the
// forecast, and for an 80 % interval.
func TestAgainstTheLastValue(t *testing.T) {
	for _, c := range []struct {
		name      string
		thin      bool
		ratio     float64
		low, high float64
	}{{"every kind at every visit", false, 0.60, 0.72, 0.94}, {"two to four readings a visit", true, 0.66, 0.72, 0.94}} {
		ln := 0.0
		sum := scored(1, 41, func(seed uint64) lived { return newMadeUp(seed).live(16, c.thin) })
		for i, x := range sum {
			in := x.in / x.n
			ln += math.Log(x.off/x.last) / float64(len(sum))
			t.Logf("%s: %s off by %.3g, the last value by %.3g; %.2f in the interval; score %.3g, of the last value %.3g", c.name, kinds[i], x.off/x.n, x.last/x.n, in, x.score/x.n, x.lastScore/x.n)
			low := c.low
			if kinds[i] == q.Iron {
				low = 0.6 // whether the last doses were given is all of it, and no history tells
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

func BenchmarkUpdate(b *testing.B) {
	l := newMadeUp(4).live(16, false)
	s := Fold(l.steps[:15])
	b.ReportAllocs()
	for b.Loop() {
		st := &l.steps[15]
		Update(s, st.Setup, st.Plan, st.Visit)
	}
}

// A shop of 500 tanks overnight: each with a year of visits folded anew, and all
// that the tank's page asks.
func BenchmarkShop500(b *testing.B) {
	type shop struct{ l lived }
	tanks := make([]shop, 500)
	for i := range tanks {
		tanks[i].l = newMadeUp(uint64(i)).live(26, i%2 == 0)
	}
	for b.Loop() {
		for i := range tanks {
			l := &tanks[i].l
			s := Fold(l.steps)
			end := &l.steps[len(l.steps)-1]
			c := Course{Plan: end.Plan}
			Ahead(s, end.Setup, c, []q.Date{s.Day.Add(7), s.Day.Add(14)})
			Crossing(s, end.Setup, c, q.Nitrate, Below, 2, 60)
			Crossing(s, end.Setup, c, q.Flow, Below, 300, 180)
		}
	}
}
