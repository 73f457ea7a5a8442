package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var rulePesticide = Rule{
	Meta: Meta{
		ID: "pesticide", Title: "Pesticide that came in with plants", System: Animals, Evidence: "B",
		Why:    "Plants grown for sale may carry insecticide that fish bear and shrimp do not.",
		Source: "Practice; neonicotinoids and pyrethroids are toxic to crustaceans at micrograms per litre",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignHistory)),
	Decide: func(v *View) []Finding {
		if !v.believed("pesticide_on_plants") {
			return nil
		}
		urgency := Today
		if v.dyingShrimp() {
			urgency = Now
		}
		return v.caused("pesticide_on_plants", Finding{
			State: Seen, Urgency: urgency, Audience: ForShop, Say: say.S("find.pesticide"),
			Wishes: all(told(RankAnimals, "wc_50_repeat", "instead.wash_out"), do(RankAnimals, "wc_matched", "carbon"), told(RankAnimals, "remove_debris", "instead.plants_out"), v.testNitrogen(), do(RankAnimals, "no_new_animals"),
				ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "antibiotic", "dose_copper", "dose_peroxide"), ban(RankAnimals, "why.animals_first", "add_animals")),
		})
	},
}
