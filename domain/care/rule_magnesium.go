package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleMagnesium = Rule{
	Meta: Meta{
		ID: "magnesium", Title: "Plants short of magnesium", System: Nutrients, Evidence: "A",
		Why:    "Magnesium is mobile: old leaves yellow between green veins. It raises GH, so shrimp get it in small steps.",
		Source: "Marschner",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Magnesium),
	Decide: func(v *View) []Finding {
		if !v.shown("mg_def") {
			return nil
		}
		return v.caused("mg_def", Finding{State: Low, Say: say.S("find.magnesium"), Wishes: all(
			v.magnesiumWish(RankPlants, 1),
			when(v.slowly(), do(RankAnimals, "gh_change_slow")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankAnimals, "why.small_steps", "kh_up_fast"),
		)})
	},
}
