package care

import (
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// changeKind is the water change that ammonia allows.
type changeKind struct {
	Action string // wc_50_repeat, wc_30_50 or wc_many_small
	Blend  bool   // the source's KH is too high for it as it is
	Known  bool   // computed, not guessed
	After  float64
	Share  float64 // of the net water
}

// changeUnderAmmonia finds how much water may be changed: free ammonia after the
// change, aerated, stays at or below the guide, or at least falls. Where that
// cannot be worked out and the tank's KH is gone, small steps only.
func (v *View) changeUnderAmmonia(big string) changeKind {
	tan, ok := v.Tank(q.TAN)
	kh, okKH := v.Tank(q.KH)
	source := v.Source(q.KH)
	if !ok || !okKH || !source.OK {
		if v.Fact("kh_gone") || v.Fact("ph_crashed") || v.Has("changes_stopped", "changes_small_and_rare") {
			return changeKind{Action: "wc_many_small", Blend: true}
		}
		return changeKind{Action: big}
	}
	share := 0.5
	if big == "wc_30_50" {
		share = 0.4
	}
	t := v.temp().Value
	at := func(w float64) (float64, bool) {
		srcTAN := v.Source(q.TAN).Or(0)
		a, err := chem.NH3NAfterChange(
			chem.Batch{TAN: q.MgNPerLitre(tan.Value), KH: q.DegreeKH(max(kh.Value, 0.01)), Temp: q.Celsius(t), Ionic: v.ionic()},
			chem.Batch{TAN: q.MgNPerLitre(srcTAN), KH: q.DegreeKH(source.V), Temp: q.Celsius(t), Ionic: chem.UsualIonic},
			q.Share(w), aeratedCO2)
		return float64(a.NH3N), err == nil
	}
	now := 0.0
	if v.NH3.OK {
		now = v.NH3.N.Value
	}
	after, ok := at(share)
	switch {
	case !ok:
		return changeKind{Action: "wc_many_small", Blend: true}
	case after <= nh3Guide || after <= now:
		return changeKind{Action: big, Known: true, After: after, Share: share}
	}
	small, ok := at(0.1)
	return changeKind{Action: "wc_many_small", Known: ok, Blend: small > nh3Guide, After: small, Share: 0.1}
}

// aeratedCO2 is what a well aerated tank in a room holds.
const aeratedCO2 q.MgPerLitre = 1

// nh3Calc is the arithmetic behind a finding on free ammonia.
func (v *View) nh3Calc() *Calc {
	tan, _ := v.Tank(q.TAN)
	return &Calc{
		Name:  "NH3_N_mg_L",
		Args:  []Arg{{"TAN_mgN_L", tan.Value, q.MgL}, {"pH", v.NH3.PH.Value, q.PHUnit}, {"T_C", v.temp().Value, q.DegC}},
		Value: v.NH3.N.Value, Lo: v.NH3.N.Lo, Hi: v.NH3.N.Hi, Unit: q.MgL, Limit: q.Some(nh3Guide), Source: "Emerson et al. 1975; EIFAC 1970 for the guide",
	}
}

// changeWishes are the change that ammonia allows, with its amount, and what it
// forbids.
func (v *View) changeWishes(c changeKind, why string) []Wish {
	small := c.Action == "wc_many_small"
	return all(do(RankAnimals, c.Action),
		when(small, do(RankAnimals, "predict_nh3_before_change")),
		when(small && c.Blend, do(RankAnimals, "ro_blend")),
		when(small, ban(RankAnimals, why, "wc_50_repeat", "wc_30_50", "wc_large_once")),
		when(!small, do(RankAnimals, "wc_matched")))
}

// noMoreLoad are bans that hold whenever nitrogen is where it should not be.
func noMoreLoad() []Wish {
	return all(
		ban(RankAnimals, "why.animals_first", "add_animals"),
		ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"),
		ban(RankAnimals, "why.bacteria_live_there", "media_replace_all", "media_rinse_tap"),
		ban(RankAnimals, "why.dark_rots", "blackout"),
		ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
	)
}

var tanApplies = func(v *View) Answer {
	if !v.Animals {
		return NotApplicable
	}
	if _, ok := v.Read(q.TAN, visit.Late, visit.Before, visit.Morning); !ok {
		return Unmeasured
	}
	return Judged
}
