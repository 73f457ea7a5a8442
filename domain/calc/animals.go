package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/quantity"
)

func animalDefs() []Def {
	const emerson Ref = "Emerson et al. 1975, J. Fish. Res. Board Can. 32, 2379"
	const epa Ref = "US EPA 2013, EPA-822-R-13-001"
	const masses Ref = "molar masses, abridged IUPAC atomic weights"
	inTAN := in("TAN_mgN_L", "total ammonia as nitrogen", mgNL, "tan")
	return []Def{
		byTemperature("pKa_NH4", "Dissociation constant of ammonium", emerson, chem.PKaAmmonium),
		{
			Name: "fraction_NH3", Share: true, Title: "Share of ammonia that is poisonous", Topic: TopicAnimal, Find: "free ammonia toxic percent", In: []Input{inPH, inT}, Out: plain, Source: emerson,
			Eval: func(a Args) (Answer, error) {
				v, err := chem.FractionNH3(quantity.PH(a.F("pH")), quantity.Celsius(a.F("T_C")))
				if err != nil {
					return Answer{}, err
				}
				pk, err := chem.PKaAmmonium(quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("pKa", "0.09018 + 2729.92/{T}", pk, plain, "T", a.F("T_C")+273.15),
					step("share", "1/(1 + 10^({pKa} − {pH}))", float64(v), plain, "pKa", pk, "pH", a.F("pH"))), err
			},
		},
		{
			Name: "NH3_N_mg_L", Sentence: "TAN {TAN_mgN_L} at pH {pH} and {T_C} holds free ammonia, as nitrogen", Aliases: []string{"nh3", "free_ammonia"}, Title: "Free ammonia from total ammonia, pH and temperature", Topic: TopicAnimal, Find: "toxic NH3 TAN poison fish",
			In:  []Input{inTAN, inPH, inT, in("dTAN", "half width of the ammonia reading", mgNL).or(0), in("dpH", "half width of the pH reading", quantity.PHUnit).or(0)},
			Out: mgNL, Source: emerson, Valid: "fresh water, 0 to 50 °C; judge it at the day's highest pH",
			Eval: func(a Args) (Answer, error) {
				t := a.F("T_C")
				v, err := chem.NH3NInterval(reading(a, "TAN_mgN_L", "dTAN", "", ""), reading(a, "pH", "dpH", "", ""), quantity.Interval{Value: t, Lo: t, Hi: t})
				if err != nil {
					return Answer{}, err
				}
				f, err := chem.FractionNH3(quantity.PH(a.F("pH")), quantity.Celsius(t))
				ans := one(v.Value, step("NH3-N", "{TAN} · {share}", v.Value, mgNL, "TAN", a.F("TAN_mgN_L"), "share", float64(f)))
				if v.Hi > v.Lo {
					ans = ans.between(v.Lo, v.Hi)
				}
				return ans.warn(v.Hi > 0.02, "calc.nh3_above_guide"), err
			},
		},
		{
			Name: "TAN_mgN_L_from_kit_as_NH4", Title: "Total ammonia as nitrogen from a kit that reads NH4", Topic: TopicAnimal, Find: "kit ammonium convert", In: []Input{in("NH4_mg_L", "ammonium as read", quantity.MgL, "nh4")}, Out: mgNL, Source: masses,
			Eval: func(a Args) (Answer, error) { return species(a.F("NH4_mg_L"), chem.AsNH4, chem.AsTAN, mgNL) },
		},
		{
			Name: "TAN_mgN_L_from_kit_as_NH3", Title: "Total ammonia as nitrogen from a kit that reads NH3", Topic: TopicAnimal, Find: "kit ammonia convert", In: []Input{in("NH3_mg_L", "ammonia as read", quantity.MgL)}, Out: mgNL, Source: masses,
			Eval: func(a Args) (Answer, error) { return species(a.F("NH3_mg_L"), chem.AsNH3, chem.AsTAN, mgNL) },
		},
		{
			Name: "EPA2013_CCC", Aliases: []string{"ammonia_chronic"}, Title: "Ammonia that snails and mussels bear for a month", Topic: TopicAnimal, Find: "chronic criterion mussels TAN limit", In: []Input{inPH, inT}, Out: "mg TAN-N/L", Source: epa, Valid: "pH 6.5 to 9, 0 to 30 °C",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.AmmoniaChronic(quantity.PH(a.F("pH")), quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("CCC", "0.8876·(0.0278/(1+10^(7.688−{pH})) + 1.1994/(1+10^({pH}−7.688)))·2.126·10^(0.028·(20−{t}))", float64(v), "mg TAN-N/L", "pH", a.F("pH"), "t", a.F("T_C"))), err
			},
		},
		{
			Name: "EPA2013_CMC", Aliases: []string{"ammonia_acute"}, Title: "Ammonia that freshwater animals bear for an hour", Topic: TopicAnimal, Find: "acute criterion TAN limit", In: []Input{inPH, inT}, Out: "mg TAN-N/L", Source: epa, Valid: "pH 6.5 to 9, 0 to 30 °C",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.AmmoniaAcute(quantity.PH(a.F("pH")), quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("CMC", "0.7249·(0.0114/(1+10^(7.204−{pH})) + 1.6181/(1+10^({pH}−7.204)))·min(51.93, 23.12·10^(0.036·(20−{t})))", float64(v), "mg TAN-N/L", "pH", a.F("pH"), "t", a.F("T_C"))), err
			},
		},
		{
			Name: "NH3_N_after_change", Sentence: "Changing {w} of water with TAN {TAN_mgN_L} and KH {KH_d} at {T_C} for water of KH {source_KH_d} leaves, once aerated, free ammonia of", Title: "Free ammonia after a change of water, once aerated", Topic: TopicAnimal, Find: "predicted raise KH pH safe",
			In: []Input{inTAN, inKH, inT, in("w", "share changed", plain, "share").share(), in("source_TAN", "total ammonia of the change water", mgNL).or(0), in("source_KH_d", "KH of the change water", quantity.DKH),
				in("source_T_C", "temperature of the change water", quantity.DegC).opt(), in("room_ppm", "CO2 in the room's air", quantity.PPMAir).or(425), inHeight, in("limit", "NH3-N not to be passed", mgNL).or(0.02)},
			Out: mgNL, Source: emerson, Valid: "after the CO2 has left: the highest pH to be expected",
			Eval: evalAfterChange,
		},
		{
			Name: "NO2_N_to_NO2", Title: "Nitrite from nitrite nitrogen", Topic: TopicAnimal, Find: "kit nitrogen convert", In: []Input{in("NO2_N_mg_L", "nitrite as nitrogen", quantity.MgL)}, Out: quantity.MgL, Source: masses,
			Eval: func(a Args) (Answer, error) { return species(a.F("NO2_N_mg_L"), chem.AsNO2N, chem.AsNO2, quantity.MgL) },
		},
		{
			Name: "Cl_needed_for_16_to_1_molar", Aliases: []string{"chloride_for_nitrite"}, Title: "Chloride that keeps nitrite out of the blood", Topic: TopicAnimal, Find: "salt nitrite NO2 poisoning",
			In: []Input{in("NO2_mg_L", "nitrite", quantity.MgL, "no2"), in("there_mg_L", "chloride that is there", quantity.MgL, "Cl_mg_L", "cl").opt()}, Out: "mg/L Cl", Source: "Tomasso et al. 1979, J. Fish. Res. Board Can. 36, 1141", Valid: "channel catfish; not all fish, and some plants and fish bear little salt",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.ChlorideForNitrite(quantity.MgPerLitre(a.F("NO2_mg_L")))
				ans := one(float64(v), step("Cl", "16 · {NO2} / 46.005 · 35.45", float64(v), "mg/L Cl", "NO2", a.F("NO2_mg_L")))
				if a.Has("there_mg_L") {
					lack := max(0, float64(v)-a.F("there_mg_L"))
					ans.Steps = append(ans.Steps, step("chloride still lacking", "{need} − {there}", lack, "mg/L Cl", "need", float64(v), "there", a.F("there_mg_L")).also())
				}
				return ans.warn(true, "calc.salt_is_a_may"), err
			},
		},
		{
			Name: "NaCl_for_that", Title: "Sodium chloride for a wanted chloride", Topic: TopicAnimal, Find: "table salt chloride nitrite", In: []Input{in("Cl_mg_L", "chloride", quantity.MgL, "cl")}, Out: quantity.MgL, Source: masses,
			Eval: func(a Args) (Answer, error) {
				v, err := chem.SaltForChloride(quantity.MgPerLitre(a.F("Cl_mg_L")))
				return one(float64(v), step("NaCl", "{Cl} · 58.44 / 35.45", float64(v), quantity.MgL, "Cl", a.F("Cl_mg_L"))).warn(true, "calc.salt_is_a_may"), err
			},
		},
	}
}

