package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAlgaeTufts = Rule{
	Meta: Meta{
		ID: "algae_tufts", Title: "Black or grey tufts", System: Plants, Evidence: "C",
		Why:    "Black tufts go with CO2 that comes and goes, grey branching ones with dirt, ammonia and flow. What is overgrown is cut off.",
		Source: "Raven and Beardall 1981; practice",
	},
	Applies: looks("", groups(visit.SignAlgae)),
	Decide: func(v *View) []Finding {
		if !v.Has("dark_tufts_on_leaf_edges", "dark_tufts_on_outlet", "grey_branching_tufts", "tufts_turn_red_in_alcohol") {
			return nil
		}
		return found(Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.algae_tufts"), Wishes: all(
			told(RankLooks, "trim_old", "instead.tufts_off"),
			when(v.Has("dark_tufts_on_outlet"), do(RankLooks, "manual_removal")),
			when(v.Has("grey_branching_tufts"), all(do(RankPlants, "reduce_organics", "improve_flow"), when(v.Animals, v.testNitrogen()))),
			ban(RankPlants, "why.steady_first", "light_up", "co2_up"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_copper", "dose_peroxide"), ban(RankAnimals, "why.dark_rots", "blackout"))})
	},
}
