package salt

// Reason is why two salts must not share a bottle.
type Reason string

// Reasons, by what would happen in the concentrated solution.
const (
	Gypsum       Reason = "gypsum"
	Phosphate    Reason = "phosphate"
	Carbonates   Reason = "carbonate"
	IronPhosph   Reason = "iron_phosphate"
	Fizzes       Reason = "gas"
	AmmoniaGas   Reason = "ammonia_gas"
	ChelateAcid  Reason = "chelate_acid"
	ChelateMetal Reason = "chelate_metal"
)

// Text says the reason in a clause.
func (r Reason) Text() string {
	switch r {
	case Gypsum:
		return "calcium and sulfate fall out as gypsum above about 2.5 g/L."
	case Phosphate:
		return "calcium or magnesium falls out with phosphate."
	case Carbonates:
		return "calcium, magnesium or a metal falls out with carbonate."
	case IronPhosph:
		return "free iron, manganese, zinc or copper falls out with phosphate."
	case Fizzes:
		return "acid drives CO2 out of carbonates; a closed bottle can burst."
	case AmmoniaGas:
		return "carbonate drives ammonia gas out of ammonium salts."
	case ChelateAcid:
		return "acid breaks the iron chelate."
	case ChelateMetal:
		return "copper, zinc and manganese push the iron out of its chelate."
	}
	return string(r)
}

// Conflict reports whether two salts must not share a stock bottle, and why. It is
// symmetric. Rules hold for stock strength; the same salts meet in the tank at a
// thousandth of it without harm.
//
// Source: practice of fertigation (two-tank rule), solubility products.
func Conflict(a, b *Salt) (Reason, bool) {
	if r, bad := conflict(a, b); bad {
		return r, true
	}
	return conflict(b, a)
}

func conflict(a, b *Salt) (Reason, bool) {
	hard := a.Gives[Ca] > 0 || a.Gives[Mg] > 0
	switch {
	case a.Gives[Ca] > 0 && b.Gives[SO4] > 0 && a != b:
		return Gypsum, true
	case hard && b.Gives[PO4] > 0:
		return Phosphate, true
	case (hard || a.Has(FreeMetal)) && b.Has(Carbonate) && a != b:
		return Carbonates, true
	case a.Has(FreeMetal) && b.Gives[PO4] > 0:
		return IronPhosph, true
	case a.Has(Acidic) && b.Has(Carbonate):
		return Fizzes, true
	case a.Has(Ammonium) && b.Has(Carbonate):
		return AmmoniaGas, true
	case a.Has(Chelate) && b.Has(Acidic):
		return ChelateAcid, true
	case a.Has(Chelate) && b.Has(FreeMetal):
		return ChelateMetal, true
	}
	return "", false
}

// Bottles deals salts out to as few bottles as a simple rule finds, in the order
// given: each goes into the first bottle in which it has no conflict.
func Bottles(salts []*Salt) [][]*Salt {
	var out [][]*Salt
next:
	for _, s := range salts {
	bottle:
		for i, in := range out {
			for _, other := range in {
				if _, bad := Conflict(s, other); bad {
					continue bottle
				}
			}
			out[i] = append(out[i], s)
			continue next
		}
		out = append(out, []*Salt{s})
	}
	return out
}
