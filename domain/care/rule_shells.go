package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleShells = Rule{
	Meta: Meta{
		ID: "shells", Title: "Shells that dissolve", System: Animals, Evidence: "B",
		Why:    "Below calcite saturation shells go into solution, from the oldest part on.",
		Source: "Plummer and Busenberg 1982 for the saturation",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("shell_dissolution") || !v.Fact("kh_gone") && !v.Fact("gh_low") && !v.shown("shell_dissolution") {
			return nil // a pH below 7 alone is the CO2 of the day
		}
		risky := !v.Fact("tan_zero")
		return v.caused("shell_dissolution", Finding{
			State: Seen, Urgency: Routine, Say: say.S("find.shells"),
			Wishes: all(v.calciumWish(RankAnimals, 1), do(RankAnimals, "gh_change_slow"), when(!risky, do(RankAnimals, "kh_up_slow")), when(risky, v.testNitrogen()),
				ban(RankAnimals, "why.small_steps", "kh_up_fast", "wc_large_once"), ban(RankAnimals, "why.acid_eats_shells", "acid")),
		})
	},
}
