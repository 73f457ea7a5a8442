package salt

import (
	"math"

	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Aim is one wish about the finished water.
type Aim struct {
	Of     Solute
	Value  float64 // mg/L; meq/L of alkalinity
	Weight float64 // 1 where it is left 0
	// AtMost makes Value a cap: what lies below costs nothing.
	AtMost bool
}

// Problem is to bring water from Base to the aims with the salts at hand.
type Problem struct {
	Base    Amounts // mg/L, meq/L
	Aims    []Aim
	Salts   []*Salt
	Animals bool // refuses ammonium salts and urea
}

// capWeight makes passing a cap by 1 % cost as much as missing an aim by 10 %.
const capWeight = 100

// Missed is an aim that these salts cannot meet.
type Missed struct {
	Aim
	Reached float64 // the nearest that can be had together with the other aims
}

// Recipe is the nearest that can be had.
type Recipe struct {
	PerLitre []float64 // mg per litre of each of the problem's salts, in their order
	Reached  Amounts   // mg/L, meq/L
	GH       quantity.DegreeGH
	KH       quantity.DegreeKH
	Missed   []Missed // empty where all aims are met
}

// Solve finds amounts m ≥ 0 of the salts so that
//
//	Σ aims  w·((Σ a·m + base - aim)/aim)²  +  Σ caps  100·w·(max(0, Σ a·m + base - cap)/cap)²
//
// is least. A cap is an equation with an unknown of its own that takes up what
// is left below it, so that all of it is one non-negative least-squares problem.
// What cannot be met is in Missed with the nearest that can, never hidden: an aim
// off by more than 2 % and 0.05 mg/L (0.005 meq/L).
func Solve(p Problem) (Recipe, error) {
	caps := 0
	for _, a := range p.Aims {
		if a.Of < 0 || a.Of >= SoluteCount {
			return Recipe{}, fault.New(fault.Invalid, "An aim names a solute that is not known.")
		}
		if err := num.Within("The aim for "+a.Of.String(), a.Value, 0, 5000, "mg/L"); err != nil {
			return Recipe{}, err
		}
		if a.AtMost {
			caps++
		}
	}
	if len(p.Salts) == 0 || len(p.Salts)+caps > num.MaxUnknowns || len(p.Aims) == 0 || len(p.Aims) > num.MaxRows {
		return Recipe{}, fault.New(fault.Invalid, "A recipe needs at least one salt and one aim, and at most %d salts and caps together.", num.MaxUnknowns)
	}
	for _, s := range p.Salts {
		if err := s.AllowedWith(p.Animals); err != nil {
			return Recipe{}, err
		}
	}
	var ls num.LeastSquares
	ls.Rows, ls.Cols = len(p.Aims), len(p.Salts)+caps
	slack := len(p.Salts)
	for i, a := range p.Aims {
		w := a.Weight
		if w == 0 {
			w = 1
		}
		if a.AtMost {
			w *= capWeight
		}
		f := math.Sqrt(w) / aimScale(a)
		for j, s := range p.Salts {
			ls.A[i][j] = f * perMg(s, a.Of)
		}
		ls.B[i] = f * (a.Value - p.Base[a.Of])
		if a.AtMost {
			ls.A[i][slack] = f
			slack++
		}
	}
	x, err := ls.Solve()
	if err != nil {
		return Recipe{}, err
	}
	r := Recipe{PerLitre: make([]float64, len(p.Salts)), Reached: p.Base}
	for j, s := range p.Salts {
		r.PerLitre[j] = x.X[j]
		for i := range r.Reached {
			r.Reached[i] += float64(x.X[j] * perMg(s, Solute(i)))
		}
	}
	r.GH, r.KH = r.Reached.Hardness()
	for _, a := range p.Aims {
		off := r.Reached[a.Of] - a.Value
		if !a.AtMost {
			off = math.Abs(off)
		}
		if off > max(0.02*a.Value, 0.05*aimFloor(a.Of)) {
			r.Missed = append(r.Missed, Missed{a, r.Reached[a.Of]})
		}
	}
	return r, nil
}

// perMg is mg (meq) of a solute per mg of salt.
func perMg(s *Salt, of Solute) float64 {
	if of == Alk {
		return s.Gives[of] / 1000
	}
	return s.Gives[of]
}

// aimScale makes misses of different solutes comparable: relative to the aim, or
// for aims near zero to what is hardly felt.
func aimScale(a Aim) float64 { return max(a.Value, aimFloor(a.Of)) }

// aimFloor is the unit of alkalinity and of the solutes that are counted in it.
func aimFloor(of Solute) float64 {
	switch of {
	case Alk, Fe, Mn, PO4:
		return 0.1
	case Zn, Cu, B, Mo:
		return 0.01
	}
	return 1
}

// For returns the grams for a volume, leaving out what is below a milligram.
func (r *Recipe) For(p Problem, v quantity.Litre) ([]Weighed, error) {
	if err := checkNet(v); err != nil {
		return nil, err
	}
	var out []Weighed
	for j, s := range p.Salts {
		if g := r.PerLitre[j] * float64(v) / 1000; g >= 0.001 {
			out = append(out, Weighed{s, quantity.Gram(g)})
		}
	}
	return out, nil
}

// HardnessAims turns the words in which change water is ordered into aims: a GH
// with a mass ratio of calcium to magnesium, and a KH.
func HardnessAims(gh quantity.DegreeGH, kh quantity.DegreeKH, caToMg float64) ([]Aim, error) {
	ca, mg, err := chem.CaMgFromGH(gh, caToMg)
	if err != nil {
		return nil, err
	}
	if err := num.Within("KH", float64(kh), 0, 60, "°d"); err != nil {
		return nil, err
	}
	return []Aim{{Of: Ca, Value: float64(ca)}, {Of: Mg, Value: float64(mg)}, {Of: Alk, Value: float64(chem.Alkalinity(kh))}}, nil
}
