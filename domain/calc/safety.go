package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/gear"
	"scaperound/domain/quantity"
)

func errPairs(a, b int) error {
	return fault.New(fault.Invalid, "There are %d values for %d; give as many of both.", a, b)
}

func safetyDefs() []Def {
	room := []Input{in("kg", "CO2 in the cylinder", quantity.Kg, "mass"), in("room_m3", "room", quantity.M3, "room"), inT.or(20)}
	return []Def{
		{
			Name: "CO2_ppm_if_all_released", Sentence: "{kg} of CO2 let go in a room of {room_m3} bring its air to", Aliases: []string{"room_co2"}, Title: "CO2 in a room if the cylinder empties into it", Topic: TopicSafety, Find: "leak danger alarm", In: room, Out: quantity.PPMAir, Source: "ideal gas, on top of the room's own, without ventilation", Valid: "cellars and cabinets fill from below and reach far more",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.RoomCO2(quantity.Kilogram(a.F("kg")), quantity.CubicMetre(a.F("room_m3")), quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("ppm", "{m}·1000/44.009·0.0820574·{T}/1000/{V}·1e6", float64(v), quantity.PPMAir, "m", a.F("kg"), "T", a.F("T_C")+273.15, "V", a.F("room_m3"))).
					warn(v > gear.CO2ShortUK, "calc.co2_alarm").warn(v >= gear.CO2Dangerous, "calc.co2_deadly"), err
			},
		},
		{
			Name: "O2_percent_then", Title: "Oxygen in that room", Topic: TopicSafety, Find: "leak suffocate oxygen alarm", In: room, Out: quantity.Percent, Source: "displacement",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.RoomOxygen(quantity.Kilogram(a.F("kg")), quantity.CubicMetre(a.F("room_m3")), quantity.Celsius(a.F("T_C")))
				return one(v).warn(true, "calc.oxygen_alarm_too_late"), err
			},
		},
		{
			Name: "kg_per_m2", Sentence: "On {L_cm} by {W_cm} stand {water_L} of water, glass {glass_kg}, substrate {substrate_kg}, stone {stone_kg}, cabinet {cabinet_kg}: a load of", Aliases: []string{"floor_load"}, Title: "Weight of a set-up on its footprint", Topic: TopicSafety, Find: "floor load heavy weight", In: []Input{in("L_cm", "footprint's length", quantity.CM), in("W_cm", "footprint's width", quantity.CM), in("water_L", "water", quantity.L), in("glass_kg", "glass", quantity.Kg).or(0), in("substrate_kg", "substrate", quantity.Kg).or(0), in("stone_kg", "stone", quantity.Kg).or(0), in("cabinet_kg", "cabinet", quantity.Kg).or(0), in("other_kg", "anything else", quantity.Kg).or(0)}, Out: kgPerM2, Source: "weights over footprint; EN 1991-1-1 for what floors are designed for",
			Eval: func(a Args) (Answer, error) {
				l, err := gear.FloorLoad(quantity.Centimetre(a.F("L_cm")), quantity.Centimetre(a.F("W_cm")), gear.Weights{Water: quantity.Litre(a.F("water_L")), Glass: quantity.Kilogram(a.F("glass_kg")), Substrate: quantity.Kilogram(a.F("substrate_kg")), Stone: quantity.Kilogram(a.F("stone_kg")), Cabinet: quantity.Kilogram(a.F("cabinet_kg")), Others: quantity.Kilogram(a.F("other_kg"))})
				return one(l.PerSquare, Step{Name: "mass", Value: float64(l.Mass), Unit: quantity.Kg}.also(), step("load", "{m}/({L}·{W}/10000)", l.PerSquare, kgPerM2, "m", float64(l.Mass), "L", a.F("L_cm"), "W", a.F("W_cm")), Step{Name: "pressure", Value: l.Pressure, Unit: kNPerM2}.also()).warn(l.AskEngineer, "calc.ask_engineer"), err
			},
		},
		{
			Name: "kN_per_m2", Title: "Load in kN/m²", Topic: TopicSafety, Find: "floor load pressure", In: []Input{in("kg_per_m2", "load", kgPerM2)}, Out: kNPerM2, Source: "standard gravity",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.Pressure(a.F("kg_per_m2"))
				return one(v, step("load", "{m} · 9.80665/1000", v, kNPerM2, "m", a.F("kg_per_m2"))), err
			},
		},
	}
}

// fact is a number from the literature.
func fact(name, title string, v float64, u quantity.Unit, src Ref) Def {
	return Def{Name: name, Title: title, Topic: TopicFact, Out: u, Source: src, Eval: func(Args) (Answer, error) { return one(v), nil }}
}

func factDefs() []Def {
	const pereira Ref = "Pereira et al. 2014, toxicity of glutaraldehyde to freshwater organisms"
	const nielsen Ref = "Nielsen and Sand-Jensen 1991, Aquatic Botany 39, 109"
	return []Def{
		fact("CO2_TWA_ppm", "CO2 in the air for eight hours' work", float64(gear.CO2EightHours), quantity.PPMAir, "OSHA PEL, ACGIH TLV, HSE EH40/2005"),
		fact("CO2_STEL_ACGIH_ppm", "CO2 in the air for a short time, ACGIH", float64(gear.CO2ShortACGIH), quantity.PPMAir, "ACGIH TLV"),
		fact("CO2_STEL_UK_15min_ppm", "CO2 in the air for fifteen minutes, United Kingdom", float64(gear.CO2ShortUK), quantity.PPMAir, "HSE EH40/2005"),
		fact("CO2_IDLH_ppm", "CO2 in the air immediately dangerous to life", float64(gear.CO2Dangerous), quantity.PPMAir, "NIOSH"),
		fact("glutaraldehyde_LC50_96h_Danio_adult_mg_L", "Glutaraldehyde that kills half of adult zebrafish in 96 h", chem.GlutaraldehydeZebrafish, quantity.MgL, pereira),
		fact("glutaraldehyde_EC50_48h_Daphnia_mg_L", "Glutaraldehyde that stops half of water fleas in 48 h", chem.GlutaraldehydeDaphnia, quantity.MgL, pereira),
		fact("glutaraldehyde_EC50_24h_Thamnocephalus_mg_L", "Glutaraldehyde that stops half of fairy shrimp in 24 h", chem.GlutaraldehydeFairyShrimp, quantity.MgL, pereira),
		fact("glutaraldehyde_EC50_7d_Lemna_mg_L", "Glutaraldehyde that halves the growth of duckweed in 7 d", chem.GlutaraldehydeLemna, quantity.MgL, pereira),
		fact("Cu_LC50_96h_Macrobrachium_nipponense_mg_L", "Copper that kills half of a freshwater shrimp in 96 h", chem.CopperShrimp, quantity.MgL, "Yang et al. 2008"),
		fact("growth_rate_max_14_macrophytes_per_d", "Fastest growth of 14 submerged plants", chem.FastestMacrophyte, perDay, nielsen),
		fact("growth_rate_min_14_macrophytes_per_d", "Slowest growth of 14 submerged plants", chem.SlowestMacrophyte, perDay, nielsen),
	}
}
