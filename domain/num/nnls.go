package num

import (
	"math"

	"scaperound/domain/fault"
)

// MaxUnknowns and MaxRows bound the small least-squares problems of the house,
// so that they are solved without asking for memory.
const (
	MaxUnknowns = 24
	MaxRows     = 40
)

// LeastSquares is a problem of rows × cols: minimise |A x - b|² with x ≥ 0.
type LeastSquares struct {
	Rows, Cols int
	A          [MaxRows][MaxUnknowns]float64
	B          [MaxRows]float64
}

// Solution of a LeastSquares problem.
type Solution struct {
	X        [MaxUnknowns]float64
	Residual float64 // |A x - b|
}

// Solve finds the non-negative least-squares solution by the active-set method.
// Columns are scaled to unit length first; each inner problem is solved by
// Cholesky's factors of the normal equations with two refinements by the
// residual, which makes up for what squaring the condition costs. Where columns
// depend on each other, the one that entered later stays at zero.
//
// Source: C. L. Lawson and R. J. Hanson (1974), Solving Least Squares Problems,
// chapter 23; Å. Björck (1987) for the corrected semi-normal equations.
func (p *LeastSquares) Solve() (Solution, error) {
	if p.Rows < 1 || p.Cols < 1 || p.Rows > MaxRows || p.Cols > MaxUnknowns {
		return Solution{}, fault.New(fault.Invalid, "This is too much at once: at most %d targets and %d salts.", MaxRows, MaxUnknowns)
	}
	var s solver
	if err := s.prepare(p); err != nil {
		return Solution{}, err
	}
	s.run()
	var out Solution
	for j := range p.Cols {
		if s.norm[j] > 0 {
			out.X[j] = s.x[j] / s.norm[j]
		}
	}
	sum := 0.0
	for i := range p.Rows {
		r := p.B[i]
		for j := range p.Cols {
			r -= float64(p.A[i][j] * out.X[j])
		}
		sum += float64(r * r)
	}
	out.Residual = math.Sqrt(sum)
	return out, nil
}

type solver struct {
	rows, cols int
	a          [MaxRows][MaxUnknowns]float64 // scaled columns
	b          [MaxRows]float64
	norm       [MaxUnknowns]float64
	gram       [MaxUnknowns][MaxUnknowns]float64
	x, z       [MaxUnknowns]float64
	set        [MaxUnknowns]int // the free unknowns, in the order they entered
	free       int
	chol       [MaxUnknowns][MaxUnknowns]float64
	barred     [MaxUnknowns]bool
	scale      float64
}

func (s *solver) prepare(p *LeastSquares) error {
	s.rows, s.cols, s.b = p.Rows, p.Cols, p.B
	for i := range s.rows {
		s.scale = max(s.scale, math.Abs(p.B[i]))
		if math.IsNaN(p.B[i]) || math.IsInf(p.B[i], 0) {
			return fault.New(fault.Invalid, "A target is not a number.")
		}
	}
	for j := range s.cols {
		sum := 0.0
		for i := range s.rows {
			sum += float64(p.A[i][j] * p.A[i][j])
		}
		n := math.Sqrt(sum)
		if math.IsNaN(n) || math.IsInf(n, 0) {
			return fault.New(fault.Invalid, "A composition is not a number.")
		}
		s.norm[j] = n
		if n == 0 {
			continue
		}
		for i := range s.rows {
			s.a[i][j] = p.A[i][j] / n
		}
	}
	for j := range s.cols {
		for k := range j + 1 {
			g := 0.0
			for i := range s.rows {
				g += float64(s.a[i][j] * s.a[i][k])
			}
			s.gram[j][k], s.gram[k][j] = g, g
		}
	}
	return nil
}