func evalAfterChange(a Args) (Answer, error) {
	t := quantity.Celsius(a.F("T_C"))
	src := t
	if a.Has("source_T_C") {
		src = quantity.Celsius(a.F("source_T_C"))
	}
	eq, err := chem.CO2WithAir(t, quantity.PartPerMillion(a.F("room_ppm")), quantity.Metre(a.F("altitude_m")))
	if err != nil {
		return Answer{}, err
	}
	tank := chem.Batch{TAN: quantity.MgNPerLitre(a.F("TAN_mgN_L")), KH: quantity.DegreeKH(a.F("KH_d")), Temp: t, Ionic: chem.UsualIonic}
	fresh := chem.Batch{TAN: quantity.MgNPerLitre(a.F("source_TAN")), KH: quantity.DegreeKH(a.F("source_KH_d")), Temp: src, Ionic: chem.UsualIonic}
	r, err := chem.NH3NAfterChange(tank, fresh, quantity.Share(a.F("w")), eq)
	if err != nil {
		return Answer{}, err
	}
	most, err := chem.ChangeForNH3N(tank, fresh, quantity.MgNPerLitre(a.F("limit")), eq)
	w := a.F("w")
	return one(float64(r.NH3N),
		step("TAN", "{a} + {w} · ({b} − {a})", float64(r.TAN), mgNL, "a", float64(tank.TAN), "b", float64(fresh.TAN), "w", w).also(),
		step("KH", "{a} + {w} · ({b} − {a})", float64(r.KH), quantity.DKH, "a", float64(tank.KH), "b", float64(fresh.KH), "w", w).also(),
		step("pH", "~of that KH in air with {x} ppm CO2", float64(r.PH), quantity.PHUnit, "x", a.F("room_ppm")).also(),
		step("NH3-N", "~TAN times its share at that pH", float64(r.NH3N), mgNL),
		Step{Name: "largest change that stays at or below " + figure(a.F("limit")) + " mg/L NH3-N", Value: 100 * float64(most), Unit: quantity.Percent}.also(),
	).warn(float64(r.NH3N) > a.F("limit"), "calc.nh3_above_guide"), err
}

