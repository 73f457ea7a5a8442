package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAcclimation = Rule{
	Meta: Meta{
		ID: "acclimation", Title: "Leaves lost after planting", System: Plants, Evidence: "B",
		Why:    "Leaves grown in air go; leaves for water come. Firm roots: wait. The rotting leaves come out, and where fish live nitrite is read.",
		Source: "Maberly and Spence 1989; practice",
	},
	Applies: looks("plants", groups(visit.SignPlants)),
	Decide: func(v *View) []Finding {
		if !v.believed("acclimation") {
			return nil
		}
		return v.caused("acclimation", Finding{
			State: Seen, Say: say.S("find.acclimation"),
			Wishes: all(do(RankPlants, "wait", "explain_normal", "remove_debris"), when(v.Animals, v.testNitrogen()),
				ban(RankPlants, "why.wait_for_growth", "replant", "light_up", "more_of_all", "co2_up"), ban(RankAnimals, "why.animals_first", "add_animals"),
				ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide")),
		})
	},
}
