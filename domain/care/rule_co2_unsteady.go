package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCO2Unsteady = Rule{
	Meta: Meta{
		ID: "co2_unsteady", Title: "CO2 up and down", System: CO2, Evidence: "C",
		Why:    "Red algae live on CO2 alone and do well where it comes and goes. Steady CO2 begins with the timer and the scale, not with more of it.",
		Source: "Raven and Beardall 1981 for the algae; that swings feed them is practice",
	},
	Applies: looks("injected", groups(visit.SignAlgae, visit.SignGear, visit.SignPlants, visit.SignHistory)),
	Decide: func(v *View) []Finding {
		if !v.believed("co2_unstable") && !v.Has("co2_varies_day_to_day", "cylinder_empty_for_a_week") && !v.Fact("co2_swing") {
			return nil
		}
		return v.caused("co2_unstable", Finding{
			State: Seen, Urgency: ThisVisit, Say: say.S("find.co2_unsteady"),
			Wishes: all(
				do(RankPlants, "check_timer", "weigh_cylinder"), when(!v.co2Leads(), do(RankPlants, "co2_start_earlier_steady")),
				ban(RankPlants, "why.steady_first", "co2_up", "light_up"),
				ban(RankAnimals, "why.not_a_cure", "blackout", "dose_aldehyde", "dose_copper", "dose_peroxide"),
				ban(RankAnimals, "why.bacteria_live_there", "media_replace_all"),
			),
		})
	},
}
