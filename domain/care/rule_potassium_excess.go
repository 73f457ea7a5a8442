package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

var rulePotassiumExcess = Rule{
	Meta: Meta{
		ID: "potassium_excess", Title: "Potassium far above calcium and magnesium", System: Nutrients, Evidence: "C",
		Why:    "Much potassium keeps calcium and magnesium out of the plant: twisted tips although all is there. Stop it and thin it out.",
		Source: "Practice",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Potassium),
	Decide: func(v *View) []Finding {
		if !v.believed("k_excess_antagonism") {
			return nil
		}
		return v.caused("k_excess_antagonism", Finding{
			State: High, Urgency: Routine, Say: say.S("find.potassium_excess"),
			Wishes: all(do(RankPlants, "wc_30_50"), when(v.Plan.By != tank.DosedByOwner && v.Plan.By != tank.DosedByNobody, do(RankPlants, "check_doser")), v.pauseDose(q.Potassium, RankPlants, 20), when(v.Fact("mg_low"), v.magnesiumWish(RankPlants, 0.5)), when(v.Fact("ca_low"), v.calciumWish(RankPlants, 0.5)), when(v.slowly(), do(RankAnimals, "gh_change_slow")),
				ban(RankPlants, "why.stop_potassium", "dose_k", "more_of_all")),
		})
	},
}
