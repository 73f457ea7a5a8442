package forecast

import "math"

const h2 = 3.0 // the square of the step of the divided differences, for a Gaussian

// set is a set of terms or of chances, by their bits.
type set uint32

func setOf(terms ...int) (s set) {
	for _, i := range terms {
		s |= 1 << i
	}
	return s
}

func (s set) has(i int) bool { return s>>i&1 == 1 }

// part is a moving term, or two that need the same sums, with the terms and the
// chances that they feel.
type part struct {
	name             partName
	out, in, chances set
}

type partName uint8

const (
	partNO3 partName = iota // in an interval with KH, which nitrate moves
	partPO4
	partK
	partFe
	partGH
	partKH
)

// water is what moves the terms: the days of an interval, or a visit's change.
type water struct {
	days *interval
	work *change
}

func (w water) parts(buf *[moves]part) []part {
	if w.work != nil {
		return w.work.parts(buf)
	}
	return w.days.parts(buf)
}

func (w water) pass(p partName, z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	if w.work != nil {
		w.work.pass(p, z, e, out)
		return
	}
	w.days.pass(p, z, e, out)
}

// mostFelt is how many terms a part feels at most.
const mostFelt = 10

// effect is how a moving term answers.
type effect struct {
	mean   float64
	slope  [terms]float64 // to the terms
	chance [mostChances]float64
}

// push sends mean and covariance through the water. Each part is divided only
// along the terms that it feels, in the coordinates of their own Cholesky factor;
// the terms that it does not feel follow by their covariance with these.
func (s *State) push(w water) {
	var to [moves]effect
	var bent [moves][moves]float64 // what the second differences add, lower triangle
	var buf [moves]part
	for _, p := range w.parts(&buf) {
		s.divide(w, &p, &to, &bent)
	}
	var cross [moves][terms]float64
	for i := range moves {
		for j, b := range to[i].slope {
			if b == 0 {
				continue
			}
			row := j * (j + 1) / 2
			for k := range j + 1 {
				cross[i][k] = plus(cross[i][k], b, s.Cov[row+k])
			}
			for k := j + 1; k < terms; k++ {
				cross[i][k] = plus(cross[i][k], b, s.Cov[k*(k+1)/2+j])
			}
		}
	}
	for i := range moves {
		for k := range i + 1 {
			v := bent[i][k]
			for j, b := range to[k].slope {
				v = plus(v, b, cross[i][j])
			}
			for j := range mostChances {
				v = plus(v, to[i].chance[j], to[k].chance[j])
			}
			s.Cov[at(i, k)] = v
		}
		s.Mean[i] = to[i].mean
	}
	for k := moves; k < terms; k++ {
		for i := range moves {
			s.Cov[k*(k+1)/2+i] = cross[i][k]
		}
	}
}

// divide takes the divided differences of one part.
func (s *State) divide(w water, p *part, to *[moves]effect, bent *[moves][moves]float64) {
	var in [mostFelt]int
	n := 0
	for i := range terms {
		if p.in.has(i) {
			in[n] = i
			n++
		}
	}
	var outs [2]int
	m := 0
	for i := range moves {
		if p.out.has(i) {
			outs[m] = i
			m++
		}
	}
	var l [mostFelt][mostFelt]float64
	s.factor(in[:n], &l)
	step := math.Sqrt(h2)
	curve := math.Sqrt(h2-1) / (2 * h2)
	var e [mostChances]float64
	var mid, up, down [moves]float64
	z := s.Mean
	w.pass(p.name, &z, &e, &mid)
	for _, o := range outs[:m] {
		to[o].mean = mid[o]
	}
	differ := func() (first, second [2]float64) {
		for a, o := range outs[:m] {
			first[a] = (up[o] - down[o]) / (2 * step)
			d := up[o] + down[o] - 2*mid[o]
			second[a] = d * curve
			to[o].mean = plus(to[o].mean, 1/(2*h2), d)
		}
		for a, o := range outs[:m] {
			for b := range a + 1 {
				bent[o][outs[b]] = plus(bent[o][outs[b]], second[a], second[b])
			}
		}
		return first, second
	}
	var first [2][mostFelt]float64
	for c := range n {
		if l[c][c] == 0 {
			continue
		}
		for r := c; r < n; r++ {
			z[in[r]] = plus(s.Mean[in[r]], step, l[r][c])
		}
		w.pass(p.name, &z, &e, &up)
		for r := c; r < n; r++ {
			z[in[r]] = plus(s.Mean[in[r]], -step, l[r][c])
		}
		w.pass(p.name, &z, &e, &down)
		for r := c; r < n; r++ {
			z[in[r]] = s.Mean[in[r]]
		}
		f, _ := differ()
		for a := range m {
			first[a][c] = f[a]
		}
	}
	for c := range mostChances {
		if !p.chances.has(c) {
			continue
		}
		e[c] = step
		w.pass(p.name, &z, &e, &up)
		e[c] = -step
		w.pass(p.name, &z, &e, &down)
		e[c] = 0
		f, _ := differ()
		for a, o := range outs[:m] {
			to[o].chance[c] = f[a]
		}
	}
	// From the factor's coordinates back to the terms.
	for a, o := range outs[:m] {
		for c := n - 1; c >= 0; c-- {
			if l[c][c] == 0 {
				continue
			}
			v := first[a][c]
			for r := c + 1; r < n; r++ {
				v -= float64(l[r][c] * to[o].slope[in[r]])
			}
			to[o].slope[in[c]] = v / l[c][c]
		}
	}
}

// factor is the lower Cholesky factor of the covariance of some terms. One that
// is known exactly, or that rounding made so, has an empty column.
func (s *State) factor(in []int, l *[mostFelt][mostFelt]float64) {
	for c, i := range in {
		d := s.Cov[at(i, i)]
		for k := range c {
			d -= float64(l[c][k] * l[c][k])
		}
		if !(d > 1e-14) {
			continue
		}
		root := math.Sqrt(d)
		l[c][c] = root
		for r := c + 1; r < len(in); r++ {
			v := s.Cov[at(in[r], i)]
			for k := range c {
				v -= float64(l[r][k] * l[c][k])
			}
			l[r][c] = v / root
		}
	}
}
