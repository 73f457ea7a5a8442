package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

func notNegative(v float64) error { return num.Within("The value", v, 0, 1e7, "") }

// factor is a fixed number; value lets one convert an amount with it.
func factor(name, title string, f float64, u quantity.Unit, src Ref) Def {
	return Def{
		Name: name, Title: title, Topic: TopicFact, In: []Input{in("value", "amount to convert", plain).or(1)}, Out: u, Source: src,
		Eval: func(a Args) (Answer, error) {
			v := a.F("value") * f
			return one(v, step(name, "{v} · {f}", v, u, "v", a.F("value"), "f", f)), notNegative(a.F("value"))
		},
	}
}

func unitDefs() []Def {
	const src Ref = "definition of the degree (10 mg/L CaO); abridged IUPAC atomic weights"
	per := func(from, to chem.Species) float64 { f, _ := chem.PerSpecies(from, to); return f }
	return []Def{
		factor("dGH_in_mmol_L", "mmol/L of calcium and magnesium in a degree of GH", chem.MmolPerDegree, quantity.MmolL, src),
		factor("dKH_in_meq_L", "meq/L of alkalinity in a degree of KH", chem.MeqPerDegree, quantity.MeqL, src),
		factor("dH_in_mgL_CaCO3", "mg/L of CaCO3 in a degree", chem.CaCO3PerDegree, quantity.MgL, src),
		factor("dKH_in_mgL_HCO3", "mg/L of bicarbonate in a degree of KH", chem.HCO3PerDegree, quantity.MgL, src),
		factor("dGH_all_Ca_mg_L", "mg/L of calcium in a degree of GH, if all is calcium", chem.CaPerDegree, quantity.MgL, src),
		factor("dGH_all_Mg_mg_L", "mg/L of magnesium in a degree of GH, if all is magnesium", chem.MgPerDegree, quantity.MgL, src),
		factor("French_deg_in_dH", "German degrees in a French degree", chem.PerFrench, "deg d", src),
		factor("Clark_deg_in_mgL_CaCO3", "mg/L of CaCO3 in a Clark degree", chem.CaCO3PerClark, quantity.MgL, src),
		factor("Clark_deg_in_dH", "German degrees in a Clark degree", chem.PerClark, "deg d", src),
		factor("grain_per_US_gal_in_mgL_CaCO3", "mg/L of CaCO3 in a grain per US gallon", chem.CaCO3PerGrain, quantity.MgL, src),
		factor("grain_per_US_gal_in_dH", "German degrees in a grain per US gallon", chem.PerGrain, "deg d", src),
		factor("meq_L_in_dKH", "degrees of KH in a meq/L", 1/chem.MeqPerDegree, "deg d", src),
		factor("NO3_per_NO3N", "Nitrate in nitrate nitrogen", per(chem.AsNO3N, chem.AsNO3), plain, src),
		factor("NO2_per_NO2N", "Nitrite in nitrite nitrogen", per(chem.AsNO2N, chem.AsNO2), plain, src),
		factor("PO4_per_P", "Phosphate in phosphorus", per(chem.AsP, chem.AsPO4), plain, src),
		factor("K_per_K2O", "Potassium in K2O", per(chem.AsK2O, chem.AsK), plain, src),
		factor("P_per_P2O5", "Phosphorus in P2O5", per(chem.AsP2O5, chem.AsP), plain, src),
		factor("PO4_per_P2O5", "Phosphate in P2O5", per(chem.AsP2O5, chem.AsPO4), plain, src),
		factor("Ca_per_CaO", "Calcium in CaO", per(chem.AsCaO, chem.AsCa), plain, src),
		factor("Mg_per_MgO", "Magnesium in MgO", per(chem.AsMgO, chem.AsMg), plain, src),
	}
}

// ionInputs ask for an analysis; what is left out is taken as none.
var ionInputs = func() []Input {
	var out []Input
	for i := chem.Ion(0); i < chem.IonCount; i++ {
		if i != chem.HCO3 {
			out = append(out, in(i.String()+"_mg_L", i.String(), quantity.MgL, i.String()).or(0))
		}
	}
	return append(out, in("KH_d", "carbonate hardness", quantity.DKH, "kh").or(0))
}()

func ionsOf(a Args) chem.Ions {
	var w chem.Ions
	for i := range w {
		if chem.Ion(i) == chem.HCO3 {
			w[i] = quantity.MgPerLitre(a.F("KH_d") * chem.HCO3PerDegree)
		} else {
			w[i] = quantity.MgPerLitre(a.F(chem.Ion(i).String() + "_mg_L"))
		}
	}
	return w
}

