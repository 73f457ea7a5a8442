package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/quantity"
	"scaperound/domain/say"
)

const (
	refCO2 Ref = "Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46, 1011; activities after Davies 1962"
	refAir Ref = "Weiss 1974, Mar. Chem. 2, 203; Weiss and Price 1980, Mar. Chem. 8, 347; ISO 2533 for the pressure"
	refGUM Ref = "Plummer and Busenberg 1982; JCGM 100:2008 for the interval"
)

// water reads temperature and ionic strength, which conductivity may stand for.
func water(a Args) (chem.Water, error) {
	w := chem.Water{Temp: quantity.Celsius(a.F("T_C")), Ionic: quantity.MolPerLitre(a.F("I_mol_L"))}
	if a.Has("EC_uS_cm") && !a.Has("I_mol_L") {
		i, err := chem.IonicFromEC(quantity.MicroSPerCm(a.F("EC_uS_cm")))
		if err != nil {
			return w, err
		}
		w.Ionic = i
	}
	return w, nil
}

// reading makes an interval of a value and its half width, or of explicit ends.
func reading(a Args, key, half, lo, hi string) quantity.Interval {
	v, h := a.F(key), a.F(half)
	r := quantity.Interval{Value: v, Lo: v - h, Hi: v + h}
	if a.Has(lo) {
		r.Lo = a.F(lo)
	}
	if a.Has(hi) {
		r.Hi = a.F(hi)
	}
	r.Value = min(max(v, r.Lo), r.Hi)
	return r
}

var widthInputs = []Input{
	in("dKH", "half width of what the KH reading can mean", quantity.DKH).or(0),
	in("dpH", "half width of what the pH reading can mean", quantity.PHUnit, "dPH").or(0),
	in("dT", "half width of what the thermometer can mean", kelvin).or(0),
	in("KH_lo", "lowest KH that the reading can mean", quantity.DKH).opt(),
	in("KH_hi", "highest KH that the reading can mean", quantity.DKH).opt(),
	in("pH_lo", "lowest pH that the reading can mean", quantity.PHUnit).opt(),
	in("pH_hi", "highest pH that the reading can mean", quantity.PHUnit).opt(),
}

func estimate(a Args) (chem.CO2Estimate, chem.Water, error) {
	w, err := water(a)
	if err != nil {
		return chem.CO2Estimate{}, w, err
	}
	e, err := chem.CO2Interval(reading(a, "pH", "dpH", "pH_lo", "pH_hi"), reading(a, "KH_d", "dKH", "KH_lo", "KH_hi"), reading(a, "T_C", "dT", "", ""), w.Ionic)
	return e, w, err
}

// co2Steps writes the way from pH and KH to CO2.
func co2Steps(ph, kh float64, w chem.Water, value float64) []Step {
	pk1, err1 := chem.PK1(w.Temp)
	g1, err2 := chem.GammaDavies(w.Temp, w.Ionic, 1)
	if err1 != nil || err2 != nil {
		return nil
	}
	short, _ := chem.CO2Shortcut(quantity.PH(ph), quantity.DegreeKH(kh))
	alk := kh * chem.MeqPerDegree
	steps := []Step{
		step("alkalinity", "{KH} · 0.356652", alk, quantity.MeqL, "KH", kh),
		step("pK1", "~at {t} °C", pk1, plain, "t", float64(w.Temp)),
		step("γ1", "~Davies at I = {I} mol/L", g1, plain, "I", float64(w.Ionic)),
		step("CO2", "44.009 · {Alk} · {γ1} · 10^({pK1} − {pH}), less OH⁻ and CO3²⁻", value, quantity.MgL, "Alk", alk, "γ1", g1, "pK1", pk1, "pH", ph),
		step("shortcut of the trade", "3 · {KH} · 10^(7 − {pH})", float64(short), quantity.MgL, "KH", kh, "pH", ph).also(),
	}
	if value > 0 {
		steps = append(steps, step("the shortcut's error", "({short} / {full} − 1) · 100", (float64(short)/value-1)*100, quantity.Percent, "short", float64(short), "full", value).also())
	}
	return steps
}

