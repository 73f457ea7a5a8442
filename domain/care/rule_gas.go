package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleGas = Rule{
	Meta: Meta{
		ID: "gas", Title: "Water with too much gas", System: Water, Evidence: "B",
		Why:    "Cold mains under pressure holds more gas than warm water can; the surplus comes out inside the animals. Half of cold mains reheated is above 110 %.",
		Source: "Colt 2006; solubility of gases",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignWater, visit.SignHistory), q.GasTotal),
	Decide: func(v *View) []Finding {
		if !v.believed("gas_supersaturation") {
			return nil
		}
		return v.caused("gas_supersaturation", Finding{
			State: High, Urgency: Today, Audience: ForShop, Say: say.S("find.gas"),
			Wishes: all(do(RankAnimals, "aerate_now", "wc_matched"), ban(RankAnimals, "why.gas_first", "wc_large_once"),
				ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "blackout")),
		})
	},
}
