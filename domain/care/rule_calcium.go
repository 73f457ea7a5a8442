package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCalcium = Rule{
	Meta: Meta{
		ID: "calcium", Title: "Plants short of calcium", System: Nutrients, Evidence: "A",
		Why:    "Calcium does not move in the plant: tips and youngest leaves twist and die. Water with GH 4 and more has enough.",
		Source: "Marschner",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Calcium, q.GH),
	Decide: func(v *View) []Finding {
		if !v.shown("ca_def") {
			return nil
		}
		bare := v.Has("pure_ro_without_salts") || v.Fact("source_ro_pure")
		return v.caused("ca_def", Finding{State: Low, Say: say.S("find.calcium"), Wishes: all(
			when(!bare, v.calciumWish(RankPlants, 1)), when(bare, all(v.calciumWish(RankPlants, 0.5), v.magnesiumWish(RankPlants, 0.5))),
			when(v.slowly(), do(RankAnimals, "gh_change_slow")),
			when(v.Has("pure_ro_without_salts"), do(RankAnimals, "test_source")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankAnimals, "why.small_steps", "kh_up_fast"),
			ban(RankPlants, "why.food_before_light", "light_up"),
		)})
	},
}
