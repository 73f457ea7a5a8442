package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleSoil = Rule{
	Meta: Meta{
		ID: "soil", Title: "Ammonium from soil", System: Water, Evidence: "A",
		Why:    "Rich soil under water gives off ammonium for weeks, and again when it is dug over.",
		Source: "Ponnamperuma 1972",
	},
	Applies: func(v *View) Answer {
		if v.Fact("no_soil") {
			return NotApplicable
		}
		if _, ok := v.Tank(q.TAN); !ok && !v.Has("substrate_disturbed_recently") {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("soil_ammonium") {
			return nil
		}
		f := Finding{State: High, Urgency: ThisVisit, Say: say.S("find.soil")}
		f.Wishes = all(do(RankAnimals, "test_nh3_no2"),
			when(!v.Animals, do(RankAnimals, "no_new_animals")),
			when(v.Animals, do(RankAnimals, "feed_less", "no_new_animals", "extra_visit")),
			noMoreLoad(), ban(RankAnimals, "why.not_on_one_day", "filter_and_substrate_same_day"))
		return v.caused("soil_ammonium", f)
	},
}
