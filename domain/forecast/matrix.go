package forecast

import "math"

const h2 = 3.0 // the square of the step of the divided differences, for a Gaussian

func at(i, j int) int {
	if i < j {
		i, j = j, i
	}
	return i*(i+1)/2 + j
}

// factor is the lower Cholesky factor of the covariance. A term that is known
// exactly, or that rounding made so, has an empty column.
func (s *State) factor(l *[terms][terms]float64) {
	for j := range terms {
		d := s.Cov[at(j, j)]
		for k := range j {
			d -= float64(l[j][k] * l[j][k])
		}
		if !(d > 1e-14) {
			for i := j; i < terms; i++ {
				l[i][j] = 0
			}
			continue
		}
		r := math.Sqrt(d)
		l[j][j] = r
		for i := j + 1; i < terms; i++ {
			v := s.Cov[at(i, j)]
			for k := range j {
				v -= float64(l[i][k] * l[j][k])
			}
			l[i][j] = v / r
		}
	}
}

// push sends mean and covariance through f, which reads the terms before idle and
// some chances of standard deviation one, and writes what moves.
func (s *State) push(chances, idle int, f func(z *[terms]float64, e *[mostChances]float64, out *[moves]float64)) {
	var l [terms][terms]float64
	s.factor(&l)
	var e [mostChances]float64
	var mid, up, down [moves]float64
	z := s.Mean
	f(&z, &e, &mid)
	var first, second [moves][terms + mostChances]float64
	step := math.Sqrt(h2)
	n := terms + chances
	mean := mid
	var bend [moves]float64
	for j := range n {
		z = s.Mean
		if j < terms {
			// A column reaches only the terms from its own on.
			if l[j][j] == 0 || j >= idle {
				continue
			}
			for i := j; i < terms; i++ {
				z[i] = plus(s.Mean[i], step, l[i][j])
			}
			f(&z, &e, &up)
			for i := j; i < terms; i++ {
				z[i] = plus(s.Mean[i], -step, l[i][j])
			}
			f(&z, &e, &down)
		} else {
			e[j-terms] = step
			f(&z, &e, &up)
			e[j-terms] = -step
			f(&z, &e, &down)
			e[j-terms] = 0
		}
		for i := range moves {
			first[i][j] = (up[i] - down[i]) / (2 * step)
			d := up[i] + down[i] - 2*mid[i]
			bend[i] += d
			second[i][j] = d * math.Sqrt(h2-1) / (2 * h2)
		}
	}
	for i := range moves {
		mean[i] = plus(mid[i], 1/(2*h2), bend[i])
	}
	for i := range moves {
		for k := range i + 1 {
			v := 0.0
			for j := range n {
				v = plus(v, first[i][j], first[k][j])
				v = plus(v, second[i][j], second[k][j])
			}
			s.Cov[at(i, k)] = v
		}
		s.Mean[i] = mean[i]
	}
	for i := moves; i < terms; i++ {
		for k := range moves {
			v := 0.0
			for j := range i + 1 {
				v = plus(v, l[i][j], first[k][j])
			}
			s.Cov[at(i, k)] = v
		}
	}
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
