package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// facts names what follows from readings and set-up, so that evidence for a
// cause is one table over signs and facts alike. A fact that is not in the map
// is either untrue or not known: absence is no evidence.
func facts(v *View) {
	if v.facts == nil {
		v.facts, v.factList = make(map[string]bool, 48), make([]string, 0, 48)
	}
	set := func(name string, on bool) {
		if on && !v.facts[name] {
			v.facts[name] = true
			v.factList = append(v.factList, name)
		}
	}
	factsOfAge(v, set)
	factsOfGas(v, set)
	factsOfNitrogen(v, set)
	factsOfNutrients(v, set)
	factsOfHardness(v, set)
	factsOfTemperature(v, set)
	factsOfGear(v, set)
	factsOfSource(v, set)
}

type setter func(name string, on bool)

func factsOfAge(v *View, set setter) {
	set("injected", v.Injected)
	set("not_injected", !v.Injected)
	set("animals", v.Animals)
	set("no_animals", !v.Animals)
	set("fish", v.Fish)
	set("shrimp", v.Shrimp)
	set("snails", v.Snails)
	set("shelled", v.Snails || v.Has("snail_shells_pitted_white", "snail_shells_thin", "shell_oldest_whorls_worst", "snails_numerous", "snails_climb_out"))
	set("plants", v.Plants)
	if v.Age.OK {
		set("young_tank", v.Age.V < newTankWeeks)
		set("diatom_age", v.Age.V >= 1 && v.Age.V <= 10)
		set("past_diatoms", v.Age.V > 16)
		set("old_tank", v.Age.V >= oldTankWeeks)
		set("first_weeks", v.Age.V <= 6)
	}
	set("rich_soil", v.Setup.Substrate == tank.RichSoil)
	set("no_soil", v.Setup.Substrate == tank.SandGravel)
	set("fresh_soil", v.Setup.Substrate == tank.RichSoil && v.Age.OK && v.Age.V <= 8)
	set("dense", v.Setup.Planting == tank.PlantingDense)
	set("stock_heavy", v.Setup.Stocking == tank.StockHeavy)
	set("stock_over", v.Setup.Stocking == tank.StockOver)
	set("stock_light", v.Setup.Stocking == tank.StockLight || v.Setup.Stocking == tank.StockNone)
	set("dosing_none", v.Plan.By == tank.DosedByNobody)
	set("dosing_doser", v.Plan.By == tank.DosedByDoser)
	for _, l := range v.Plan.Lines {
		set("dosing_doser", l.How == tank.ByDoser)
	}
	set("dose_in_vain", v.doseInVain)
	set("since_died", v.since("died"))
	set("since_new_animals", v.since("new_animals"))
	set("since_fed", v.since("fed_by_others"))
	set("since_dosed", v.since("dosed_something"))
	set("since_power", v.since("power_cut"))
	set("since_spraying", v.since("spraying"))
	set("disturbed", v.Has("media_washed_hot_tap", "filter_cleaned_thoroughly_recently", "filter_stood_still_recently", "filter_not_running", "power_off_recently", "medicine_used_recently", "substrate_disturbed_recently"))
}

func (v *View) since(what string) bool {
	for _, s := range v.Now.Since {
		if s.What == what {
			return true
		}
	}
	return false
}

func factsOfGas(v *View, set setter) {
	if c := v.CO2; c.OK && v.Injected {
		st := v.co2State()
		set("co2_alarm", st == High)
		set("co2_watch", st == Borderline)
		set("co2_fine", st == InBand)
		set("co2_low", st == Low)
		set("co2_low_any", c.Est.Hi90 < 15 && !c.Early && !v.co2Meaningless())
	}
	if m, l := v.co2At(visit.Morning), v.co2At(visit.Late); m > 0 && l > 0 {
		set("co2_swing", l > 1.8*m)
	}
	if v.Injected {
		set("co2_at_night", v.co2At(visit.Night) > 15)
	}
	if r, ok := v.Read(q.OxygenShare, visit.Before, visit.Late, visit.Morning); ok {
		set("o2_over", r.Value > 102)
		set("o2_enough", r.Value >= 80)
		set("o2_short", r.Value < 65)
	}
	if r, ok := v.Read(q.OxygenShare, visit.Morning); ok {
		set("o2_short", r.Value < 65)
	}
	if r, ok := v.Read(q.Oxygen, visit.Morning, visit.Before); ok {
		set("o2_short", r.Value < 5)
		set("o2_enough", r.Value >= 6.5)
	}
	if r, ok := v.Read(q.GasTotal, visit.Before, visit.After, visit.Late); ok {
		set("gas_over", r.Value >= saturationGas)
		set("gas_fine", r.Value < 105)
	}
	if r, ok := v.Read(q.CO2Air, visit.InRoom); ok {
		set("room_co2", r.Value > roomCO2Limit)
		set("room_fine", r.Value < 2000)
	}
	if r, ok := v.Read(q.CylinderLoss, visit.Before); ok {
		set("cylinder_missing", r.Value >= 0.3)
	}
}

// co2At is CO2 by pH of the phase and the visit's KH, 0 where not known.
func (v *View) co2At(p visit.Phase) float64 {
	r, ok := v.Read(q.Acidity, p)
	kh, ok2 := v.khNow()
	if !ok || !ok2 || kh.Value < noTankKH {
		return 0
	}
	return v.co2Of(r.Value, kh.Value)
}

