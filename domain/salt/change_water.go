package salt

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
	"scaperound/domain/source"
)

// Order is change water as it is wanted.
type Order struct {
	Litres quantity.Litre
	GH     quantity.DegreeGH
	KH     quantity.DegreeKH
	// CaToMg is the mass ratio of calcium to magnesium of what is added; 3 where
	// it is left 0.
	CaToMg float64
	// Tap and RO are what the two waters hold (mg/L, alkalinity in meq/L). Where
	// HasTap is false only pure water is used.
	Tap, RO Amounts
	HasTap  bool
	Caps    []Aim // such as potassium, sodium or nitrate at most so much
	Salts   []*Salt
}

// ChangeWater is what to mix and to weigh.
type ChangeWater struct {
	TapShare quantity.Share
	Tap, RO  quantity.Litre
	Weigh    []Weighed
	Reached  Amounts
	GH       quantity.DegreeGH
	KH       quantity.DegreeKH
	Missed   []Missed
	Slow     bool // something needs hours: mix in a bin, never pour on animals
}

// UsualSalts are the ones for change water where a shop names none.
func UsualSalts() []*Salt {
	var out []*Salt
	for _, id := range [...]string{"CaSO4.2H2O", "MgSO4.7H2O", "KHCO3"} {
		s, _ := Find(id)
		out = append(out, s)
	}
	return out
}

// Mix finds the blend and the salts for an order.
//
// As much tap water is taken as passes neither GH, KH nor a cap; salts bring the
// rest by Solve. What cannot be met with these waters and salts is in Missed.
func Mix(o Order) (ChangeWater, error) {
	if err := num.Within("The change water", float64(o.Litres), 0.1, 1e6, "L"); err != nil {
		return ChangeWater{}, err
	}
	if err := num.Within("GH", float64(o.GH), 0, 60, "°d"); err != nil {
		return ChangeWater{}, err
	}
	if err := num.Within("KH", float64(o.KH), 0, 60, "°d"); err != nil {
		return ChangeWater{}, err
	}
	ratio := o.CaToMg
	if ratio == 0 {
		ratio = 3
	}
	out := ChangeWater{}
	base := o.RO
	if o.HasTap {
		tapGH, tapKH := o.Tap.Hardness()
		roGH, roKH := o.RO.Hardness()
		limits := [][3]float64{{float64(o.GH), float64(tapGH), float64(roGH)}, {float64(o.KH), float64(tapKH), float64(roKH)}}
		for _, c := range o.Caps {
			if c.AtMost {
				limits = append(limits, [3]float64{c.Value, o.Tap[c.Of], o.RO[c.Of]})
			}
		}
		x, err := source.TapFractionFor(limits...)
		if err != nil {
			return ChangeWater{}, err
		}
		out.TapShare = x
		base = o.RO.Add(-float64(x), &o.RO)
		base = base.Add(float64(x), &o.Tap)
	}
	out.Tap = quantity.Litre(float64(o.Litres) * float64(out.TapShare))
	out.RO = o.Litres - out.Tap

	salts := o.Salts
	if len(salts) == 0 {
		salts = UsualSalts()
	}
	// What is missing of GH is added in the wanted ratio; what the tap brings in
	// another ratio stays as it is.
	gh, _ := base.Hardness()
	ca, mg, err := chem.CaMgFromGH(max(0, o.GH-gh), ratio)
	if err != nil {
		return ChangeWater{}, err
	}
	p := Problem{Base: base, Salts: salts, Aims: append([]Aim{
		{Of: Ca, Value: base[Ca] + float64(ca)},
		{Of: Mg, Value: base[Mg] + float64(mg)},
		{Of: Alk, Value: float64(chem.Alkalinity(o.KH))},
	}, o.Caps...)}
	r, err := Solve(p)
	if err != nil {
		return ChangeWater{}, err
	}
	if out.Weigh, err = r.For(p, o.Litres); err != nil {
		return ChangeWater{}, err
	}
	for _, w := range out.Weigh {
		out.Slow = out.Slow || w.Salt.Has(SlowToDissolve)
	}
	out.Reached, out.GH, out.KH, out.Missed = r.Reached, r.GH, r.KH, r.Missed
	return out, nil
}