func co2Defs() []Def {
	basic := []Input{inPH, inKH, inT, inIonic, inEC}
	ranged := append(append([]Input{}, basic...), widthInputs...)
	air := []Input{inT, in("xCO2_ppm_dry", "CO2 in the dry air", quantity.PPMAir, "room_ppm", "ppm").or(425), inHeight}
	room := in("room_ppm", "CO2 in the room's air", quantity.PPMAir, "ppm").or(425)
	return []Def{
		{
			Name: "CO2_full", Sentence: "At pH {pH}, KH {KH_d} and {T_C} the water holds CO2 of", Aliases: []string{"co2", "co2_from_ph_kh"}, Title: "CO2 from pH and KH", Topic: TopicCO2, Find: "carbon dioxide dissolved gas too much carbonate ppm indicator bubbles",
			In: ranged, Out: quantity.MgL, Source: refCO2, Valid: "pH 5 to 8.6, KH from 0.5 °d, all alkalinity carbonate; otherwise an upper bound or an extrapolation",
			Eval: func(a Args) (Answer, error) {
				e, w, err := estimate(a)
				if err != nil {
					return Answer{}, err
				}
				p, k := reading(a, "pH", "dpH", "pH_lo", "pH_hi"), reading(a, "KH_d", "dKH", "KH_lo", "KH_hi")
				ans := one(float64(e.Value), co2Steps((p.Lo+p.Hi)/2, (k.Lo+k.Hi)/2, w, float64(e.Value))...)
				if e.Hi > e.Lo {
					ans.Steps = append(ans.Steps,
						Step{Name: "lowest that the readings allow", Value: float64(e.Lo), Unit: quantity.MgL}.also(),
						Step{Name: "highest that the readings allow", Value: float64(e.Hi), Unit: quantity.MgL}.also())
					ans = ans.between(float64(e.Lo90), float64(e.Hi90))
				}
				ans = ans.warn(!e.Trusted, "calc.co2_extrapolated")
				ans = ans.warn(e.UpperOnly, "calc.co2_upper_only", say.Num("hi", float64(e.Hi), quantity.MgL, 1))
				return ans.warn(a.F("KH_d") < 2, "calc.co2_low_kh"), nil
			},
		},
		{
			Name: "CO2_lo_hard", Title: "Lowest CO2 that the readings of pH and KH allow", Topic: TopicCO2, Find: "interval lowest error", In: ranged, Out: quantity.MgL, Source: refGUM,
			Eval: func(a Args) (Answer, error) {
				e, _, err := estimate(a)
				return one(float64(e.Lo), Step{Name: "CO2 at the lowest KH and the highest pH", Value: float64(e.Lo), Unit: quantity.MgL}), err
			},
		},
		{
			Name: "CO2_hi_hard", Title: "Highest CO2 that the readings of pH and KH allow", Topic: TopicCO2, Find: "interval highest error", In: ranged, Out: quantity.MgL, Source: refGUM,
			Eval: func(a Args) (Answer, error) {
				e, _, err := estimate(a)
				return one(float64(e.Hi), Step{Name: "CO2 at the highest KH and the lowest pH", Value: float64(e.Hi), Unit: quantity.MgL}), err
			},
		},
		{
			Name: "sigma_lnCO2_uniform_halfwidths", Aliases: []string{"sigma_ln_co2"}, Title: "Relative error of CO2 from half widths of the readings", Topic: TopicCO2, In: ranged, Out: plain, Source: refGUM,
			Eval: func(a Args) (Answer, error) {
				e, _, err := estimate(a)
				return one(e.SigmaLn, step("σ of ln CO2", "√(({dKH}/{KH})² + (2.302585·{dpH})² + (0.013·{dT})²)/√3", e.SigmaLn, plain,
					"dKH", a.F("dKH"), "KH", a.F("KH_d"), "dpH", a.F("dpH"), "dT", a.F("dT"))), err
			},
		},
		{
			Name: "CO2_shortcut", Sentence: "By the shortcut, pH {pH} and KH {KH_d} mean CO2 of", Title: "CO2 by the shortcut of the trade", Topic: TopicCO2, Find: "rule of thumb 3 KH", In: []Input{inPH, inKH}, Out: quantity.MgL, Source: "practice of the trade, no primary source",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.CO2Shortcut(quantity.PH(a.F("pH")), quantity.DegreeKH(a.F("KH_d")))
				return one(float64(v), step("CO2", "3 · {KH} · 10^(7 − {pH})", float64(v), quantity.MgL, "KH", a.F("KH_d"), "pH", a.F("pH"))).warn(true, "calc.shortcut_low"), err
			},
		},
		{
			Name: "shortcut_over_full_minus_1", Share: true, Aliases: []string{"shortcut_error"}, Title: "Error of the shortcut for CO2", Topic: TopicCO2, In: basic, Out: plain, Source: refCO2,
			Eval: func(a Args) (Answer, error) {
				w, err := water(a)
				if err != nil {
					return Answer{}, err
				}
				p, k := quantity.PH(a.F("pH")), quantity.DegreeKH(a.F("KH_d"))
				v, err := chem.ShortcutError(p, k, w)
				if err != nil {
					return Answer{}, err
				}
				full, err := chem.CO2(p, k, w)
				return one(v, co2Steps(a.F("pH"), a.F("KH_d"), w, float64(full))...), err
			},
		},
		{
			Name: "pH_from_CO2", Sentence: "For CO2 of {CO2_mg_L} at KH {KH_d} and {T_C} the pH is", Aliases: []string{"ph_for_co2"}, Title: "pH for a wanted CO2", Topic: TopicCO2, Find: "target controller set point",
			In: []Input{in("CO2_mg_L", "wanted CO2", quantity.MgL, "co2"), inKH, inT, inIonic, inEC}, Out: quantity.PHUnit, Source: refCO2,
			Eval: func(a Args) (Answer, error) {
				w, err := water(a)
				if err != nil {
					return Answer{}, err
				}
				v, err := chem.PHForCO2(quantity.MgPerLitre(a.F("CO2_mg_L")), quantity.DegreeKH(a.F("KH_d")), w)
				if err != nil {
					return Answer{}, err
				}
				ans := one(float64(v), co2Steps(float64(v), a.F("KH_d"), w, a.F("CO2_mg_L"))...)
				return ans.warn(a.F("CO2_mg_L") > 30, "calc.co2_animals"), nil
			},
		},
		{
			Name: "CO2_equilibrium", Aliases: []string{"co2_with_air"}, Title: "CO2 of water in equilibrium with air", Topic: TopicCO2, Find: "degassed room altitude", In: air, Out: quantity.MgL, Source: refAir,
			Eval: func(a Args) (Answer, error) {
				v, err := chem.CO2WithAir(quantity.Celsius(a.F("T_C")), quantity.PartPerMillion(a.F("xCO2_ppm_dry")), quantity.Metre(a.F("altitude_m")))
				if err != nil {
					return Answer{}, err
				}
				p, err := chem.AirPressure(quantity.Metre(a.F("altitude_m")))
				return one(float64(v),
					step("air pressure", "(1 − 2.25577e-5 · {h})^5.25588", float64(p), "atm", "h", a.F("altitude_m")),
					step("CO2", "{x}e-6 · (P − pH2O) · K0({t} °C) · 44009", float64(v), quantity.MgL, "x", a.F("xCO2_ppm_dry"), "t", a.F("T_C"))), err
			},
		},
		{
			Name: "pH_with_air", Aliases: []string{"ph_degassed_expected"}, Title: "pH of water of a KH in equilibrium with air", Topic: TopicCO2, Find: "degassed sample reference expected",
			In: []Input{inKH, inT, inIonic, inEC, room, inHeight}, Out: quantity.PHUnit, Source: refAir,
			Eval: func(a Args) (Answer, error) {
				w, err := water(a)
				if err != nil {
					return Answer{}, err
				}
				v, err := chem.PHInAir(quantity.DegreeKH(a.F("KH_d")), w, airOf(a))
				return one(float64(v), step("pH", "~at which KH {KH} holds the CO2 of air with {x} ppm", float64(v), quantity.PHUnit, "KH", a.F("KH_d"), "x", a.F("room_ppm"))), err
			},
		},
		{
			Name: "CO2_from_pH_drop", Aliases: []string{"co2_by_drop"}, Title: "CO2 from the drop of pH against an aerated sample", Topic: TopicCO2, Find: "degassed reference delta",
			In:  []Input{in("pH_degassed", "pH of the aerated sample", quantity.PHUnit), in("pH_tank", "pH of the tank", quantity.PHUnit), inT, room, inHeight, inKH.opt(), inIonic, in("dpH", "half width of both pH readings", quantity.PHUnit).or(0), in("room_hi", "highest CO2 that the room may hold", quantity.PPMAir).opt()},
			Out: quantity.MgL, Source: "mass action at constant alkalinity; Weiss 1974 for the sample", Valid: "both at the tank's temperature, the sample's pH no longer moving",
			Eval: evalDrop,
		},
		{
			Name: "dpH_needed", Title: "Drop of pH for a wanted CO2", Topic: TopicCO2, Find: "ph drop target", In: []Input{in("CO2_target", "wanted CO2", quantity.MgL, "CO2_mg_L", "co2"), inT, room, inHeight}, Out: quantity.PHUnit, Source: "inverse of the pH-drop method",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.DropForCO2(quantity.MgPerLitre(a.F("CO2_target")), quantity.Celsius(a.F("T_C")), airOf(a))
				if err != nil {
					return Answer{}, err
				}
				eq, err := chem.CO2WithAir(quantity.Celsius(a.F("T_C")), airOf(a).CO2, airOf(a).Altitude)
				return one(float64(v), step("CO2 of the sample", "~with air of {x} ppm", float64(eq), quantity.MgL, "x", a.F("room_ppm")),
					step("drop", "log({wanted} / {sample})", float64(v), quantity.PHUnit, "wanted", a.F("CO2_target"), "sample", float64(eq))), err
			},
		},
		{
			Name: "KH_overread_from_phosphate_d", Title: "KH that is phosphate and not carbonate", Topic: TopicCO2, Find: "non-carbonate alkalinity buffer",
			In: []Input{in("PO4_mg_L", "phosphate", quantity.MgL, "po4"), inPH, in("pK2_P", "pK2 of phosphoric acid", plain).or(chem.PhosphatePK2)}, Out: quantity.DKH, Source: "speciation of H2PO4-/HPO4-- with pK2 = 7.20",
			Eval: func(a Args) (Answer, error) {
				// Another pK2 shifts the curve along the pH axis.
				v, err := chem.KHFromPhosphate(quantity.MgPerLitre(a.F("PO4_mg_L")), quantity.PH(a.F("pH")-a.F("pK2_P")+chem.PhosphatePK2))
				return one(float64(v), step("KH", "{PO4} / 94.97 / (1 + 10^({pK2} − {pH})) / 0.356652", float64(v), quantity.DKH, "PO4", a.F("PO4_mg_L"), "pK2", a.F("pK2_P"), "pH", a.F("pH"))), err
			},
		},
		{
			Name: "KH_overread_endpoint_pH4.3_d", Aliases: []string{"KH_overread_endpoint"}, Title: "KH read too high by a fixed end point", Topic: TopicCO2, Find: "titration test error",
			In: []Input{in("endpoint_pH", "pH of the end point", quantity.PHUnit).or(4.3)}, Out: quantity.DKH, Source: "free acid at the end point",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.KHFromEndpoint(quantity.PH(a.F("endpoint_pH")))
				return one(float64(v), step("KH", "10^(3 − {pH}) / 0.356652", float64(v), quantity.DKH, "pH", a.F("endpoint_pH"))), err
			},
		},
		{
			Name: "carbonate_gap", Aliases: []string{"kh_check"}, Title: "Is the KH all carbonate? An aerated sample's pH against its KH", Topic: TopicCO2, Find: "non-carbonate humic doubt disagree",
			In: []Input{in("pH_degassed", "pH of the aerated sample", quantity.PHUnit), inKH, inT, inIonic, inEC, room, inHeight}, Out: quantity.PHUnit, Source: "Abril et al. 2015, Biogeosciences 12, 67; the limit of 0.3 is a judgement",
			Eval: func(a Args) (Answer, error) {
				w, err := water(a)
				if err != nil {
					return Answer{}, err
				}
				g, err := chem.CarbonateDoubt(quantity.PH(a.F("pH_degassed")), quantity.DegreeKH(a.F("KH_d")), w, airOf(a))
				return one(float64(g.Gap), step("gap", "{measured} − {expected}", float64(g.Gap), quantity.PHUnit, "measured", a.F("pH_degassed"), "expected", float64(g.Expected))).warn(g.Doubt, "calc.carbonate_doubt"), err
			},
		},
	}
}

func airOf(a Args) chem.Air {
	return chem.Air{CO2: quantity.PartPerMillion(a.F("room_ppm")), Altitude: quantity.Metre(a.F("altitude_m"))}
}
