package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleFilterStopped = Rule{
	Meta: Meta{
		ID: "filter_stopped", Title: "A filter that stood still", System: Filter, Evidence: "B",
		Why:    "Beyond two to four hours without flow a filter turns foul: it is emptied and rinsed in tank water before it runs again, nobody feeds, and ammonia and nitrite are read in a day and in two.",
		Source: "Practice",
	},
	Applies: looks("", groups(visit.SignGear, visit.SignHistory)),
	Decide: func(v *View) []Finding {
		stood := v.Has("filter_not_running", "filter_stood_still_recently")
		if !stood && !v.Has("power_off_recently", "breaker_tripped") && !v.Fact("since_power") {
			return nil
		}
		f := Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.filter_stopped.power")}
		f.Wishes = all(do(RankAnimals, "check_timer", "check_heater"), when(v.Animals && !v.nitrogenKnown(), told(RankAnimals, "test_nh3_no2", "instead.nitrogen_twice")))
		if stood {
			f.Urgency, f.Say = Today, say.S("find.filter_stopped")
			if v.Has("filter_not_running") && v.Animals {
				f.Urgency = Now
			}
			f.Wishes = all(f.Wishes,
				do(RankAnimals, "rinse_stagnant_filter_before_restart"), when(v.nitrogenKnown(), do(RankAnimals, "test_nh3_no2")),
				when(!v.nitrogenKnown(), told(RankAnimals, "test_nh3_no2", "instead.nitrogen_twice")),
				when(v.Animals, do(RankAnimals, "aerate_now", "no_feed", "extra_visit", "no_new_animals")),
				noMoreLoad())
		}
		return v.caused("power_cut", f)
	},
}
