package forecast

func at(i, j int) int {
	if i < j {
		i, j = j, i
	}
	return i*(i+1)/2 + j
}

// widen adds variance to one term.
func (s *State) widen(i int, sd, days float64) {
	s.Cov[at(i, i)] += float64(sd*sd) * days
}

// shrink conditions on a sum of terms, w·z, whose mean and variance become m and
// v.
func (s *State) shrink(on []weighed, m, v, newM, newV float64) {
	if !(v > 0) {
		return
	}
	var g [terms]float64
	for i := range terms {
		for _, w := range on {
			g[i] = plus(g[i], w.by, s.Cov[at(i, w.term)])
		}
	}
	shift := (newM - m) / v
	keep := (v - newV) / v / v
	for i := range terms {
		s.Mean[i] = plus(s.Mean[i], g[i], shift)
		for j := range i + 1 {
			s.Cov[at(i, j)] = plus(s.Cov[at(i, j)], -keep, float64(g[i]*g[j]))
		}
	}
}

type weighed struct {
	term int
	by   float64
}

// along is the mean and variance of a sum of terms.
func (s *State) along(on []weighed) (m, v float64) {
	for _, a := range on {
		m = plus(m, a.by, s.Mean[a.term])
		for _, b := range on {
			v = plus(v, float64(a.by*b.by), s.Cov[at(a.term, b.term)])
		}
	}
	return m, v
}
