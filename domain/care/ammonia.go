package care

import (
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// changeKind is the water change that ammonia allows.
type changeKind struct {
	Action string // wc_50_repeat, wc_30_50 or wc_many_small
	Blend  bool   // the source's KH is too high for it as it is
	Known  bool   // computed, not guessed
	After  float64
	Share  float64        // of the net water
	KH     q.Opt[float64] // °d, that the new water is blended to
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
	srcTAN := v.sourceTAN()
	at := func(w float64) (float64, bool) {
		a, err := chem.NH3NAfterChange(
			chem.Batch{TAN: q.MgNPerLitre(tan.Value), KH: q.DegreeKH(max(kh.Value, 0.01)), Temp: q.Celsius(t), Ionic: v.ionic()},
			chem.Batch{TAN: q.MgNPerLitre(srcTAN), KH: q.DegreeKH(source.V), Temp: q.Celsius(t), Ionic: chem.UsualIonic},
			q.Share(w), aeratedCO2)
		return float64(a.NH3N), err == nil
	}
	// The tank itself, aerated like the mixture: water that lifts nothing only
	// thins it out.
	now, _ := at(0)
	if v.NH3.OK {
		now = max(now, v.NH3.N.Value)
	}
	after, ok := at(share)
	switch {
	case !ok:
		return changeKind{Action: "wc_many_small", Blend: true}
	case after <= nh3Guide || after <= now:
		return changeKind{Action: big, Known: true, After: after, Share: share}
	}
	tank := chem.Batch{TAN: q.MgNPerLitre(tan.Value), KH: q.DegreeKH(max(kh.Value, 0.01)), Temp: q.Celsius(t), Ionic: v.ionic()}
	water := func(kh float64) chem.Batch {
		return chem.Batch{TAN: q.MgNPerLitre(srcTAN), KH: q.DegreeKH(kh), Temp: q.Celsius(t), Ionic: chem.UsualIonic}
	}
	small, ok := at(smallStep)
	c := changeKind{Action: "wc_many_small", Known: ok, After: small, Share: smallStep}
	if small <= nh3Guide {
		return c
	}
	// As it is the source lifts too much even in a small step: it is blended down.
	c.Blend = true
	for kh := source.V - 0.5; kh >= 0; kh -= 0.5 {
		if w, err := chem.ChangeForNH3N(tank, water(kh), nh3Guide, aeratedCO2); err == nil && w >= smallStep {
			c.KH = q.Some(kh)
			break
		}
	}
	return c
}

// sourceTAN is the ammonia in mg/L N that a change brings along: the source's own
// and what its chloramine frees when it is reduced.
func (v *View) sourceTAN() float64 {
	tan := v.Source(q.TAN).Or(0)
	total, ok := v.Now.Reading(q.TotalChlorine, visit.FromSource)
	if !ok {
		return tan
	}
	free, _ := v.Now.Reading(q.FreeChlorine, visit.FromSource)
	return tan + chloramineN*max(0, total.Value-free.Value)
}

// chloramineN is the nitrogen, in mg/L, that 1 mg/L of chloramine (as Cl2) frees
// when it is reduced: 14.007/70.906.
const chloramineN = 0.1975

// changeBringsAmmonia reports that the change water holds about as much ammonia as
// the tank: then a change takes nothing away.
func (v *View) changeBringsAmmonia() bool {
	tan, ok := v.Tank(q.TAN)
	return ok && v.sourceTAN() >= 0.9*tan.Value && v.sourceTAN() > 0
}

// smallStep is the share of the net water that is changed a day where ammonia,
// a lost KH or neglect allow no more.
const smallStep = 0.1

// lowKHStep is the share of the net water that lifts KH by half a degree at
// most, and never more than a small step.
func (v *View) lowKHStep() float64 {
	kh, ok := v.khNow()
	source := v.Source(q.KH)
	if !ok || !source.OK || source.V <= kh.Value {
		return smallStep
	}
	return min(smallStep, 0.5/(source.V-kh.Value))
}

// testThenChange is the order where KH is gone and nobody knows the ammonia:
// the test, and only after it so much water.
func (v *View) testThenChange() []Wish {
	change := Wish{Action: "wc_many_small", Rank: RankAnimals, Say: say.S("do.small.test_first")}
	if v.Net.OK {
		litres := v.lowKHStep() * float64(v.Net.V)
		change.Amount = []Amount{{"water", litres, q.L}}
		change.Say = say.S("do.small.test_first.litres", say.Num("litres", litres, q.L, litreDecimals(litres)))
	}
	return all(do(RankAnimals, "test_nh3_no2", "predict_nh3_before_change"), []Wish{change}, do(RankAnimals, "extra_visit"),
		ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast", "kh_up_slow", "wc_50_repeat", "wc_30_50", "wc_20", "wc_large_once"))
}

// litreDecimals is how finely litres are told: a bucket follows no tenth.
func litreDecimals(litres float64) int {
	if litres < 10 {
		return 1
	}
	return 0
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
	if v.changeBringsAmmonia() {
		return all(do(RankAnimals, "ro_blend", "dechlorinate"), ban(RankAnimals, "why.same_water_again", "wc_50_repeat", "wc_30_50", "wc_large_once"))
	}
	small := c.Action == "wc_many_small"
	return all([]Wish{v.changeWish(c)},
		when(small, do(RankAnimals, "predict_nh3_before_change")),
		when(small && c.Blend, []Wish{v.blendWish(c)}),
		when(small, ban(RankAnimals, why, "wc_50_repeat", "wc_30_50", "wc_large_once")),
		when(!small, do(RankAnimals, "wc_matched")))
}

// changeWish is the change with its litres where they follow from the ammonia.
func (v *View) changeWish(c changeKind) Wish {
	w := Wish{Action: c.Action, Rank: RankAnimals}
	switch {
	case v.Fact("tan_present"):
		w.Expect = &Expectation{Kind: q.TAN, Hi: tanFirstClass, Days: 7}
	case v.Fact("no2_present"):
		w.Expect = &Expectation{Kind: q.Nitrite, Hi: nitriteAct, Days: 7}
	}
	if c.Action != "wc_many_small" || !c.Known || !v.Net.OK {
		return w
	}
	litres := c.Share * float64(v.Net.V)
	w.Amount = []Amount{{"water", litres, q.L}}
	amount := say.Num("litres", litres, q.L, litreDecimals(litres))
	switch {
	case c.KH.OK:
		w.Say = say.S("do.small.blended", amount, say.Reading("kh", q.KH, c.KH.V), say.Num("limit", nh3Guide, q.MgL, 2))
	case !c.Blend:
		w.Say = say.S("do.small.known", amount, say.Num("after", c.After, q.MgL, 3))
	default:
		w.Say = say.S("do.small.pure", amount)
	}
	return w
}

// blendWish is pure water for the part of the change that would lift KH too far.
func (v *View) blendWish(c changeKind) Wish {
	w := Wish{Action: "ro_blend", Rank: RankAnimals}
	source := v.Source(q.KH)
	if c.KH.OK && v.Net.OK && source.OK && source.V > 0 {
		litres := c.Share * float64(v.Net.V)
		pure := litres * (1 - c.KH.V/source.V)
		w.Amount = []Amount{{"ro", pure, q.L}}
		w.Say = say.S("do.blend", say.Num("pure", pure, q.L, litreDecimals(pure)), say.Num("litres", litres, q.L, litreDecimals(litres)), say.Reading("kh", q.KH, c.KH.V))
	}
	return w
}

// matchWords say what the new water is matched to. Where KH is gone it is not
// lifted by "matching" a band.
func (v *View) matchWords() say.Sentence {
	t, okT := v.Tank(q.Temperature)
	t.Value = v.changeTemp(t.Value)
	kh, okKH := v.Tank(q.KH)
	gh, okGH := v.Tank(q.GH)
	switch {
	case v.Fact("kh_gone") && v.Animals && okKH:
		return say.S("do.match.low_kh", say.Reading("kh", q.KH, max(kh.Value, 0.5)))
	case v.Fact("tan_and_animals") && okT && okKH:
		return say.S("do.match.tan", say.Reading("temp", q.Temperature, t.Value), say.Reading("kh", q.KH, kh.Value))
	case v.Fact("tan_and_animals") && okT:
		return say.S("do.match.tan_kh_unread", say.Reading("temp", q.Temperature, t.Value))
	case okT && okGH && v.Fact("gh_low") && v.Animals:
		return say.S("do.match.richer", say.Reading("temp", q.Temperature, t.Value), say.Reading("gh", q.GH, gh.Value+1))
	case okT && okKH && okGH:
		return say.S("do.match.all", say.Reading("temp", q.Temperature, t.Value), say.Reading("gh", q.GH, gh.Value), say.Reading("kh", q.KH, kh.Value))
	case okT:
		return say.S("do.match.temp", say.Reading("temp", q.Temperature, t.Value))
	}
	return say.Sentence{}
}

// changeTemp is how warm the new water is for a tank of so many °C: like the
// tank, and two degrees towards its band where it stands outside.
func (v *View) changeTemp(t float64) float64 {
	const step = 2.0
	b := v.bandOf(q.Temperature)
	switch {
	case v.Fact("temp_high") && b.Hi.OK:
		return max(b.Hi.V, t-step)
	case v.Fact("temp_low") && b.Lo.OK:
		return min(b.Lo.V, t+step)
	}
	return t
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
