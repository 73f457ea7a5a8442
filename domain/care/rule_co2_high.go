package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleCO2High = Rule{
	Meta: Meta{
		ID: "co2_high", Title: "CO2 too high for animals", System: CO2, Evidence: "A",
		Why:    "CO2 from pH and KH by the full carbonate chemistry reads 9 to 19 % above the old shortcut. It is an alarm by number only where the lower end of what the kits can mean passes 30 mg/L; between, it is watched with an indicator or a meter.",
		Source: "Plummer and Busenberg 1982; Davies 1962; Fivelstad et al. 2018 for the level; the bands are practice",
	},
	Applies: func(v *View) Answer {
		switch {
		case !v.Injected || !v.Animals:
			return NotApplicable
		case !v.CO2.OK:
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		c := v.CO2.Est
		args := []say.Arg{say.Num("lo", float64(c.Lo90), q.MgL, 0), say.Num("hi", float64(c.Hi90), q.MgL, 0), say.Num("limit", v.co2AlarmAt(), q.MgL, 0)}
		dated := ""
		if v.CO2.KHOn.OK {
			dated = ".dated"
			args = append(args, say.Day("day", v.CO2.KHOn.V))
		}
		f := Finding{State: High, Urgency: Today, Calc: v.co2Calc(v.co2AlarmAt())}
		switch v.co2State() {
		case High:
			f.Say = say.S("find.co2_high"+dated, args...)
			f.Wishes = all(do(RankAnimals, "aerate_now", "check_timer", "co2_down"), ban(RankAnimals, "why.no_more_co2", "co2_up"),
				ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast"))
			if float64(c.Lo90) > co2Off {
				f.Urgency = Now
				f.Wishes = append(f.Wishes, do(RankAnimals, "co2_off_now", "find_cause_before_co2_restart")...)
			}
			if v.Fact("tan_present") {
				f.Wishes = append(f.Wishes, do(RankAnimals, "wc_matched", "test_nh3_no2")...)
			}
		case Borderline:
			f.State, f.Urgency = Borderline, ThisVisit
			f.Say = say.S("find.co2_high.watch"+dated, args...)
			if v.CO2.Upper {
				f.Say = say.S("find.co2_high.upper", args...)
			}
			f.Wishes = all([]Wish{{Action: "measure_late", Rank: RankAnimals, Say: say.S("do.co2_indicator")}}, do(RankAnimals, "check_timer"), ban(RankAnimals, "why.no_more_co2", "co2_up"))
		default:
			return nil
		}
		return found(f)
	},
}

// co2Calc is the arithmetic behind a finding on CO2.
func (v *View) co2Calc(limit float64) *Calc {
	e := v.CO2.Est
	if v.CO2.By != "ph_kh" {
		return nil // another method, whose figures stand in its reading
	}
	return &Calc{
		Name: "CO2_full",
		Args: []Arg{
			{"pH", v.CO2.PH.Value, q.PHUnit}, {"pH_lo", v.CO2.PH.Lo, q.PHUnit}, {"pH_hi", v.CO2.PH.Hi, q.PHUnit},
			{"KH", v.CO2.KH.Value, q.DKH}, {"KH_lo", v.CO2.KH.Lo, q.DKH}, {"KH_hi", v.CO2.KH.Hi, q.DKH},
			{"T_C", v.CO2.Temp.Value, q.DegC}, {"I_mol_L", float64(v.ionic()), "mol/L"},
		},
		Value: float64(e.Value), Lo: float64(e.Lo90), Hi: float64(e.Hi90), Unit: q.MgL, Limit: q.Some(limit),
		Source: "Plummer and Busenberg 1982, Davies 1962",
	}
}
