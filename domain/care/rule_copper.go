package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCopper = Rule{
	Meta: Meta{
		ID: "copper", Title: "Copper or zinc", System: Water, Evidence: "A",
		Why:    "Ten micrograms of copper are unsafe for shrimp and snails. The source is found first: more of the same water makes it worse.",
		Source: "LC50 31 µg/L Macrobrachium; effects on amphipods at 5 to 15 µg/L",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignHistory), q.Copper, q.Zinc),
	Decide: func(v *View) []Finding {
		if !v.believed("copper") && !v.Fact("metal") {
			return nil
		}
		f := Finding{State: High, Urgency: Today, Audience: ForShop, Say: say.S("find.copper")}
		if v.dyingShrimp() {
			f.Urgency = Now
		}
		if !v.Fact("metal") && !v.Fact("metal_source") {
			f.Say, f.State = say.S("find.copper.maybe"), Seen
			if !v.distressed() {
				f.Urgency, f.Wishes = ThisVisit, all(do(RankAnimals, "test_source"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"), ban(RankAnimals, "why.animals_first", "add_animals"))
				return v.caused("copper", f)
			}
		}
		f.Wishes = all(
			do(RankAnimals, "remove_source_cu", "carbon", "test_source", "tell_owner_urgent"),
			when(!v.Fact("metal_source") && !v.Has("new_metal_pipework"), do(RankAnimals, "wc_30_50", "wc_matched")),
			when(v.Fact("metal_source") || v.Has("new_metal_pipework"), all(do(RankAnimals, "ro_blend"), ban(RankAnimals, "why.same_water_again", "wc_30_50", "wc_50_repeat", "wc_large_once"))),
			ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper", "dose_micro"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "antibiotic", "dose_peroxide"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		return v.caused("copper", f)
	},
}
