package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var rulePhosphorus = Rule{
	Meta: Meta{
		ID: "phosphorus", Title: "Plants short of phosphorus", System: Nutrients, Evidence: "A",
		Why:    "Phosphorus is mobile; old leaves go dark and dull, hard dots sit on them. A binder in the filter takes it away as fast as it is given.",
		Source: "Marschner; Gerloff 1973",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Phosphate),
	Decide: func(v *View) []Finding {
		if !v.shown("p_def") {
			return nil
		}
		return v.caused("p_def", Finding{State: Low, Say: say.S("find.phosphorus"), Wishes: all(
			[]Wish{v.phosphateWish()},
			when(v.Has("phosphate_binder_in_filter"), do(RankPlants, "remove_adsorber")),
			when(v.Has("hard_green_spots_on_glass"), do(RankLooks, "manual_removal")),
			when(v.Fact("dosing_doser"), do(RankPlants, "check_doser")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankPlants, "why.food_before_light", "light_up", "co2_up"),
		)})
	},
}

// phosphateWish raises phosphate to where plants find some.
func (v *View) phosphateWish() Wish {
	return Wish{Action: "dose_po4", Rank: RankPlants, Amount: v.saltFor("KH2PO4", "salt.kh2po4", q.Phosphate, v.riseAhead(q.Phosphate, 0.5)), Expect: &Expectation{Kind: q.Phosphate, Lo: 0.3, Hi: 1.5, Days: 14}}
}
