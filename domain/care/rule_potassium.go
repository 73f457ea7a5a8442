package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var rulePotassium = Rule{
	Meta: Meta{
		ID: "potassium", Title: "Plants short of potassium", System: Nutrients, Evidence: "A",
		Why:    "Potassium is mobile: margins and dots on old leaves that become pinholes. Clean-edged holes are bites.",
		Source: "Marschner",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Potassium),
	Decide: func(v *View) []Finding {
		if !v.shown("k_def") {
			return nil
		}
		return v.caused("k_def", Finding{State: Low, Say: say.S("find.potassium"), Wishes: all(
			[]Wish{{Action: "dose_k", Rank: RankPlants, Amount: v.saltFor("K2SO4", "salt.k2so4", q.Potassium, v.riseAhead(q.Potassium, 8)), Expect: &Expectation{Kind: q.Potassium, Lo: 8, Hi: 20, Days: 14}}},
			when(v.Fact("dosing_doser"), do(RankPlants, "check_doser")),
			when(v.Has("old_leaves_drop"), do(RankLooks, "trim_old")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankPlants, "why.food_before_light", "light_up", "co2_up"),
		)})
	},
}