func (s *solver) run() {
	if s.scale == 0 {
		return
	}
	for range 8 * MaxUnknowns {
		r := s.residual(&s.x)
		best, at := 1e-11*s.scale, -1
		for j := range s.cols {
			if s.norm[j] == 0 || s.barred[j] || s.isFree(j) {
				continue
			}
			if w := s.slope(j, &r); w > best {
				best, at = w, j
			}
		}
		if at < 0 {
			return
		}
		s.set[s.free] = at
		s.free++
		if !s.factor() {
			s.free--
			s.barred[at] = true
			continue
		}
		s.inner()
		if s.x[at] == 0 && !s.isFree(at) {
			s.barred[at] = true // it cannot rise: rounding only
		} else {
			s.barred = [MaxUnknowns]bool{}
		}
	}
}

// inner solves for the free unknowns and lets go of those that fall to zero.
func (s *solver) inner() {
	for s.free > 0 {
		s.normal()
		step, ok := 1.0, true
		for f := range s.free {
			j := s.set[f]
			if s.z[j] <= 0 {
				ok = false
				if d := s.x[j] - s.z[j]; d > 0 {
					step = min(step, s.x[j]/d)
				} else {
					step = 0
				}
			}
		}
		if ok {
			for f := range s.free {
				s.x[s.set[f]] = s.z[s.set[f]]
			}
			return
		}
		kept := 0
		for f := range s.free {
			j := s.set[f]
			s.x[j] += float64(step * (s.z[j] - s.x[j]))
			if s.x[j] <= 1e-14*s.scale && s.z[j] <= 0 {
				s.x[j] = 0
				continue
			}
			s.set[kept] = j
			kept++
		}
		if kept == s.free { // rounding: drop the most negative
			worst := 0
			for f := range s.free {
				if s.z[s.set[f]] < s.z[s.set[worst]] {
					worst = f
				}
			}
			s.x[s.set[worst]] = 0
			copy(s.set[worst:s.free-1], s.set[worst+1:s.free])
			kept--
		}
		s.free = kept
		s.factor()
	}
}

func (s *solver) isFree(j int) bool {
	for f := range s.free {
		if s.set[f] == j {
			return true
		}
	}
	return false
}

func (s *solver) residual(x *[MaxUnknowns]float64) (r [MaxRows]float64) {
	for i := range s.rows {
		v := s.b[i]
		for f := range s.free {
			j := s.set[f]
			v -= float64(s.a[i][j] * x[j])
		}
		r[i] = v
	}
	return r
}

func (s *solver) slope(j int, r *[MaxRows]float64) float64 {
	w := 0.0
	for i := range s.rows {
		w += float64(s.a[i][j] * r[i])
	}
	return w
}

// factor writes Cholesky's factor of the free part of the Gram matrix; false
// where the newest column depends on the others.
func (s *solver) factor() bool {
	for f := range s.free {
		for g := range f + 1 {
			v := s.gram[s.set[f]][s.set[g]]
			for k := range g {
				v -= float64(s.chol[f][k] * s.chol[g][k])
			}
			if f == g {
				if v < 1e-12 {
					return false
				}
				s.chol[f][f] = math.Sqrt(v)
			} else {
				s.chol[f][g] = v / s.chol[g][g]
			}
		}
	}
	return true
}

// normal solves the free part into z and refines it twice.
func (s *solver) normal() {
	for f := range s.free {
		s.z[s.set[f]] = 0
	}
	for range 3 {
		r := s.residual(&s.z)
		var y [MaxUnknowns]float64
		for f := range s.free {
			v := s.slope(s.set[f], &r)
			for k := range f {
				v -= float64(s.chol[f][k] * y[k])
			}
			y[f] = v / s.chol[f][f]
		}
		for f := s.free - 1; f >= 0; f-- {
			v := y[f]
			for k := f + 1; k < s.free; k++ {
				v -= float64(s.chol[k][f] * y[k])
			}
			y[f] = v / s.chol[f][f]
			s.z[s.set[f]] += y[f]
		}
	}
}