func factsOfNitrogen(v *View, set setter) {
	if r, ok := v.Tank(q.TAN); ok {
		set("tan_present", r.Value >= tanFirstClass)
		set("tan_zero", r.Value < 0.1)
		set("tan_and_animals", r.Value >= tanFirstClass && v.Animals)
		set("tan_old", r.Value >= tanFirstClass && v.Age.OK && v.Age.V > oldTankWeeks)
	}
	if r, ok := v.Tank(q.Nitrite); ok {
		set("no2_present", r.Value >= nitriteAct)
		set("no2_harm", r.Value >= nitriteHarm)
		set("no2_zero", r.Value < 0.05)
		set("no2_old", r.Value >= nitriteAct && v.Age.OK && v.Age.V > oldTankWeeks)
	}
	if v.NH3.OK {
		set("nh3_guide", v.NH3.N.Value >= nh3Guide)
		set("nh3_harm", v.NH3.N.Value >= nh3Harm)
		set("nh3_low", v.NH3.N.Value < 0.005)
	}
	if n := v.Value(q.Nitrate); n.OK {
		guide := v.nitrateGuide()
		set("no3_over", guide.OK && n.V > guide.V)
		set("no3_fine", guide.OK && n.V <= guide.V)
	}
	set("ec_contradicts", v.ecContradicts())
	set("gas_contradicts", v.gasContradicts())
	set("reading_slipped", len(v.Aside) > 0)
	for _, k := range []q.Kind{q.Nitrate, q.Phosphate, q.Acidity, q.KH, q.GH} {
		if r, ok := v.Tank(k); ok && len(v.valuesBefore(k, make([]float64, 0, 3))) >= 2 {
			set("reading_jumped", v.jumped(k, r.Value))
		}
	}
	if r, ok := v.Read(q.Feed, visit.Between); ok && v.Net.OK {
		// 1 g of feed in 100 L gives 1.7 to 2.4 mg/L NO3; a planted tank takes up
		// a few mg/L a day at the best.
		set("feed_over", r.Value/float64(v.Net.V)*100 > 2)
	}
}

func factsOfNutrients(v *View, set setter) {
	level := func(k q.Kind, low string, lo float64, fine string, enough float64) {
		if x := v.Value(k); x.OK {
			set(low, x.V <= lo)
			set(fine, x.V >= enough)
		}
	}
	level(q.Nitrate, "no3_low", 3, "no3_enough", 10)
	level(q.Phosphate, "po4_low", 0.1, "po4_enough", 0.5)
	level(q.Potassium, "k_low", 5, "k_enough", 10)
	level(q.Iron, "fe_low", 0.03, "fe_enough", 0.1)
	level(q.Magnesium, "mg_low", 2, "mg_enough", 5)
	level(q.Calcium, "ca_low", 10, "ca_enough", 20)
	n, p, k := v.Value(q.Nitrate), v.Value(q.Phosphate), v.Value(q.Potassium)
	set("no3_alone_low", n.OK && n.V <= 3 && (p.OK && p.V >= 0.5 || k.OK && k.V >= 10))
	set("nutrients_fine", n.OK && n.V >= 5 && (!p.OK || p.V >= 0.3) && (!k.OK || k.V >= 5))
	if k.OK {
		ca, mg := v.Value(q.Calcium), v.Value(q.Magnesium)
		if ca.OK && mg.OK {
			set("k_excess", k.V >= 25 && k.V > ca.V+mg.V)
		} else {
			set("k_excess", k.V >= 40)
		}
		set("k_very_high", k.V >= 50)
	}
	if r, ok := v.Tank(q.Acidity); ok {
		set("ph_high", r.Value >= 7.5)
		set("ph_below_7", r.Value < 7)
		set("ph_crashed", r.Value < 6 && !v.Injected)
	}
	for _, c := range []struct {
		k     q.Kind
		limit float64
	}{{q.Copper, 0.01}, {q.Zinc, 0.1}} {
		if r, ok := v.Read(c.k, visit.Before, visit.FromSource); ok {
			set("metal", r.Value >= c.limit)
			set("metal_zero", r.Value < c.limit/2)
		}
		if r, ok := v.Read(c.k, visit.FromSource); ok {
			set("metal", r.Value >= c.limit)
			set("metal_source", r.Value >= c.limit)
		}
	}
	if r, ok := v.Tank(q.Silicate); ok {
		set("silicate", r.Value >= 5)
	}
}

func factsOfGear(v *View, set setter) {
	if s := v.Flow.Share; s.OK {
		set("flow_low", s.V < 0.6)
		set("flow_fine", s.V >= 0.75)
	}
	if v.Now.EyeMark == visit.EyeNot {
		set("eye_not", true)
	}
	set("eye_little", v.Now.EyeMark == visit.EyeLittle)
	if v.PPFD.OK {
		need := v.lightNeed()
		set("light_short", v.PPFD.V < need.V*0.8 && need.OK)
		set("light_fine", v.PPFD.V >= need.V && v.PPFD.V <= 1.6*max(need.V, 40))
		set("light_much", v.PPFD.V > 80 && !v.Injected || v.PPFD.V > 150)
	}
	if v.Hours.OK {
		set("long_day", v.Hours.V > 10)
		set("short_day", v.Hours.V < 6)
		set("no_dark", v.Hours.V > 14)
	}
	if r, ok := v.Read(q.StrayVoltage, visit.Before); ok {
		// 12 V is the limit of safety extra-low voltage where people are in the
		// water (IEC 60364-7-702, zone 0).
		set("stray_voltage", r.Value >= 12)
	}
	c := v.cylinder()
	set("cylinder_low", c.Low)
	set("cylinder_fine", c.Fine)
	set("gauge_falling", c.Gas)
}
