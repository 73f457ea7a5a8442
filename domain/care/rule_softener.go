package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleSoftener = Rule{
	Meta: Meta{
		ID: "softener", Title: "Softened household water", System: Water, Evidence: "A",
		Why:    "A softener trades hardness for sodium, 8.2 mg/L for each degree, and leaves the KH. The line before it is what plants and snails want.",
		Source: "Stoichiometry",
	},
	Applies: looks("", groups(visit.SignHistory), q.Sodium, q.GH),
	Decide: func(v *View) []Finding {
		if !v.believed("softener") && !v.Fact("softened") && !v.Has("softener_in_house") {
			return nil
		}
		return v.caused("softener", Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.softener"), Wishes: all(
			do(RankAnimals, "use_unsoftened", "test_source"), when(v.Animals, do(RankAnimals, "gh_change_slow")),
			ban(RankAnimals, "why.small_steps", "wc_large_once"), ban(RankAnimals, "why.sodium_enough", "salt_nacl"))})
	},
}
