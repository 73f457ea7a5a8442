package num

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The best non-negative solution is the best among the plain least-squares
// solutions of all subsets of the unknowns that come out non-negative. gonum's QR
// solves them; for six unknowns these are 64.
func TestNNLSAgainstAllSubsets(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for trial := range 150 {
		var p LeastSquares
		p.Rows, p.Cols = 6+r.IntN(6), 2+r.IntN(5)
		for i := range p.Rows {
			for j := range p.Cols {
				if r.IntN(3) > 0 {
					p.A[i][j] = r.NormFloat64() * math.Pow(10, float64(j%3))
				}
			}
			p.B[i] = r.NormFloat64()
		}
		got, err := p.Solve()
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1)
		for set := 0; set < 1<<p.Cols; set++ {
			if res, ok := subset(&p, set); ok {
				best = min(best, res)
			}
		}
		if got.Residual > best*(1+1e-9)+1e-12 {
			t.Fatalf("trial %d: residual %v, the best is %v", trial, got.Residual, best)
		}
		for j := range p.Cols {
			if got.X[j] < 0 {
				t.Fatalf("trial %d: x%d = %v", trial, j, got.X[j])
			}
		}
	}
}

func subset(p *LeastSquares, set int) (residual float64, ok bool) {
	cols := []int{}
	for j := range p.Cols {
		if set>>j&1 == 1 {
			cols = append(cols, j)
		}
	}
	b := mat.NewVecDense(p.Rows, append([]float64{}, p.B[:p.Rows]...))
	if len(cols) == 0 {
		return mat.Norm(b, 2), true
	}
	a := mat.NewDense(p.Rows, len(cols), nil)
	for i := range p.Rows {
		for k, j := range cols {
			a.Set(i, k, p.A[i][j])
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var x mat.Dense
	if err := qr.SolveTo(&x, false, b); err != nil {
		return 0, false
	}
	for k := range cols {
		if x.At(k, 0) < 0 {
			return 0, false
		}
	}
	var res mat.Dense
	res.Mul(a, &x)
	res.Sub(&res, b)
	return mat.Norm(&res, 2), true
}

// At the solution the residual is at right angles to what is used, and adding of
// what is not used would not help (Karush, Kuhn and Tucker).
func TestNNLSMeetsItsConditions(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for trial := range 300 {
		var p LeastSquares
		p.Rows, p.Cols = 4+r.IntN(30), 1+r.IntN(20)
		for i := range p.Rows {
			for j := range p.Cols {
				p.A[i][j] = r.Float64()
			}
			p.B[i] = 3 * r.Float64()
		}
		if trial%3 == 0 && p.Cols > 2 { // a column twice
			for i := range p.Rows {
				p.A[i][1] = p.A[i][0]
			}
		}
		got, err := p.Solve()
		if err != nil {
			t.Fatal(err)
		}
		for j := range p.Cols {
			w, norm := 0.0, 0.0
			for i := range p.Rows {
				res := p.B[i]
				for k := range p.Cols {
					res -= p.A[i][k] * got.X[k]
				}
				w += p.A[i][j] * res
				norm += p.A[i][j] * p.A[i][j]
			}
			w /= math.Sqrt(norm)
			if w > 1e-8 || got.X[j] > 1e-9 && w < -1e-8 {
				t.Fatalf("trial %d: x%d = %v with slope %v", trial, j, got.X[j], w)
			}
		}
	}
}

func TestNNLSEdges(t *testing.T) {
	var p LeastSquares
	if _, err := p.Solve(); err == nil {
		t.Error("an empty problem is solved")
	}
	p.Rows, p.Cols = 2, 2
	if s, err := p.Solve(); err != nil || s.Residual != 0 {
		t.Errorf("all zero: %+v, %v", s.Residual, err)
	}
	p.B[0] = math.NaN()
	if _, err := p.Solve(); err == nil {
		t.Error("NaN is taken")
	}
	p.B[0], p.A[1][1] = 1, math.Inf(1)
	if _, err := p.Solve(); err == nil {
		t.Error("an infinite coefficient is taken")
	}
}

func FuzzNNLS(f *testing.F) {
	f.Add(uint64(1), 3, 4)
	f.Fuzz(func(t *testing.T, seed uint64, rows, cols int) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := LeastSquares{Rows: rows, Cols: cols}
		if rows > 0 && rows <= MaxRows && cols > 0 && cols <= MaxUnknowns {
			for i := range rows {
				for j := range cols {
					p.A[i][j] = float64(r.IntN(5)-2) * math.Pow(10, float64(r.IntN(9)-4))
				}
				p.B[i] = float64(r.IntN(5) - 2)
			}
		}
		s, err := p.Solve()
		if err != nil {
			return
		}
		for j := range cols {
			if !(s.X[j] >= 0) || math.IsInf(s.X[j], 0) {
				t.Fatalf("x%d = %v", j, s.X[j])
			}
		}
	})
}
