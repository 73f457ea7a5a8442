package calc

import (
	"strings"

	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
	"scaperound/domain/source"
)

func thiosulfate(name, title string, penta bool) Def {
	return Def{Name: name, Title: title, Topic: TopicSource, Find: "chlorine dechlorinator", In: []Input{{Key: "stoichiometry_thio_to_Cl2", Aliases: []string{"reaction"}, Title: "reaction, as thiosulfate to chlorine", Shape: Word, Optional: true, Choices: []string{"1:1 to sulfur+sulfate", "2:1 to tetrathionate", "1:4 to sulfate"}}}, Out: mgPerMg, Source: "balanced reactions; which one runs depends on pH",
		Eval: func(a Args) (Answer, error) {
			r, err := reactionOf(a.Word("stoichiometry_thio_to_Cl2", "2:1"))
			if err != nil {
				return Answer{}, err
			}
			v, err := source.Thiosulfate(r, penta)
			return one(v), err
		}}
}

func reactionOf(s string) (source.Reaction, error) {
	s = strings.ToLower(s)
	switch {
	case strings.HasPrefix(s, "1:4"):
		return source.ToSulfate, nil
	case strings.HasPrefix(s, "2:1") || strings.Contains(s, "tetrathionate"):
		return source.ToTetrathionate, nil
	case strings.HasPrefix(s, "1:1") || strings.Contains(s, "sulfur"):
		return source.ToSulfur, nil
	}
	return 0, fault.New(fault.Invalid, "The reaction is one of 1:1 (to sulfur and sulfate), 2:1 (to tetrathionate) and 1:4 (to sulfate).")
}

