package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleNewcomers = Rule{
	Meta: Meta{
		ID: "newcomers", Title: "New animals and their water", System: Animals, Evidence: "B",
		Why:    "Salts, pH and temperature of the bag and the tank may be far apart; hours of drip, not minutes.",
		Source: "Lim et al. 2003; practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignHistory), q.EC, q.TDS, q.GH),
	Decide: func(v *View) []Finding {
		chilled := v.believed("temp_shock") && v.Fact("bag_temp_differs")
		if !v.believed("osmotic_shock") && !chilled {
			return nil
		}
		bag := chilled || v.Fact("bag_salts_differ") || v.Has("poured_in_without_drip", "deaths_of_new_arrivals")
		poured := v.Has("poured_in_without_drip")
		f := Finding{State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.newcomers")}
		cause := "osmotic_shock"
		if chilled && v.Weight("temp_shock") > v.Weight(cause) {
			cause, f.Say = "temp_shock", say.S("find.newcomers.temp")
		}
		if v.died() {
			f.Urgency = Today
		}
		f.Wishes = all(
			when(bag, do(RankAnimals, "quarantine_new_animals")), when(bag && !poured, do(RankAnimals, "acclimate_drip")), when(bag && poured, told(RankAnimals, "acclimate_drip", "instead.drip_next_time")),
			when(!bag, do(RankAnimals, "wc_matched", "gh_change_slow", "test_source")),
			v.testNitrogen(), do(RankAnimals, "no_new_animals"),
			ban(RankAnimals, "why.small_steps", "wc_large_once", "kh_up_fast"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_copper", "dose_aldehyde"),
		)
		return v.caused(cause, f)
	},
}
