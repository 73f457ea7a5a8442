package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleBreath = Rule{
	Meta: Meta{
		ID: "breath", Title: "Animals short of breath", System: Animals, Evidence: "A",
		Why:    "Behaviour acts at once, whatever a number says: air in, CO2 off where it is injected and may be the reason. CO2 stays off until the reason is known. Stopping CO2 lifts the pH, so with ammonia there or not known the next lines are its test and matched water of low pH.",
		Source: "Fivelstad et al. 2018; Benson and Krause 1984; Emerson et al. 1975; practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		distress, onlyBefore := v.breathless()
		if !distress {
			return nil
		}
		f := Finding{State: Seen, Urgency: Now, Say: say.S("find.breath")}
		stopCO2 := v.Injected && !v.co2Meaningless() && (!onlyBefore && (v.Weight("co2_excess") >= 0.15 || !v.CO2.OK) || v.Fact("co2_at_night"))
		tanOpen := !v.Fact("tan_zero")
		f.Wishes = all(
			do(RankAnimals, "aerate_now"),
			v.testNitrogen(),
			when(stopCO2, do(RankAnimals, "co2_off_now", "find_cause_before_co2_restart", "check_timer")),
			when(stopCO2 && tanOpen, do(RankAnimals, "wc_matched")),
			when(stopCO2 && v.Fact("tan_present"), do(RankAnimals, "wc_30_50")),
			when(onlyBefore, do(RankAnimals, "measure_dawn_o2")),
			do(RankAnimals, "extra_visit"),
			ban(RankAnimals, "why.no_more_co2", "co2_up", "co2_retune_slow"),
			ban(RankAnimals, "why.light_makes_oxygen", "light_down", "blackout"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_peroxide", "dose_copper"),
			ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast", "kh_up_slow"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		if stopCO2 {
			f.Say = say.S("find.breath.co2")
		}
		return found(f)
	},
}
