package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// chokes reports oxygen at which fish die within hours, whatever they show: 3 mg/L
// or 35 % of saturation.
func (v *View) chokes() bool {
	for k, limit := range map[q.Kind]float64{q.Oxygen: 3, q.OxygenShare: 35} {
		if r, ok := v.Read(k, visit.Morning, visit.Before, visit.Late); ok && r.Value < limit {
			return true
		}
	}
	return false
}

var ruleOxygen = Rule{
	Meta: Meta{
		ID: "oxygen", Title: "Too little oxygen", System: Water, Evidence: "A",
		Why:    "The minimum before the light comes on is what kills. Surface and flow first; then what uses the oxygen up.",
		Source: "Benson and Krause 1984; zebrafish husbandry above 6 mg/L",
	},
	Applies: looks("animals", groups(visit.SignAnimals, visit.SignWater), q.Oxygen, q.OxygenShare),
	Decide: func(v *View) []Finding {
		if !v.believed("o2_low") && !v.Fact("o2_short") {
			if v.Has("surface_not_moving") {
				// Not short yet, as far as one knows; still water will be.
				return found(Finding{State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.surface_still"), Wishes: told(RankAnimals, "improve_flow", "instead.break_surface")})
			}
			return nil
		}
		distress, _ := v.breathless()
		f := Finding{State: Low, Urgency: Today, Say: say.S("find.oxygen")}
		if distress || v.chokes() {
			f.Urgency = Now
		}
		f.Wishes = all(
			do(RankAnimals, "aerate_now", "measure_dawn_o2"),
			when(v.Has("surface_not_moving"), told(RankAnimals, "improve_flow", "instead.break_surface")),
			when(!v.Has("surface_not_moving") && v.Has("far_plants_not_moving"), do(RankAnimals, "improve_flow")),
			when(v.Has("floating_plants_shade_tank"), told(RankAnimals, "trim_old", "instead.thin_floaters")),
			when(v.Has("surface_film", "smell_of_decay", "mulm_in_corners"), do(RankAnimals, "reduce_organics")),
			when(v.Fact("co2_at_night"), do(RankAnimals, "check_timer")),
			ban(RankAnimals, "why.no_more_co2", "co2_up"), ban(RankAnimals, "why.light_makes_oxygen", "light_down", "blackout"),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_peroxide"), ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		return v.caused("o2_low", f)
	},
}
