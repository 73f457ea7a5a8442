package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleElectric = Rule{
	Meta: Meta{
		ID: "electric", Title: "Electricity and water", System: Gear, Evidence: "A",
		Why:    "A tingle is a warning that comes once. Nobody touches the water before the breaker is off; what is wrong is found by a licensed electrician.",
		Source: "IEC 60364-4-41 and 60364-7-702 (30 mA residual-current protection; 12 V where people are in the water); local code",
	},
	Always:  true,
	Applies: looks("", groups(visit.SignRoom, visit.SignGear), q.StrayVoltage),
	Decide: func(v *View) []Finding {
		f := Finding{State: Seen, Urgency: Now, Say: say.S("find.electric")}
		dry := ban(RankPeople, "why.dry_first", "touch_water")
		off := Wish{Action: "isolate_power", Rank: RankPeople, Alone: true}
		switch {
		case v.Has("tingle_in_water") || v.Fact("stray_voltage"):
			f.Hold = "damage"
			f.Wishes = all([]Wish{off}, do(RankPeople, "electrician", "tell_owner_urgent"), dry)
		case v.Has("heater_tube_cracked"):
			f.Say, f.Hold = say.S("find.electric.heater"), "damage"
			off.Alone = false
			f.Wishes = all([]Wish{off}, do(RankPeople, "electrician", "tell_owner_urgent"), told(RankPeople, "check_heater", "instead.heater_out"), dry)
		case v.Has("breaker_tripped"):
			f.Say = say.S("find.electric.breaker")
			off.Alone = false
			f.Wishes = all([]Wish{off}, do(RankPeople, "electrician", "tell_owner_urgent"), dry)
		case v.Has("no_residual_current_device"):
			f.Say, f.Urgency, f.Audience = say.S("find.electric.no_rcd"), ThisVisit, ForShop
			f.Wishes = do(RankPeople, "electrician", "tell_owner_urgent")
		default:
			return nil
		}
		return found(f)
	},
}
