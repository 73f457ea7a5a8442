package care

import (
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/tank"
)

// waterPlan is what the new water is made of.
type waterPlan struct {
	GH, KH q.Opt[float64] // °d aimed at, where salts or a blend are called for
	RO     q.Opt[q.Litre]
	Weigh  []Amount
}

// pureBased reports whether the change water is made from pure water, so that
// its hardness is ours to choose.
func (v *View) pureBased() bool {
	s := v.Setup.Source
	return s.OK && (s.V.Kind == tank.RO || s.V.Kind == tank.ROWithSalts) || v.Setup.ROShare >= 0.95
}

// planWater finds what to weigh so that the new water fits the tank: pure water
// is brought to the middle of the band, other water up to its lower end where
// the source is below it. A blend of tap and pure water whose share nobody fixed
// is mixed by hardness. KH is not lifted while ammonia is there, or may be.
func planWater(v *View, litres q.Litre) waterPlan {
	var p waterPlan
	pure, bare := v.pureBased(), tank.Source{}
	if v.Setup.Source.OK {
		bare = v.Setup.Source.V
	}
	_, tanRead := v.Tank(q.TAN)
	risky := v.Animals && (v.Fact("tan_and_animals") || v.khLost() && !tanRead)
	aim := func(k q.Kind) (want q.Opt[float64], have q.Opt[float64]) {
		b, s := v.bandOf(k), v.Source(k)
		if pure && !s.OK {
			s = q.Some(0.0)
		}
		if !b.Lo.OK || !s.OK {
			return q.Opt[float64]{}, s
		}
		want = b.Lo
		if pure && b.Hi.OK {
			want = q.Some((b.Lo.V + b.Hi.V) / 2)
		}
		return q.Some(v.borne(k, want.V, pure, litres)), s
	}
	gh, haveGH := aim(q.GH)
	kh, haveKH := aim(q.KH)
	if risky {
		kh.OK = false
	}
	tapGH, tapKH := bare.Get(q.GH), bare.Get(q.KH)
	if bare.Kind == tank.Blend && v.Setup.ROShare == 0 && tapGH.OK && tapKH.OK {
		return blended(v, litres, tapGH.V, tapKH.V)
	}
	var riseGH, riseKH float64
	if gh.OK && gh.V-haveGH.V >= leastRise {
		riseGH, p.GH = gh.V-haveGH.V, gh
	}
	if kh.OK && kh.V-haveKH.V >= leastRise {
		riseKH, p.KH = kh.V-haveKH.V, kh
	}
	p.Weigh = hardnessSalts(litres, riseGH, riseKH)
	return p
}

// borne is the hardness of new water, °d, that animals bear on the way to the one
// that is wanted. Water of our own making leaves a tank that is within its band as
// it is; else the whole tank moves by no more than a day's step.
func (v *View) borne(k q.Kind, want float64, ours bool, litres q.Litre) float64 {
	r, ok := v.Tank(k)
	if !ok || !v.Animals || !v.Net.OK || litres <= 0 || v.Doubtful(k) {
		return want
	}
	b := v.bandOf(k)
	if ours && b.Lo.OK && b.Hi.OK && r.Value >= b.Lo.V && r.Value <= b.Hi.V {
		return r.Value
	}
	reach := v.dayStep(k, r.Value) * float64(v.Net.V/litres)
	return min(max(want, r.Value-reach), r.Value+reach)
}

// dayStep is by how much hardness may move in a day, °d: a degree of KH; of GH a
// degree, or 15 % where that is more, at most two; a tenth for shrimp (practice).
func (v *View) dayStep(k q.Kind, now float64) float64 {
	switch {
	case v.Shrimp:
		return max(0.2, 0.1*now)
	case k == q.KH:
		return 1
	}
	return min(2, max(1, 0.15*now))
}

// blended takes as much tap water as passes neither GH nor KH in the middle of
// their bands, and salts for the rest.
func blended(v *View, litres q.Litre, tapGH, tapKH float64) waterPlan {
	middle := func(k q.Kind, most float64) float64 {
		b := v.bandOf(k)
		if !b.Hi.OK {
			return most
		}
		return v.borne(k, (b.Lo.Or(0)+b.Hi.V)/2, true, litres)
	}
	gh, kh := middle(q.GH, tapGH), middle(q.KH, tapKH)
	ca, mg, err := chem.CaMgFromGH(q.DegreeGH(tapGH), 4)
	if err != nil {
		return waterPlan{}
	}
	tap := salt.Amounts{salt.Ca: float64(ca), salt.Mg: float64(mg), salt.Alk: float64(chem.Alkalinity(q.DegreeKH(tapKH)))}
	w, err := salt.Mix(salt.Order{Litres: litres, GH: q.DegreeGH(gh), KH: q.DegreeKH(kh), Tap: tap, HasTap: true})
	if err != nil {
		return waterPlan{}
	}
	return waterPlan{GH: q.Some(gh), KH: q.Some(kh), RO: q.Some(w.RO), Weigh: weighed(w.Weigh)}
}

// leastWeighed is the least that a shop's scale weighs with sense.
const leastWeighed q.Gram = 0.1

// leastRise is the step of hardness, in °d, below which nobody weighs anything.
const leastRise = 0.3

// forHardness is what raises the tank's own hardness.
func (v *View) forHardness(gh, kh float64) []Amount { return hardnessSalts(v.Net.V, gh, kh) }

var saltWords = map[string]string{"CaSO4.2H2O": "salt.gypsum", "MgSO4.7H2O": "salt.epsom", "KHCO3": "salt.khco3"}

// hardnessSalts weighs gypsum and Epsom salt (calcium to magnesium 3 to 1 by
// mass) and potassium bicarbonate for a rise of GH and KH.
func hardnessSalts(litres q.Litre, gh, kh float64) []Amount {
	if litres <= 0 || gh <= 0 && kh <= 0 {
		return nil
	}
	w, err := salt.Mix(salt.Order{Litres: litres, GH: q.DegreeGH(gh), KH: q.DegreeKH(kh)})
	if err != nil {
		return nil
	}
	return weighed(w.Weigh)
}

func weighed(ws []salt.Weighed) []Amount {
	var out []Amount
	for _, x := range ws {
		if x.Mass >= leastWeighed {
			out = append(out, Amount{saltWords[x.Salt.ID], float64(x.Mass), q.Gr})
		}
	}
	return out
}
