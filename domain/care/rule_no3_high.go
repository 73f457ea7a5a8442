package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleNO3High = Rule{
	Meta: Meta{
		ID: "no3_high", Title: "Nitrate above what the animals are kept at", System: Water, Evidence: "B",
		Why:    "What the animals bear beats a dosing plan that does not limit the plants. A neglected tank is brought down in small steps, because its salts fall with it.",
		Source: "Camargo et al. 2005; the guides per group are practice",
	},
	Applies: func(v *View) Answer {
		if !v.Animals {
			return NotApplicable
		}
		if _, ok := v.Tank(q.Nitrate); !ok {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		r, _ := v.Tank(q.Nitrate)
		if !v.Fact("no3_over") {
			return v.aboveDosingBand(r)
		}
		hi := v.nitrateGuide().V
		f := Finding{State: High, Urgency: ThisVisit, Calc: v.held(r, hi, "guide of the animals kept, practice"), Say: say.S("find.no3_high", say.Reading("no3", q.Nitrate, r.Value), say.Num("limit", hi, q.MgL, 0))}
		if (Band{Hi: q.Some(hi)}).within(r.Interval) == Borderline {
			f.State, f.Urgency = Borderline, Routine
			f.Say.ID = "find.no3_high.borderline"
			f.Wishes = ban(RankAnimals, "why.nitrate_of_animals", "dose_no3", "more_of_all")
			return found(f)
		}
		pause := v.pauseDose(q.Nitrate, RankAnimals, hi)
		if pause != nil || v.dosedUnseen() {
			f.Say.ID = "find.no3_high.dosed"
		}
		if v.Fact("no3_as_source") && !v.Fact("tan_present") {
			// No change with that water comes below what it holds itself.
			f.Say, f.Urgency = say.S("find.no3_high.source", say.Reading("no3", q.Nitrate, r.Value), say.Num("limit", hi, q.MgL, 0), say.Reading("source", q.Nitrate, v.sourceNitrate().V)), Routine
		}
		f.Wishes = all(
			when(!v.Fact("no3_as_source"), v.nitrateChange()), pause,
			when(v.believed("overload") || v.Weight("overload") >= 0.15, do(RankAnimals, "feed_less")),
			when(r.Value > 1.5*hi, do(RankAnimals, "no_new_animals")),
			when(!v.sourceNitrate().OK, do(RankAnimals, "test_source")),
			when(v.Fact("source_no3_high"), do(RankAnimals, "ro_blend")),
			ban(RankAnimals, "why.nitrate_of_animals", "dose_no3", "more_of_all", "dose_nh4"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
			ban(RankAnimals, "why.bacteria_live_there", "media_replace_all"),
		)
		for _, a := range []string{"wc_30_50", "wc_many_small", "feed_less"} {
			f.Wishes = expecting(f.Wishes, a, &Expectation{Kind: q.Nitrate, Lo: 0, Hi: hi, Days: 28})
		}
		return found(f)
	},
}

// aboveDosingBand leaves nitrate out of the plan where the animals bear it and the
// profile's band is passed beyond doubt.
func (v *View) aboveDosingBand(r visit.Reading) []Finding {
	b := v.bandOf(q.Nitrate)
	if v.Doubtful(q.Nitrate) || b.within(r.Interval) != High {
		return nil
	}
	pause := v.pauseDose(q.Nitrate, RankPlants, b.Hi.V)
	if pause == nil {
		return nil
	}
	return found(Finding{State: High, Audience: ForShop, Calc: v.held(r, b.Hi.V, "this tank's profile"),
		Say: say.S("find.no3_high.profile", say.Reading("no3", q.Nitrate, r.Value), say.Num("limit", b.Hi.V, q.MgL, 0)), Wishes: pause})
}

// nitrateChange is the change that brings nitrate down: as ammonia allows it, in
// small steps where the tank was neglected or differs much from its source, or
// where KH is gone and nobody knows the ammonia.
func (v *View) nitrateChange() []Wish {
	_, tanRead := v.Tank(q.TAN)
	switch {
	case v.Fact("tan_present"):
		return v.changeWishes(v.changeUnderAmmonia("wc_30_50"), "why.ph_up_frees_ammonia")
	case v.Animals && v.khLost() && !tanRead:
		return v.testThenChange()
	case v.Has("changes_stopped", "changes_small_and_rare") || v.Fact("salts_differ"):
		return all(do(RankAnimals, "wc_many_small", "gh_change_slow"), ban(RankAnimals, "why.small_steps", "wc_large_once", "wc_50_repeat", "wc_30_50"))
	}
	return v.changeWishes(changeKind{Action: v.smallerFor("wc_30_50")}, "why.small_steps")
}

// expecting sets what an action ought to bring about.
func expecting(ws []Wish, action string, e *Expectation) []Wish {
	for i := range ws {
		if ws[i].Action == action && ws[i].Expect == nil {
			ws[i].Expect = e
		}
	}
	return ws
}
