package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleHardening = Rule{
	Meta: Meta{
		ID: "hardening", Title: "Salts left behind by evaporation", System: Water, Evidence: "A",
		Why:    "Only water evaporates. Topping off from the tap adds its salts each time; pure water does not. What has built up goes down in small steps.",
		Source: "Mass balance",
	},
	Applies: looks("", groups(visit.SignHistory, visit.SignOwner), q.GH, q.EC),
	Decide: func(v *View) []Finding {
		if !v.believed("evap_hardening") {
			return nil
		}
		return v.caused("evap_hardening", Finding{
			State: High, Urgency: Routine, Say: say.S("find.hardening"),
			Wishes: all(do(RankAnimals, "topoff_ro"), when(v.Animals, do(RankAnimals, "wc_many_small", "gh_change_slow")), when(!v.Animals, do(RankAnimals, "wc_30_50")),
				when(!v.Source(q.GH).OK, do(RankAnimals, "test_source")), ban(RankAnimals, "why.small_steps", "wc_large_once", "acid")),
		})
	},
}
