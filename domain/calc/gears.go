package calc

import (
	"scaperound/domain/gear"
	"scaperound/domain/quantity"
)

func gearDefs() []Def {
	inV := in("V_L", "volume", quantity.L, "net_volume_L", "net")
	inDT := in("dT_K", "difference of temperature", kelvin, "dT")
	inSide := in("side_area_m2", "area of the sides", m2)
	return []Def{
		{
			Name: "glass_loss_W", Title: "Heat lost through the glass", Topic: TopicGear, Find: "heater power", In: []Input{in("U_W_m2K", "heat transfer", wm2K).or(gear.UsualGlassU), inSide, inDT}, Out: watt, Source: "heat transfer; U of 5 to 6 W/m²K from handbook films",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.GlassLoss(a.F("U_W_m2K"), quantity.SquareMetre(a.F("side_area_m2")), quantity.Kelvin(a.F("dT_K")))
				return one(float64(v), step("P", "{U} · {A} · {dT}", float64(v), watt, "U", a.F("U_W_m2K"), "A", a.F("side_area_m2"), "dT", a.F("dT_K"))), err
			},
		},
		{
			Name: "evap_loss_W", Title: "Heat lost by evaporation", Topic: TopicGear, Find: "heat power heater", In: []Input{in("kg_per_day", "evaporation", kgDay), in("latent_MJ_kg", "latent heat", mjKg).or(gear.LatentMJ)}, Out: watt, Source: "latent heat",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.EvaporationLoss(quantity.Kilogram(a.F("kg_per_day")), a.F("latent_MJ_kg"))
				return one(float64(v), step("P", "{m} · {L}e6/86400", float64(v), watt, "m", a.F("kg_per_day"), "L", a.F("latent_MJ_kg"))), err
			},
		},
		{
			Name: "hours_to_warm", Title: "Hours to warm a tank", Topic: TopicGear, Find: "heater warm up time winter", In: []Input{inV, inDT, in("net_power_W", "power left after losses", watt)}, Out: hour, Source: "heat capacity, 1.163 Wh per litre and kelvin",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.HoursToWarm(quantity.Litre(a.F("V_L")), quantity.Kelvin(a.F("dT_K")), quantity.Watt(a.F("net_power_W")))
				return one(float64(v), step("hours", "1.163 · {V} · {dT}/{P}", float64(v), hour, "V", a.F("V_L"), "dT", a.F("dT_K"), "P", a.F("net_power_W"))), err
			},
		},
		{
			Name: "heater", Sentence: "Sides of {side_area_m2} and water {dT_K} above the room need", Aliases: []string{"heater_size"}, Title: "Heater for a tank", Topic: TopicGear, Find: "watts size", In: []Input{inSide, inDT, in("kg_per_day", "evaporation", kgDay).or(0)}, Out: watt, Source: "heat balance; half as much again in reserve is practice", Valid: "two of half the size limit both ways to fail",
			Eval: func(a Args) (Answer, error) {
				h, err := gear.SizeHeaters(quantity.SquareMetre(a.F("side_area_m2")), quantity.Kelvin(a.F("dT_K")), quantity.Kilogram(a.F("kg_per_day")))
				return one(float64(h.Total), step("glass", "", float64(h.Glass), watt), step("evaporation", "", float64(h.Evaporation), watt), step("each of two heaters", "{P}·1.5/2", float64(h.Each), watt, "P", float64(h.Total)).also()).warn(true, "calc.mains"), err
			},
		},
		{
			Name: "evaporated_L", Aliases: []string{"litres_from_level"}, Title: "Water evaporated, by the fall of the level", Topic: TopicGear, Find: "level top off", In: []Input{in("level_drop_mm", "fall of the level", quantity.MM), in("area_m2", "surface", m2)}, Out: quantity.L, Source: "geometry",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.FromLevel(quantity.Millimetre(a.F("level_drop_mm")), quantity.SquareMetre(a.F("area_m2")))
				return one(float64(v), step("litres", "{mm} · {A}", float64(v), quantity.L, "mm", a.F("level_drop_mm"), "A", a.F("area_m2"))), err
			},
		},
		{
			Name: "evaporation_L_d", Title: "Evaporation of an open tank, estimated", Topic: TopicGear, In: []Input{in("area_m2", "surface", m2), in("water_C", "water", quantity.DegC), in("air_C", "air", quantity.DegC), in("humidity", "relative humidity", plain).or(0.5).share(), in("wind_m_s", "air over the surface", metreSec).or(0)}, Out: lDay, Source: "ASHRAE Handbook, HVAC Applications, natatoriums", Valid: "the level on the glass is the better measure",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.OpenEvaporation(quantity.SquareMetre(a.F("area_m2")), quantity.Celsius(a.F("water_C")), quantity.Celsius(a.F("air_C")), quantity.Share(a.F("humidity")), a.F("wind_m_s"))
				return one(float64(v), step("E", "{A} · (pw − {rh}·pa) · (0.089 + 0.0782·{v})/2400 · 0.5 · 86400", float64(v), lDay, "A", a.F("area_m2"), "rh", a.F("humidity"), "v", a.F("wind_m_s"))), err
			},
		},
		{
			Name: "concentration_factor_no_topoff", Title: "How much salts rise while water evaporates", Topic: TopicGear, Find: "top-off top off evaporation", In: []Input{inV, in("evap_L_d", "evaporation", lDay), in("days", "days", quantity.Day)}, Out: plain, Source: "mass conservation",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.Concentrating(quantity.Litre(a.F("V_L")), quantity.Litre(a.F("evap_L_d")), quantity.Days(a.F("days")))
				return one(v, step("factor", "{V}/({V} − {E}·{t})", v, plain, "V", a.F("V_L"), "E", a.F("evap_L_d"), "t", a.F("days"))), err
			},
		},
		{
			Name: "GH_steady_before_wc_topoff_with_source", Aliases: []string{"topoff_hardening"}, Title: "Where hardness settles when tap water tops off", Topic: TopicGear, Find: "top-off evaporation GH creep top-off topoff evaporation hardness rises creep", In: []Input{in("source", "the change and top-off water", quantity.DGH), in("w", "share changed", plain).share(), in("evap_L_d", "evaporation", lDay), inV, in("interval_d", "days between changes", quantity.Day)}, Out: "deg d", Source: "mass balance of salts in the steady state",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.HardeningByTopOff(a.F("source"), quantity.Share(a.F("w")), quantity.Litre(a.F("evap_L_d")), quantity.Litre(a.F("V_L")), quantity.Days(a.F("interval_d")))
				return one(v, step("GH", "{S}·(1 + {E}·{T}/({w}·{V}))", v, quantity.DGH, "S", a.F("source"), "E", a.F("evap_L_d"), "T", a.F("interval_d"), "w", a.F("w"), "V", a.F("V_L"))), err
			},
		},
	}
}

