package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCylinder = Rule{
	Meta: Meta{
		ID: "cylinder", Title: "CO2 cylinder", System: CO2, Evidence: "A",
		Why:    "The gauge shows the room's temperature, not the content, until the last liquid is gone; so it is weighed. Below a fifth of the charge some regulators let more through, which the animals pay for.",
		Source: "Span and Wagner 1996; practice for the fifth",
	},
	Applies: func(v *View) Answer {
		if !v.Injected {
			return NotApplicable
		}
		if !v.readAny(q.CylinderGross, q.Gauge) && !v.Looked(visit.SignGear) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		c := v.cylinder()
		if !c.Low && !v.believed("cylinder_nearly_empty") {
			if c.Days.OK && c.Days.V < v.daysToNext() {
				return found(Finding{State: Due, Say: say.S("find.cylinder.soon", say.Num("days", c.Days.V, q.Day, 0)), Calc: v.cylinderCalc(c), Audience: ForShop,
					Wishes: []Wish{{Action: "swap_cylinder", Rank: RankPlants, When: WhenNextVisit}}})
			}
			return nil
		}
		f := Finding{State: Low, Urgency: ThisVisit, Say: say.S("find.cylinder"), Calc: v.cylinderCalc(c)}
		if c.Low && c.OK {
			f.Say = say.S("find.cylinder.left", say.Num("left", float64(c.Left), q.Kg, 2), say.Num("charge", float64(v.Setup.CO2.Cylinder.V), q.Kg, 2))
		}
		f.Wishes = all(do(RankPlants, "swap_cylinder"), when(!c.OK, do(RankPlants, "weigh_cylinder")), do(RankPlants, "co2_retune_slow"),
			when(v.Has("bubble_rate_changed", "solenoid_sticks", "co2_varies_day_to_day", "timer_clock_wrong"), do(RankPlants, "check_timer")),
			ban(RankAnimals, "why.empty_not_low", "co2_up"))
		return v.caused("cylinder_nearly_empty", f)
	},
}

func (v *View) cylinderCalc(c Cylinder) *Calc {
	if !c.OK {
		return nil
	}
	return &Calc{
		Name: "co2_left_share", Args: []Arg{{"left", float64(c.Left), q.Kg}, {"charge", float64(v.Setup.CO2.Cylinder.V), q.Kg}},
		Value: c.Share, Lo: c.Share, Hi: c.Share, Unit: q.ShareUnit, Limit: q.Some(0.2), Source: "weighing",
	}
}

// daysToNext is how long until somebody comes again.
func (v *View) daysToNext() float64 {
	if e := v.Setup.Agreement.EveryDays; e.OK {
		return float64(e.V + max(v.Setup.Agreement.ToleranceDays, 0))
	}
	return 14
}
