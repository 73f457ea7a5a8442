package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleTrace = Rule{
	Meta: Meta{
		ID: "trace", Title: "Plants short of a trace element", System: Nutrients, Evidence: "B",
		Why:    "Where more and more iron does nothing it is another trace element. A balanced mix, and no single one by guess: copper kills shrimp.",
		Source: "Marschner",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Iron),
	Decide: func(v *View) []Finding {
		if !v.shown("micro_def") {
			return nil
		}
		return v.caused("micro_def", Finding{State: Low, Say: say.S("find.trace"), Wishes: all(
			[]Wish{{Action: "dose_micro", Rank: RankPlants}},
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			when(v.Has("iron_raised_without_effect"), ban(RankPlants, "why.iron_did_nothing", "dose_fe")),
		)})
	},
}
