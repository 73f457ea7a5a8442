package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleMoult = Rule{
	Meta: Meta{
		ID: "moult", Title: "Trouble with moulting", System: Animals, Evidence: "C",
		Why:    "Shrimp moult at a change of salts and need calcium and magnesium to harden: steady, matched water and slow steps.",
		Source: "Practice",
	},
	Applies: looks("shrimp", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("moult_trouble") {
			return nil
		}
		return v.caused("moult_trouble", Finding{
			State: Seen, Urgency: ThisVisit, Say: say.S("find.moult"),
			Wishes: all(do(RankAnimals, "wc_matched", "gh_change_slow"), when(v.Fact("gh_low"), all(v.calciumWish(RankAnimals, 0.5), v.magnesiumWish(RankAnimals, 0.5))), v.testNitrogen(),
				ban(RankAnimals, "why.small_steps", "wc_large_once", "kh_up_fast"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper")),
		})
	},
}
