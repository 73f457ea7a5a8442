package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleMissing = Rule{
	Meta: Meta{
		ID: "missing", Title: "Animals hurt or gone", System: Animals, Evidence: "C",
		Why:    "Jumping, hunting and fights leave torn fins, an empty place, or a fish on the floor; a body left in the tank is ammonia.",
		Source: "Practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("aggression_or_jump") {
			return nil
		}
		return v.caused("aggression_or_jump", Finding{
			State: Seen, Urgency: ThisVisit, Say: say.S("find.missing"),
			Wishes: all(when(v.Has("fish_missing"), all(do(RankAnimals, "remove_debris"), v.testNitrogen())), do(RankAnimals, "no_new_animals"),
				ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_copper")),
		})
	},
}