func cylinderDefs() []Def {
	const sw Ref = "Span and Wagner 1996, J. Phys. Chem. Ref. Data 25, 1509"
	return []Def{
		{
			Name: "CO2_sat_pressure", Title: "Pressure in a CO2 cylinder with liquid in it", Topic: TopicGear, Find: "gauge bar", In: []Input{inT}, Out: "bar abs", Source: sw, Valid: "-56 to 30.98 °C",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.SaturationPressure(quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("p", "~equation 3.13 at {t} °C", float64(v), "bar abs", "t", a.F("T_C"))).warn(true, "calc.gauge_shows_room"), err
			},
		},
		{
			Name: "CO2_vapour_density", Title: "Density of CO2 vapour over its liquid", Topic: TopicFact, In: []Input{inT}, Out: kgPerM3, Source: sw, Valid: "-56 to 30.98 °C",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.VapourDensity(quantity.Celsius(a.F("T_C")))
				return one(v, step("ρ", "~equation 3.15 at {t} °C", v, kgPerM3, "t", a.F("T_C"))), err
			},
		},
		{
			Name: "mass_fraction_left_when_liquid_gone", Share: true, Title: "How much CO2 is left when the gauge begins to fall", Topic: TopicGear, Find: "cylinder empty liquid gauge", In: []Input{inT, in("fill_kg_per_L", "fill of the cylinder", kgPerL).or(gear.UsualFill)}, Out: plain, Source: sw,
			Eval: func(a Args) (Answer, error) {
				v, err := gear.LeftWhenLiquidGone(quantity.Celsius(a.F("T_C")), a.F("fill_kg_per_L"))
				if err != nil {
					return Answer{}, err
				}
				rho, err := gear.VapourDensity(quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("share", "{ρ}/1000/{fill}", float64(v), plain, "ρ", rho, "fill", a.F("fill_kg_per_L"))), err
			},
		},
		{
			Name: "cylinder_use", Title: "Use of CO2 and days left, by weighings since the swap", Topic: TopicGear, Find: "cylinder empty weigh bottle bubbles consumption rate", In: []Input{in("days", "days since the swap", quantity.Day).many(), in("gross_kg", "weights on those days", quantity.Kg).many(), in("charge_kg", "CO2 filled in", quantity.Kg).opt(), in("scale_g", "error of the scale", quantity.Gr).or(10)}, Out: quantity.GramDay, Source: "least squares; swapping at a fifth of the charge is practice",
			Eval: evalCylinder,
		},
	}
}

func evalCylinder(a Args) (Answer, error) {
	days, gross := a.List("days"), a.List("gross_kg")
	if len(days) != len(gross) {
		return Answer{}, errPairs(len(days), len(gross))
	}
	ws := make([]gear.Weighing, len(days))
	for i := range days {
		ws[i] = gear.Weighing{Since: quantity.Days(days[i]), Gross: quantity.Kilogram(gross[i])}
	}
	var charge quantity.Opt[quantity.Kilogram]
	if a.Has("charge_kg") {
		charge = quantity.Some(quantity.Kilogram(a.F("charge_kg")))
	}
	u, err := gear.FromWeighings(ws, charge, quantity.Gram(a.F("scale_g")))
	if err != nil {
		return Answer{}, err
	}
	// By weighings that do not fall, nothing is used; no cylinder fills itself.
	ans := one(max(0, float64(u.PerDay)), Step{Name: "lost since the swap", Value: max(0, float64(u.Lost)), Unit: quantity.Kg}.also()).between(max(0, float64(u.PerDay)-1.645*float64(u.Sigma)), max(0, float64(u.PerDay)+1.645*float64(u.Sigma)))
	if u.Content.OK {
		ans.Steps = append(ans.Steps, Step{Name: "left", Value: float64(u.Content.V), Unit: quantity.Kg}.also())
		if d, ok := gear.DaysLeft(u.Content.V, charge.V, u.PerDay, gear.SwapShare); ok {
			ans.Steps = append(ans.Steps, Step{Name: "days until a fifth of the charge", Value: float64(d), Unit: quantity.Day}.also())
		}
	}
	return ans.warn(u.PerDay <= 0, "calc.nothing_used"), nil
}
