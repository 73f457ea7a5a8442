package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleChlorine = Rule{
	Meta: Meta{
		ID: "chlorine", Title: "Chlorine or chloramine", System: Water, Evidence: "A",
		Why:    "Free chlorine of a few hundredths kills; it reacts away, so a zero afterwards proves nothing. Chloramine leaves ammonia behind when it is broken.",
		Source: "US EPA 1984 criteria (19 µg/L acute, 11 µg/L chronic); stoichiometry",
	},
	Applies: looks("", groups(visit.SignHistory, visit.SignAnimals), q.FreeChlorine, q.TotalChlorine),
	Decide: func(v *View) []Finding {
		if !v.believed("chlorine") && !v.Fact("chlorine_in_tank") {
			return nil
		}
		f := Finding{State: High, Urgency: Today, Audience: ForShop, Say: say.S("find.chlorine")}
		acute := v.Fact("chlorine_in_tank") || v.Has("deaths_within_an_hour_of_change")
		if !v.Fact("chlorine_in_tank") {
			f.Say, f.State = say.S("find.chlorine.maybe"), Seen
		}
		forgotten := v.Has("conditioner_forgotten")
		if !acute && !forgotten && !v.distressed() {
			if v.Fact("chlorine_in_source") {
				f.Say = say.S("find.chlorine.source")
			}
			f.Urgency, f.Wishes = ThisVisit, all(do(RankAnimals, "dechlorinate", "test_source"),
				when(v.Animals && v.Has("utility_announced_chloramine"), v.testNitrogen()))
			return v.caused("chlorine", f)
		}
		if !v.Animals {
			f.Urgency = ThisVisit
		} else if acute {
			f.Urgency = Now
		}
		f.Wishes = all(
			do(RankAnimals, "dechlorinate", "test_source"),
			when(v.Animals, do(RankAnimals, "aerate_now", "tell_owner_urgent")),
			when(v.Animals, v.testNitrogen()),
			when(v.Has("utility_announced_chloramine"), do(RankAnimals, "test_nh3_no2")),
			ban(RankAnimals, "why.same_water_again", "wc_large_once", "wc_50_repeat"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "blackout"),
			ban(RankAnimals, "why.bacteria_live_there", "media_replace_all", "media_rinse_tap"),
		)
		return v.caused("chlorine", f)
	},
}
