package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleBiocide = Rule{
	Meta: Meta{
		ID: "biocide", Title: "Too much of an algae killer", System: Water, Evidence: "A",
		Why:    "Aldehydes harm shrimp and mosses at levels that leave many algae alive. Out with it, air in, and no second agent on top.",
		Source: "Pereira et al. 2014; Sano et al. 2005",
	},
	Applies: looks("", groups(visit.SignHistory, visit.SignPlants)),
	Decide: func(v *View) []Finding {
		if !v.believed("biocide") {
			return nil
		}
		f := Finding{State: Seen, Urgency: Today, Audience: ForShop, Say: say.S("find.biocide")}
		if distress, _ := v.breathless(); distress || v.dyingShrimp() {
			f.Urgency = Now
		}
		f.Wishes = all(
			do(RankAnimals, "aerate_now", "wc_50_repeat", "wc_matched", "carbon", "remove_debris"), v.testNitrogen(),
			ban(RankAnimals, "why.no_second_agent", "dose_aldehyde", "dose_peroxide", "dose_copper", "antibiotic"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
			ban(RankPlants, "why.wait_for_growth", "light_up", "replant", "more_of_all"),
		)
		return v.caused("biocide", f)
	},
}
