package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleOrganics = Rule{
	Meta: Meta{
		ID: "organics", Title: "Dirt and decay", System: Filter, Evidence: "C",
		Why:    "Films of blue-green, tufts and smells go with dirt in still corners. Out with the dirt, flow in; filter and deep ground never on one day.",
		Source: "Smith 1983 for blue-greens; practice",
	},
	Applies: looks("", groups(visit.SignWater, visit.SignAlgae)),
	Decide: func(v *View) []Finding {
		if !v.believed("organics") {
			return nil
		}
		f := Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.organics")}
		f.Wishes = all(
			do(RankPlants, "remove_debris", "reduce_organics"),
			when(v.Fact("flow_low"), do(RankPlants, "filter_clean_gentle")),
			when(v.Has("far_plants_not_moving", "mulm_in_corners", "blue_green_film"), do(RankPlants, "improve_flow")),
			when(v.Has("heavy_feeding_recently", "owner_feeds_several_times_a_day", "surface_film"), do(RankPlants, "feed_less")),
			when(v.Animals && v.Has("smell_of_decay", "smell_rotten_eggs"), v.testNitrogen()),
			ban(RankAnimals, "why.not_on_one_day", "filter_and_substrate_same_day", "media_replace_all", "media_rinse_tap"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_peroxide", "dose_copper"), ban(RankAnimals, "why.dark_rots", "blackout"),
		)
		return v.caused("organics", f)
	},
}
