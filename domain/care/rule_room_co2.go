package care

import (
	"scaperound/domain/gear"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleRoomCO2 = Rule{
	Meta: Meta{
		ID: "room_co2", Title: "CO2 in the room", System: Gear, Evidence: "A",
		Why:    "CO2 is heavier than air and poisons long before oxygen is short: whoever feels it leaves, and nobody works at the cylinder inside.",
		Source: "HSE EH40/2005 (5000 ppm over 8 h, 15 000 ppm over 15 min); NIOSH immediately dangerous concentration 40 000 ppm",
	},
	Always: true,
	Applies: func(v *View) Answer {
		if !v.Injected && !v.readAny(q.CO2Air, q.CylinderLoss) && !v.Has("hissing_at_cylinder") {
			return NotApplicable
		}
		if v.Looked(visit.SignRoom) || v.readAny(q.CO2Air, q.CylinderLoss) {
			return Judged
		}
		return Unmeasured
	},
	Decide: func(v *View) []Finding {
		ill := v.Has("person_dizzy", "person_headache", "person_fast_breathing")
		hiss := v.Has("hissing_at_cylinder")
		if !ill && !hiss && !v.Fact("room_co2") && !v.Fact("cylinder_missing") {
			return nil
		}
		f := Finding{State: High, Urgency: Now, Say: say.S("find.room_co2"), Hold: "leak", Calc: v.roomCalc()}
		ppm := 0.0
		if f.Calc != nil {
			ppm = f.Calc.Value
		}
		if r, ok := v.Read(q.CO2Air, visit.InRoom); ok {
			ppm = max(ppm, r.Value)
		} else if m, ok := v.Read(q.CylinderLoss, visit.Before); ok && f.Calc == nil {
			// Of a room nobody measured the small one is assumed.
			if small, err := gear.RoomCO2(q.Kilogram(m.Value), smallRoom, 20); err == nil {
				ppm = float64(small)
			}
		}
		leave := Wish{Action: "leave_room_ventilate", Rank: RankPeople, Alone: true}
		nothing := ban(RankPeople, "why.not_inside", "co2_off_now", "shut_valve_if_safe", "swap_cylinder", "weigh_cylinder", "check_timer")
		switch {
		case ill || ppm >= float64(gear.CO2Dangerous):
			f.Wishes = all([]Wish{leave}, do(RankPeople, "call_emergency_services", "keep_others_out", "tell_owner_urgent"), nothing)
		case ppm > roomCO2Limit || v.Has("room_below_ground") && v.Fact("cylinder_missing") && !v.Fact("room_fine") ||
			hiss && !v.Fact("room_fine") && (ppm == 0 || ppm > smallLeak || v.Has("room_below_ground")):
			f.Say = say.S("find.room_co2.leak")
			f.Wishes = all([]Wish{leave}, do(RankPeople, "keep_others_out", "tell_owner_urgent"), nothing)
		default:
			f.Urgency, f.Say = Today, say.S("find.room_co2.small")
			f.Wishes = all(do(RankPeople, "shut_valve_if_safe", "tell_owner_urgent", "check_timer"), ban(RankPeople, "why.leak_first", "swap_cylinder", "co2_up"))
		}
		return found(f)
	},
}

// smallRoom is the volume, in m³, of a cellar or a cupboard's room that is assumed
// where none is written down.
const smallRoom = 30

// smallLeak is what a leak may add to a room's air, in ppm, that nobody has to
// leave it for: it stays near what stuffy rooms hold anyway.
const smallLeak = 1500

// roomCalc is what the room's air gains from what is missing, nil where either
// is not known.
func (v *View) roomCalc() *Calc {
	m, ok := v.Read(q.CylinderLoss, visit.Before)
	room := v.Setup.Room.Volume
	if !ok || !room.OK {
		return nil
	}
	ppm, err := gear.RoomCO2(q.Kilogram(m.Value), room.V, 20)
	if err != nil {
		return nil
	}
	return &Calc{
		Name:  "CO2_ppm_if_all_released",
		Args:  []Arg{{"mass", m.Value, q.Kg}, {"room", float64(room.V), "m3"}},
		Value: float64(ppm), Lo: float64(ppm), Hi: float64(ppm), Unit: q.PPMAir, Limit: q.Some(roomCO2Limit), Source: "ideal gas at 1 atm",
	}
}
