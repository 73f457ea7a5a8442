package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleSun = Rule{
	Meta: Meta{
		ID: "sun", Title: "Sun on the tank", System: Light, Evidence: "C",
		Why:    "An hour of sun is more light than the lamp gives in a day, and it warms the water.",
		Source: "Practice",
	},
	Applies: looks("", groups(visit.SignRoom)),
	Decide: func(v *View) []Finding {
		if !v.believed("direct_sun") {
			return nil
		}
		return v.caused("direct_sun", Finding{
			State: Seen, Urgency: ThisVisit, Say: say.S("find.sun"),
			Wishes: all([]Wish{{Action: "light_down", Rank: RankPlants, Say: say.S("do.shade")}}, when(v.Has("water_green") && v.Animals, do(RankAnimals, "test_nh3_no2")), ban(RankPlants, "why.light_feeds_algae", "light_up"),
				ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide"), ban(RankAnimals, "why.dark_rots", "blackout")),
		})
	},
}
