package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleOverload = Rule{
	Meta: Meta{
		ID: "overload", Title: "More food or animals than the tank carries", System: Animals, Evidence: "B",
		Why:    "Food is the load: a gram in a hundred litres is about two milligrams of nitrate. Less food first; then changes, then fewer animals.",
		Source: "Summerfelt and Penne 2007; mass balance",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignOwner, visit.SignHistory), q.Nitrate, q.Feed),
	Decide: func(v *View) []Finding {
		if !v.believed("overload") {
			return nil
		}
		return v.caused("overload", Finding{
			State: High, Urgency: ThisVisit, Say: say.S("find.overload"),
			Wishes: all(do(RankAnimals, "feed_less", "no_new_animals"), when(v.Fact("no3_over") && !v.Has("changes_small_and_rare", "changes_stopped"), do(RankAnimals, "wc_30_50")),
				when(v.Has("snails_numerous", "surface_film", "mulm_in_corners"), do(RankLooks, "reduce_organics")), v.testNitrogen(),
				when(v.Has("smell_of_decay"), do(RankAnimals, "remove_debris")),
				ban(RankAnimals, "why.animals_first", "add_animals"), ban(RankAnimals, "why.bacteria_live_there", "media_replace_all"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper")),
		})
	},
}
