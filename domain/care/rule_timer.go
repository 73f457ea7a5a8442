package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleTimer = Rule{
	Meta: Meta{
		ID: "timer", Title: "Timers and clocks", System: Gear, Evidence: "C",
		Why:    "After a power cut and after the change of the clocks timers are wrong; a solenoid that sticks lets CO2 run all night.",
		Source: "Practice",
	},
	Applies: looks("", groups(visit.SignGear, visit.SignHistory)),
	Decide: func(v *View) []Finding {
		if !v.believed("equipment_timer") && !v.Has("timer_clock_wrong", "solenoid_sticks") {
			return nil
		}
		words := say.S("find.timer")
		if v.Has("solenoid_sticks") && !v.Has("timer_clock_wrong") {
			words = say.S("find.timer.solenoid")
		}
		return v.caused("equipment_timer", Finding{State: Seen, Urgency: ThisVisit, Say: words, Wishes: all(
			do(RankAnimals, "check_timer"), when(v.Has("solenoid_sticks") && v.Injected && v.Animals, do(RankAnimals, "find_cause_before_co2_restart")),
			when(v.Fact("co2_at_night"), do(RankAnimals, "aerate_now")), ban(RankAnimals, "why.no_more_co2", "co2_up"))})
	},
}
