package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleLight = Rule{
	Meta: Meta{
		ID: "light", Title: "Light for these plants", System: Light, Evidence: "B",
		Why:    "Light sets the demand. It is the mean of a map at leaf height over the hours, against what the most demanding planting needs; raising it comes last, lowering it is safe.",
		Source: "Nielsen and Sand-Jensen 1991; Madsen and Sand-Jensen 1994; the bands are practice",
	},
	Applies: func(v *View) Answer {
		if !v.Plants {
			return NotApplicable
		}
		if !v.PPFD.OK && !v.Hours.OK && !v.Looked(visit.SignPlants) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		switch {
		case v.believed("light_low"):
			ready := !v.algae() && v.Weight("co2_deficit") < 0.2 && v.Weight("light_excess") < 0.1
			return v.caused("light_low", Finding{State: Low, Say: say.S("find.light.low"), Calc: v.lightCalc(), Wishes: all(
				when(v.Has("floating_plants_shade_tank"), do(RankPlants, "replant")),
				when(v.Has("lower_stems_bare", "stems_leggy"), do(RankPlants, "trim_old")),
				when(ready && !v.Has("floating_plants_shade_tank"), do(RankPlants, "light_up")),
				when(v.Has("lamp_part_dark"), do(RankPlants, "check_timer")),
				ban(RankPlants, "why.one_at_a_time", "more_of_all", "co2_up"), ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"))})
		case v.Fact("long_day") || v.Fact("no_dark"):
			return found(Finding{State: High, Urgency: Routine, Say: say.S("find.light.long", say.Num("hours", v.Hours.V, "h", 1)), Wishes: all(
				when(v.algae() || v.Fact("no_dark"), do(RankPlants, "light_down", "check_timer")), ban(RankPlants, "why.light_feeds_algae", "light_up"))})
		case v.Fact("light_much") && v.algae():
			return found(Finding{State: High, Urgency: ThisVisit, Say: say.S("find.light.much"), Calc: v.lightCalc(), Wishes: all(
				do(RankPlants, "light_down"), ban(RankPlants, "why.light_feeds_algae", "light_up"))})
		}
		return nil
	},
}

// lightCalc is the arithmetic behind a finding on light, nil without a reading.
func (v *View) lightCalc() *Calc {
	if !v.PPFD.OK || !v.DLI.OK {
		return nil
	}
	return &Calc{
		Name: "DLI", Args: []Arg{{"PPFD", v.PPFD.V, q.Umol}, {"hours", v.Hours.V, "h"}},
		Value: v.DLI.V, Lo: v.DLI.V, Hi: v.DLI.V, Unit: "mol/m2/d", Source: "definition",
	}
}
