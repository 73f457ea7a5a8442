package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCO2Low = Rule{
	Meta: Meta{
		ID: "co2_low", Title: "CO2 short for the light given", System: CO2, Evidence: "B",
		Why:    "Plants are judged by the last third of the light period. First what holds CO2 back is looked for, then it is set in small steps under the eyes of somebody who watches the animals; less light is the safe correction.",
		Source: "Madsen and Sand-Jensen 1994; practice for the band",
	},
	Applies: func(v *View) Answer {
		switch {
		case !v.Injected || !v.Plants:
			return NotApplicable
		case !v.CO2.OK && !v.Looked(visit.SignPlants, visit.SignAlgae, visit.SignGear):
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		number := v.co2State() == Low
		if v.CO2.OK && v.CO2.Early && !v.shown("co2_deficit") && v.co2State() == NotJudged {
			f := Finding{State: NotJudged, Say: say.S("find.co2_low.early"), Audience: ForShop}
			if v.Clock.Known && v.Clock.Position < 0 {
				f.Say = say.S("find.co2_low.dark", say.Text("time", v.Clock.On.String()))
			}
			return found(f)
		}
		if !number && !v.shown("co2_deficit") && !v.Has("diffuser_clogged", "bubble_rate_never_adjusted") || v.Fact("tan_present") || v.Fact("no2_harm") {
			return nil // nitrogen first; plants can wait
		}
		f := Finding{State: Low, Urgency: ThisVisit, Say: say.S("find.co2_low.signs")}
		if !number && !v.shown("co2_deficit") {
			f.Say = say.S("find.co2_low.gear")
		}
		if number {
			f.Say = say.S("find.co2_low", say.Num("value", float64(v.CO2.Est.Value), q.MgL, 0))
			if v.CO2.KHOn.OK {
				f.Say.ID, f.Say.Args = "find.co2_low.dated", append(f.Say.Args, say.Day("day", v.CO2.KHOn.V))
			}
			f.Calc = v.co2Calc(v.co2Band().Lo.Or(15))
		}
		if !number && v.Weight("co2_deficit") < 0.45 && !v.Has("diffuser_clogged", "bubble_rate_never_adjusted", "bubble_rate_changed", "co2_switched_off_recently") {
			// Thin evidence is a reason to measure, not to change or to tell.
			f.Urgency, f.Audience, f.Say = Routine, ForShop, say.S("find.co2_low.maybe")
			f.Wishes = all(do(RankPlants, "measure_late"), do(RankConvenience, "check_timer", "weigh_cylinder"), ban(RankAnimals, "why.small_steps", "co2_up"), ban(RankPlants, "why.co2_first", "light_up", "more_of_all"))
			return found(f)
		}
		distress, _ := v.breathless()
		set := number && !distress
		f.Wishes = all(
			when(v.Has("diffuser_clogged"), told(RankPlants, "check_timer", "instead.clean_diffuser")),
			do(RankPlants, "check_timer", "weigh_cylinder"),
			when(!number, do(RankPlants, "measure_late")),
			when(set || v.Has("diffuser_clogged", "bubble_rate_never_adjusted", "bubble_rate_changed"), do(RankPlants, "co2_retune_slow")),
			when(!v.co2Leads(), do(RankPlants, "co2_start_earlier_steady")),
			ban(RankPlants, "why.co2_first", "light_up", "more_of_all"),
			ban(RankAnimals, "why.small_steps", "co2_up"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
		)
		return v.caused("co2_deficit", f)
	},
}
