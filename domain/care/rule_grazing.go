package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleGrazing = Rule{
	Meta: Meta{
		ID: "grazing", Title: "Leaves that are eaten", System: Plants, Evidence: "C",
		Why:    "Clean-edged holes in leaves of any age are bites; nothing is lacking.",
		Source: "Practice",
	},
	Applies: looks("plants", groups(visit.SignPlants, visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("grazing") {
			return nil
		}
		return v.caused("grazing", Finding{
			State: Seen, Say: say.S("find.grazing"),
			Wishes: all(do(RankLooks, "explain_normal", "trim_old"), when(v.Has("heavy_feeding_recently", "snails_numerous", "owner_feeds_several_times_a_day"), do(RankLooks, "feed_less")), when(v.Has("snails_numerous"), told(RankLooks, "manual_removal", "instead.snails_out")), ban(RankPlants, "why.nothing_lacks", "more_of_all", "dose_k"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
				ban(RankAnimals, "why.animals_first", "add_animals")),
		})
	},
}