// species converts between ways to write one substance.
func species(v float64, from, to chem.Species, u quantity.Unit) (Answer, error) {
	f, _ := chem.PerSpecies(from, to)
	if err := notNegative(v); err != nil {
		return Answer{}, err
	}
	return one(v*f, step(string(to), "{v} · {f}", v*f, u, "v", v, "f", f)), nil
}

func oxygenDefs() []Def {
	const bk Ref = "Benson and Krause 1984, Limnol. Oceanogr. 29, 620"
	sat := func(a Args) (Answer, error) {
		v, err := chem.OxygenSaturation(quantity.Celsius(a.F("T_C")), quantity.Metre(a.F("altitude_m")))
		return one(float64(v), step("O2", "~saturation at {t} °C and {h} m", float64(v), quantity.MgL, "t", a.F("T_C"), "h", a.F("altitude_m"))), err
	}
	return []Def{
		{Name: "DO_sat_1atm", Aliases: []string{"oxygen_saturation", "DO_sat_760mmHg_rounded"}, Title: "Oxygen of saturated water", Topic: TopicAnimal, In: []Input{inT}, Out: quantity.MgL, Source: bk, Valid: "0 to 40 °C", Eval: sat},
		{Name: "DO_sat_altitude", Title: "Oxygen of saturated water at a height", Topic: TopicAnimal, In: []Input{inT, inHeight}, Out: quantity.MgL, Source: bk, Valid: "0 to 40 °C, to 5000 m", Eval: sat},
		{
			Name: "percent_saturation", Title: "Oxygen as per cent of saturation", Topic: TopicAnimal, Find: "supersaturation DO meter", In: []Input{in("DO_mg_L", "oxygen", quantity.MgL, "o2", "oxygen"), inT, inHeight}, Out: quantity.Percent, Source: bk, Valid: "above 100 % is usual in the light",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.OxygenPercent(quantity.MgPerLitre(a.F("DO_mg_L")), quantity.Celsius(a.F("T_C")), quantity.Metre(a.F("altitude_m")))
				if err != nil {
					return Answer{}, err
				}
				s, err := sat(a)
				return one(v, step("saturation", "100 · {O2} / {sat}", v, quantity.Percent, "O2", a.F("DO_mg_L"), "sat", s.Value)), err
			},
		},
	}
}