func sourceDefs() []Def {
	inChloramine := in("monochloramine_as_Cl2_mg_L", "chloramine as Cl2", quantity.MgL, "chloramine")
	inShare := in("w", "share changed", plain, "share").share()
	return []Def{
		{
			Name: "tap_fraction", Share: true, Sentence: "Tap water of {tap_dGH}, thinned to {target_dGH}, makes up", Title: "Share of tap water in a blend with pure water", Topic: TopicSource, Find: "RO mix osmosis blend hardness",
			In:  []Input{in("tap_dGH", "tap water", quantity.DGH, "tap", "tap_dKH", "tap_EC"), in("target_dGH", "wanted", quantity.DGH, "target", "target_dKH", "target_EC"), in("ro_dGH", "pure water", quantity.DGH, "ro", "ro_dKH", "ro_EC").or(0)},
			Out: plain, Source: "linear mixing",
			Eval: func(a Args) (Answer, error) {
				v, err := source.TapFraction(a.F("target_dGH"), a.F("tap_dGH"), a.F("ro_dGH"))
				return one(float64(v), step("share", "({target} − {ro})/({tap} − {ro})", float64(v), plain, "target", a.F("target_dGH"), "tap", a.F("tap_dGH"), "ro", a.F("ro_dGH"))), err
			},
		},
		{
			Name: "Na_from_softener", Title: "Sodium from a water softener", Topic: TopicSource, Find: "softened tap", In: []Input{in("dGH_removed", "hardness removed", quantity.DGH)}, Out: "mg/L Na", Source: "charge balance of the exchange",
			Eval: func(a Args) (Answer, error) {
				v, err := source.SodiumFromSoftener(quantity.DegreeGH(a.F("dGH_removed")))
				return one(float64(v), step("Na", "{GH} · 2 · 0.178326 · 22.990", float64(v), "mg/L Na", "GH", a.F("dGH_removed"))).warn(true, "calc.softened_water"), err
			},
		},
		thiosulfate("thiosulfate_pentahydrate_mg_per_mg_Cl2", "Sodium thiosulfate pentahydrate for chlorine", true),
		thiosulfate("thiosulfate_anhydrous_mg_per_mg_Cl2", "Anhydrous sodium thiosulfate for chlorine", false),
		{
			Name: "dechlorinator", Sentence: "Chlorine of {Cl2_mg_L} in {litres} takes thiosulfate (pentahydrate)", Title: "Thiosulfate for chlorinated change water", Topic: TopicSource, Find: "chlorine chloramine tap", In: []Input{in("Cl2_mg_L", "chlorine or chloramine as Cl2", quantity.MgL, "cl2"), in("litres", "water treated: the bin's, or the whole tank's where the tap runs into it", quantity.L)}, Out: quantity.Gr, Source: "planned for the most demanding reaction",
			Eval: func(a Args) (Answer, error) {
				v, err := source.Dechlorinator(quantity.MgPerLitre(a.F("Cl2_mg_L")), quantity.Litre(a.F("litres")))
				return one(float64(v), step("pentahydrate", "{Cl2} · {L} · {f}/1000", float64(v), quantity.Gr, "Cl2", a.F("Cl2_mg_L"), "L", a.F("litres"), "f", source.PlannedThiosulfate)), err
			},
		},
		{
			Name: "NH3N_released_mg_L", Aliases: []string{"ammonia_from_chloramine"}, Title: "Ammonia that chloramine leaves", Topic: TopicSource, Find: "tap chlorine ammonium", In: []Input{inChloramine}, Out: mgNL, Source: "one nitrogen per chlorine equivalent",
			Eval: func(a Args) (Answer, error) {
				v, err := source.AmmoniaFromChloramine(quantity.MgPerLitre(a.F("monochloramine_as_Cl2_mg_L")))
				return one(float64(v), step("N", "{Cl2} · 14.007/70.90", float64(v), mgNL, "Cl2", a.F("monochloramine_as_Cl2_mg_L"))), err
			},
		},
		{
			Name: "TAN_in_tank_after_wc", Title: "Ammonia in the tank after a change with chloramine", Topic: TopicSource, Find: "tap chlorine", In: []Input{inChloramine, inShare}, Out: mgNL, Source: "one nitrogen per chlorine equivalent",
			Eval: func(a Args) (Answer, error) {
				v, err := source.AmmoniaFromChloramine(quantity.MgPerLitre(a.F("monochloramine_as_Cl2_mg_L")))
				if err != nil {
					return Answer{}, err
				}
				m, err := source.Mixed(quantity.Share(a.F("w")), float64(v), 0)
				return one(m, step("TAN", "{N} · {w}", m, mgNL, "N", float64(v), "w", a.F("w"))).warn(true, "calc.check_ph_nh3"), err
			},
		},
		{
			Name: "mixed_temperature", Sentence: "Changing {w} of a tank at {T_C} for water at {source_T_C} brings it to", Title: "Temperature after a change", Topic: TopicSource, Find: "cold water can fall", In: []Input{inT, in("source_T_C", "temperature of the change water", quantity.DegC), inShare}, Out: quantity.DegC, Source: "heat balance",
			Eval: func(a Args) (Answer, error) {
				v, err := source.MixedTemperature(quantity.Celsius(a.F("T_C")), quantity.Celsius(a.F("source_T_C")), quantity.Share(a.F("w")))
				return one(float64(v), step("t", "{a} + {w}·({b} − {a})", float64(v), quantity.DegC, "a", a.F("T_C"), "b", a.F("source_T_C"), "w", a.F("w"))).warn(a.F("T_C")-float64(v) > float64(source.LargestFall), "calc.too_cold"), err
			},
		},
		{
			Name: "gas_after_change", Sentence: "Changing {w} of a tank at {T_C} for mains at {source_T_C} leaves gas at", Title: "Dissolved gas after a change with cold water, reheated", Topic: TopicSource, Find: "supersaturation bubbles mains", In: []Input{inT, in("source_T_C", "temperature of the change water", quantity.DegC), inShare}, Out: quantity.Percent, Source: "Benson and Krause 1984; Colt for the limit of 110 %",
			Eval: func(a Args) (Answer, error) {
				v, err := source.GasAfterChange(quantity.Celsius(a.F("T_C")), quantity.Celsius(a.F("source_T_C")), quantity.Share(a.F("w")))
				return one(v, step("gas", "100 · (1 + {w} · (saturation cold/warm − 1))", v, quantity.Percent, "w", a.F("w"))).warn(v > 110, "calc.gas"), err
			},
		},
		{
			Name: "change_series", Sentence: "From {start} to {target}, with water of {source}, at one change a day:", Title: "Series of changes that brings water slowly to a target", Topic: TopicSource, Find: "acclimate safe speed shrimp gradual", In: []Input{in("start", "the tank now", plain), in("target", "wanted", plain), in("source", "the change water", plain), in("relative", "largest change of the value at once", plain).or(0.15).share(), in("absolute", "or so much in its unit, whichever is more", plain).or(2), in("most", "largest share of the water at once", plain).or(0.5).share()}, Out: plain, Source: "dilution; the speeds are practice", Valid: "one change a day",
			Eval: func(a Args) (Answer, error) {
				ss, err := source.Series(a.F("start"), a.F("target"), a.F("source"), source.Speed{Relative: quantity.Share(a.F("relative")), Absolute: a.F("absolute")}, quantity.Share(a.F("most")))
				ans := one(float64(len(ss)))
				ans.What = "changes"
				for i, s := range ss {
					ans.Steps = append(ans.Steps, Step{Name: "change " + figure(float64(i+1)) + ": " + figure(100*float64(s.Share)) + " % of the water" + ", then", Value: s.After, Unit: plain}.also())
				}
				return ans, err
			},
		},
	}
}

