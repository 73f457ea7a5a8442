package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleDisease = Rule{
	Meta: Meta{
		ID: "disease", Title: "Signs of disease", System: Animals, Evidence: "B",
		Why:    "What a fish has is for a vet to say, and so are medicine and dose. Ours is water, keeping apart, and clean tools.",
		Source: "Practice; prescription law",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("disease") {
			return nil
		}
		urgency := ThisVisit // one death now and then, and nothing to be seen
		for _, s := range v.Now.Signs {
			if g := groupOf(s.ID); distress[g] && g != "death" {
				urgency = Today
			}
		}
		return v.caused("disease", Finding{
			State: Seen, Urgency: urgency, Audience: ForShop, Say: say.S("find.disease"),
			Wishes: all(do(RankAnimals, "vet", "disinfect_tools", "quarantine_new_animals", "no_new_animals"), v.testNitrogen(),
				ban(RankAnimals, "why.vets_only", "antibiotic", "dose_copper"), ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide"),
				ban(RankAnimals, "why.animals_first", "add_animals")),
		})
	},
}
