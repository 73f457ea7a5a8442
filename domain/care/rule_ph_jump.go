package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var rulePHJump = Rule{
	Meta: Meta{
		ID: "ph_jump", Title: "pH or alkalinity lifted at once", System: Water, Evidence: "B",
		Why:    "A pH that swings with CO2 is daily routine; the same step by KH is not, and it frees ammonia.",
		Source: "Emerson et al. 1975; practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignHistory), q.Acidity),
	Decide: func(v *View) []Finding {
		if !v.believed("alk_ph_shock") {
			return nil
		}
		return v.caused("alk_ph_shock", Finding{
			State: High, Urgency: Today, Audience: ForShop, Say: say.S("find.ph_jump"),
			Wishes: all(do(RankAnimals, "test_nh3_no2", "wc_matched", "aerate_now"), when(v.Fact("bag_ph_rises"), do(RankAnimals, "acclimate_drip")),
				ban(RankAnimals, "why.small_steps", "wc_large_once", "kh_up_fast", "acid"), ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde")),
		})
	},
}