// recipe inputs are those of a remineralising order.
var recipeInputs = []Input{
	in("target_dGH", "wanted GH", quantity.DGH, "gh"), in("target_dKH", "wanted KH", quantity.DKH, "kh"), in("Ca_to_Mg_mass", "calcium to magnesium by mass", plain, "ca_mg").or(3),
	in("water_L", "change water", quantity.L, "litres"), {Key: "base", Title: "base water", Shape: Word, Optional: true, Hidden: true},
	{Key: "salts", Title: "salts at hand", Shape: Words, Optional: true, Choices: those(func(s *salt.Salt) bool { return s.Gives[salt.Ca]+s.Gives[salt.Mg]+s.Gives[salt.Alk] > 0 })},
	in("tap_dGH", "GH of tap water to blend in", quantity.DGH).opt(), in("tap_dKH", "KH of tap water to blend in", quantity.DKH).opt(), in("K_max", "potassium at most", quantity.MgL).opt(), in("Na_max", "sodium at most", quantity.MgL).opt(), in("Cl_max", "chloride at most", quantity.MgL).opt(),
}

func orderOf(a Args) (salt.Order, error) {
	if b := strings.ToUpper(a.Word("base", "RO")); !strings.HasPrefix(b, "RO") && !strings.HasPrefix(b, "PURE") {
		return salt.Order{}, fault.New(fault.Invalid, "The base is pure water (RO); give tap water by tap_dGH and tap_dKH.")
	}
	o := salt.Order{Litres: quantity.Litre(a.F("water_L")), GH: quantity.DegreeGH(a.F("target_dGH")), KH: quantity.DegreeKH(a.F("target_dKH")), CaToMg: a.F("Ca_to_Mg_mass")}
	for _, id := range a.WordList("salts") {
		s, err := salt.Find(id)
		if err != nil {
			return o, err
		}
		if err := s.AllowedWith(true); err != nil {
			return o, err
		}
		o.Salts = append(o.Salts, s)
	}
	for _, c := range [...]struct {
		key string
		of  salt.Solute
	}{{"K_max", salt.K}, {"Na_max", salt.Na}, {"Cl_max", salt.Cl}} {
		if a.Has(c.key) {
			o.Caps = append(o.Caps, salt.Aim{Of: c.of, Value: a.F(c.key), AtMost: true})
		}
	}
	if a.Has("tap_dGH") || a.Has("tap_dKH") {
		o.HasTap = true
		// The hardness of tap water is counted as three parts of calcium to one of
		// magnesium where no analysis is at hand.
		ca, mg, err := chem.CaMgFromGH(quantity.DegreeGH(a.F("tap_dGH")), 3)
		if err != nil {
			return o, err
		}
		o.Tap[salt.Ca], o.Tap[salt.Mg] = float64(ca), float64(mg)
		o.Tap[salt.Alk] = a.F("tap_dKH") * chem.MeqPerDegree
	}
	return o, nil
}

