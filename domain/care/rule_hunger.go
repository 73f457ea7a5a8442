package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleHunger = Rule{
	Meta: Meta{
		ID: "hunger", Title: "Animals too thin", System: Animals, Evidence: "C",
		Why:    "Hollow bellies come from too little or the wrong food, or from parasites; the feeding is looked at first.",
		Source: "Practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("starvation") {
			return nil
		}
		return v.caused("starvation", Finding{
			State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.hunger"),
			Wishes: all(when(v.Weight("disease") >= 0.15, do(RankAnimals, "vet")), do(RankAnimals, "no_new_animals"),
				ban(RankAnimals, "why.hungry_already", "no_feed", "feed_less"), ban(RankAnimals, "why.vets_only", "antibiotic")),
		})
	},
}
