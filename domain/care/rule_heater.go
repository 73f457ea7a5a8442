package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleHeater = Rule{
	Meta: Meta{
		ID: "heater", Title: "Heater that fails", System: Gear, Evidence: "B",
		Why:    "A heater that sticks on cooks, one that stays off chills; both are found by the lamp and a thermometer. The plug comes out before a hand goes in.",
		Source: "Practice; IEC 60335-2-55 for aquarium appliances",
	},
	Applies: looks("", groups(visit.SignGear), q.Temperature, q.TempMax, q.TempMin),
	Decide: func(v *View) []Finding {
		stuck := v.Has("heater_light_on_above_setpoint") || v.Fact("above_set_point") && v.Fact("temp_high")
		lampOn := v.Has("heater_light_on_above_setpoint") && v.Fact("temp_high") // whatever else it leads to
		if !v.believed("heater_fault") && !lampOn {
			return nil
		}
		f := Finding{Urgency: Today, Say: say.S("find.heater")}
		f.Wishes = all(do(RankAnimals, "check_heater"),
			when(stuck, all(told(RankPeople, "isolate_power", "instead.unplug_heater"), do(RankAnimals, "aerate_now", "cool_slow"))),
			when(v.Fact("temp_low") || v.Fact("below_set_point"), do(RankAnimals, "heat_slow")),
			ban(RankAnimals, "why.slow_degrees", "heat_fast", "wc_large_once"))
		if stuck {
			f.Say = say.S("find.heater.stuck")
			if distress, _ := v.breathless(); distress {
				f.Urgency = Now
			}
		}
		return v.caused("heater_fault", f)
	},
}