func recipe(a Args, pick func(salt.ChangeWater) float64) (Answer, error) {
	o, err := orderOf(a)
	if err != nil {
		return Answer{}, err
	}
	w, err := salt.Mix(o)
	if err != nil {
		return Answer{}, err
	}
	var steps []Step
	if w.Tap > 0 {
		steps = append(steps, Step{Name: "tap water", Value: float64(w.Tap), Unit: quantity.L}.also(), Step{Name: "pure water", Value: float64(w.RO), Unit: quantity.L}.also())
	}
	for _, x := range w.Weigh {
		steps = append(steps, Step{Name: x.Salt.ID, Value: float64(x.Mass), Unit: quantity.Gr}.also())
	}
	steps = append(steps, Step{Name: "GH", Value: float64(w.GH), Unit: quantity.DGH}.also(), Step{Name: "KH", Value: float64(w.KH), Unit: quantity.DKH}.also())
	for i := salt.Solute(0); i < salt.SoluteCount; i++ {
		if v := w.Reached[i]; v > 0.005 && i != salt.Alk {
			steps = append(steps, Step{Name: i.String(), Value: v, Unit: quantity.MgL}.also())
		}
	}
	ans := one(pick(w), steps...)
	for _, m := range w.Missed {
		u, of, want, got := quantity.MgL, m.Of.String(), m.Value, m.Reached
		if m.Of == salt.Alk {
			u, of, want, got = quantity.DKH, "KH", want/chem.MeqPerDegree, got/chem.MeqPerDegree
		}
		ans = ans.warn(true, "calc.target_missed", say.Text("what", of), say.Num("want", want, u, 1), say.Num("nearest", got, u, 1))
	}
	var used []*salt.Salt
	for _, x := range w.Weigh {
		used = append(used, x.Salt)
	}
	return cautions(ans.warn(w.Slow, "calc.slow_salt"), used...), nil
}

// reminOf is the amount of one salt in a recipe.
func reminOf(name, id string) *Def {
	return &Def{Name: name, Title: "Grams of " + id + " in a remineralising recipe", Topic: TopicSource, In: recipeInputs, Out: quantity.Gr, Source: refNNLS, Eval: func(a Args) (Answer, error) {
		return recipe(a, func(w salt.ChangeWater) float64 {
			for _, x := range w.Weigh {
				if x.Salt.ID == id {
					return float64(x.Mass)
				}
			}
			return 0
		})
	}}
}

const refNNLS Ref = "non-negative least squares, Lawson and Hanson 1974; molar masses"

func remineralDefs() []Def {
	reached := func(name, title string, of salt.Solute, aliases ...string) Def {
		return Def{Name: name, Aliases: aliases, Title: title, Topic: TopicSource, In: recipeInputs, Out: quantity.MgL, Source: refNNLS,
			Eval: func(a Args) (Answer, error) {
				return recipe(a, func(w salt.ChangeWater) float64 { return w.Reached[of] })
			}}
	}
	return []Def{
		{
			Name: "change_water", Sentence: "For {water_L} at GH {target_dGH} and KH {target_dKH}, of pure water and tap water of GH {tap_dGH} and KH {tap_dKH}, take", Aliases: []string{"remineralise", "remineralize"}, Title: "Change water: what to blend and weigh for a GH and KH", Topic: TopicSource, Find: "RO osmosis gypsum salts hardness recipe can", In: recipeInputs, Out: quantity.L, Source: refNNLS,
			Eval: func(a Args) (Answer, error) {
				ans, err := recipe(a, func(w salt.ChangeWater) float64 { return float64(w.RO) })
				ans.What = "pure water"
				return ans, err
			},
		},
		reached("Ca_mg_L", "Calcium of a remineralising recipe", salt.Ca),
		reached("Mg_mg_L", "Magnesium of a remineralising recipe", salt.Mg),
		reached("K_mg_L_side_effect", "Potassium that a remineralising recipe brings", salt.K),
		*reminOf("g_CaSO4.2H2O", "CaSO4.2H2O"),
		*reminOf("g_MgSO4.7H2O", "MgSO4.7H2O"),
		*reminOf("g_KHCO3", "KHCO3"),
	}
}