func hardnessDefs() []Def {
	const src Ref = "molar masses, abridged IUPAC atomic weights; DIN 38409-6 for the degree"
	inEC25 := in("EC_uS_cm", "conductivity at 25 °C", quantity.USCm, "ec")
	return []Def{
		{
			Name: "GH_from_Ca_Mg", Aliases: []string{"gh"}, Title: "GH from calcium and magnesium", Topic: TopicHard, Find: "general hardness degrees", In: []Input{in("Ca_mg_L", "calcium", quantity.MgL, "ca"), in("Mg_mg_L", "magnesium", quantity.MgL, "mg")}, Out: "deg d", Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := chem.GHFromCaMg(quantity.MgPerLitre(a.F("Ca_mg_L")), quantity.MgPerLitre(a.F("Mg_mg_L")))
				return one(float64(v), step("GH", "({Ca}/40.078 + {Mg}/24.305)/0.178326", float64(v), quantity.DGH, "Ca", a.F("Ca_mg_L"), "Mg", a.F("Mg_mg_L"))), err
			},
		},
		{
			Name: "EC_from_ions", Title: "Conductivity of an analysis", Topic: TopicHard, Find: "EC lie detector predicted", In: ionInputs, Out: quantity.USCm, Source: "Kohlrausch; ion conductivities of the CRC Handbook",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.Conductivity(ionsOf(a))
				return one(v.Value, step("EC", "0.95 · Σ λ·|z|·c", v.Value, quantity.USCm)).between(v.Lo, v.Hi), err
			},
		},
		{
			Name: "ion_balance", Title: "Charge balance of an analysis", Topic: TopicHard, Find: "cations anions error check report", In: ionInputs, Out: quantity.Percent, Source: "Standard Methods 1030 E",
			Eval: func(a Args) (Answer, error) {
				b, err := chem.IonBalance(ionsOf(a))
				v := 100 * float64(b.Error)
				return one(v, step("cations", "", float64(b.Cations), quantity.MeqL), step("anions", "", float64(b.Anions), quantity.MeqL),
					step("error", "100 · ({c} − {a})/({c} + {a})", v, quantity.Percent, "c", float64(b.Cations), "a", float64(b.Anions))).warn(!b.Sound, "calc.ions_unbalanced"), err
			},
		},
		{
			Name: "EC_check", Aliases: []string{"lie_detector"}, Title: "Can these readings be true? Conductivity against the ions", Topic: TopicHard, Find: "EC lie detector wrong reading", In: append([]Input{inEC25}, ionInputs...), Out: quantity.USCm, Source: "Kohlrausch; ion conductivities of the CRC Handbook",
			Eval: func(a Args) (Answer, error) {
				w := ionsOf(a)
				v, err := chem.LieDetector(quantity.MicroSPerCm(a.F("EC_uS_cm")), w, 0.05)
				if err != nil {
					return Answer{}, err
				}
				c, err := chem.Conductivity(w)
				return one(c.Value, step("EC of the readings", "0.95 · Σ λ·|z|·c", c.Value, quantity.USCm)).between(c.Lo, c.Hi).
					warn(v == chem.TooMuch, "calc.readings_too_high").warn(v == chem.Unknown, "calc.something_else_conducts"), err
			},
		},
		{
			Name: "EC25", Title: "Conductivity referred to 25 °C", Topic: TopicHard, Find: "temperature compensation conductivity", In: []Input{inEC25, inT}, Out: quantity.USCm, Source: "ISO 7888, 1.9 % per K",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.EC25(quantity.MicroSPerCm(a.F("EC_uS_cm")), quantity.Celsius(a.F("T_C")))
				return one(float64(v), step("EC25", "{EC}/(1 + 0.019·({t} − 25))", float64(v), quantity.USCm, "EC", a.F("EC_uS_cm"), "t", a.F("T_C"))), err
			},
		},
		{
			Name: "TDS_from_EC", Title: "Dissolved solids from conductivity", Topic: TopicHard, Find: "ppm meter solids", In: []Input{inEC25, in("factor", "the meter's factor", plain).or(0.64)}, Out: quantity.MgL, Source: "customary factor; meters differ",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.DissolvedSolids(quantity.MicroSPerCm(a.F("EC_uS_cm")), a.F("factor"))
				return one(float64(v), step("TDS", "{f} · {EC}", float64(v), quantity.MgL, "f", a.F("factor"), "EC", a.F("EC_uS_cm"))), err
			},
		},
	}
}
