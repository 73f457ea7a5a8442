package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleTempShock = Rule{
	Meta: Meta{
		ID: "temp_shock", Title: "A change that chilled the tank", System: Water, Evidence: "B",
		Why:    "The fall of the tank counts, not that of the can: beyond 2 °C the animals pay. Chlorine read afterwards at zero does not clear a hose, it is used up by then.",
		Source: "Lim et al. 2003; practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignHistory, visit.SignRoom), q.Temperature),
	Decide: func(v *View) []Finding {
		if !v.Fact("temp_fell") && !v.believed("temp_shock") {
			return nil
		}
		f := Finding{State: Low, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.temp_shock")}
		if v.died() || v.Fact("temp_fell") {
			f.Urgency = Today
		}
		f.Wishes = all(
			do(RankAnimals, "heat_slow", "aerate_now", "check_heater"),
			when(v.Has("hose_straight_from_tap", "conditioner_forgotten"), do(RankAnimals, "dechlorinate")),
			when(!v.Fact("temp_fell"), do(RankAnimals, "wc_matched")),
			ban(RankAnimals, "why.slow_degrees", "heat_fast"),
			ban(RankAnimals, "why.small_steps", "wc_large_once"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "blackout", "dose_aldehyde"),
		)
		return v.caused("temp_shock", f)
	},
}
