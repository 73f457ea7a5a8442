package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/gear"
	"scaperound/domain/light"
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/volume"
)

// daily are the calculations of every day, in the order of the bench.
var daily = [...]string{
	"dose", "raise_KH", "raise_GH", "dosing_plan", "stock", "change_water", "CO2_full", "NH3_N_after_change", "single_fraction",
	"change_series", "litres_to_line", "light_map", "cylinder_days", "heater_for_tank", "kg_per_m2",
}

// Daily returns the calculations that a practitioner uses every day.
func Daily() []*Def {
	out := make([]*Def, 0, len(daily))
	for _, name := range daily {
		if d, err := Find(name); err == nil {
			out = append(out, d)
		}
	}
	return out
}

// those are the salts that hold a solute, as a list to choose from.
func those(holds func(*salt.Salt) bool) []string {
	var out []string
	for _, s := range salt.All() {
		if holds(s) && !s.Has(salt.Ammonium) {
			out = append(out, s.ID)
		}
	}
	return out
}

// hardnessDefsOfSalts raise KH and GH by a salt.
func hardnessSaltDefs() []Def {
	const src Ref = "mass balance; DIN 38409-6 for the degree"
	kh := word("salt", "salt as sold", those(func(s *salt.Salt) bool { return s.Gives[salt.Alk] > 0 })...)
	gh := word("salt", "salt as sold", those(func(s *salt.Salt) bool { return s.Gives[salt.Ca] > 0 || s.Gives[salt.Mg] > 0 })...)
	return []Def{
		{
			Name: "raise_KH", Title: "Grams of a salt to raise the KH of the tank", Topic: TopicSalt, Find: "alkalinity carbonate hardness bicarbonate buffer increase",
			Sentence: "From KH {from_KH} to {to_KH} in {net_volume_L} net, with {salt}",
			In:       []Input{in("from_KH", "KH now", quantity.DKH, "from"), in("to_KH", "KH wanted", quantity.DKH, "to"), inNet, kh}, Out: quantity.Gr, Source: src,
			Eval: func(a Args) (Answer, error) {
				rise, err := degreesUp(a.F("from_KH"), a.F("to_KH"), "KH")
				if err != nil {
					return Answer{}, err
				}
				ans, err := raise(a, salt.Alk, rise*chem.MeqPerDegree)
				return ans.warn(err == nil && rise > 1, "calc.kh_step"), err
			},
		},
		{
			Name: "raise_GH", Title: "Grams of a salt to raise the GH of the tank", Topic: TopicSalt, Find: "general hardness calcium magnesium gypsum increase",
			Sentence: "From GH {from_GH} to {to_GH} in {net_volume_L} net, with {salt}",
			In:       []Input{in("from_GH", "GH now", quantity.DGH, "from"), in("to_GH", "GH wanted", quantity.DGH, "to"), inNet, gh}, Out: quantity.Gr, Source: src,
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				rise, err := degreesUp(a.F("from_GH"), a.F("to_GH"), "GH")
				if err != nil {
					return Answer{}, err
				}
				of, mass := salt.Ca, chem.MassCa
				if s.Gives[salt.Ca] == 0 {
					of, mass = salt.Mg, chem.MassMg
				}
				ans, err := raise(a, of, rise*chem.MmolPerDegree*mass)
				return ans.warn(err == nil && s.Has(salt.SlowToDissolve), "calc.slow_salt"), err
			},
		},
	}
}

func degreesUp(from, to float64, what string) (float64, error) {
	if to < from {
		return 0, fault.New(fault.Invalid, "%s is already at %s and nothing that is weighed lowers it; change water.", what, figure(from))
	}
	return to - from, nil
}

// raise weighs a salt for a rise of what it brings, in mg/L or meq/L.
func raise(a Args, of salt.Solute, rise float64) (Answer, error) {
	s, err := salt.Find(a.Word("salt", ""))
	if err != nil {
		return Answer{}, err
	}
	if err := s.AllowedWith(true); err != nil {
		return Answer{}, err
	}
	d, err := salt.ForRise(s, of, rise, quantity.Litre(a.F("net_volume_L")))
	if err != nil {
		return Answer{}, err
	}
	ans := one(float64(d.Mass), doseSteps(d, of, rise, a.F("net_volume_L"))...)
	ans.What = s.ID
	return cautions(ans, s), nil
}

// visitDefs are what is worked out beside the tank.
func visitDefs() []Def {
	inLength, inWidth := in("inner_L_cm", "inner length", quantity.CM, "length"), in("inner_W_cm", "inner width", quantity.CM, "width")
	return []Def{
		{
			Name: "litres_to_line", Title: "Litres that leave down to a drain line", Topic: TopicVolume, Find: "water change mark level fall drain litres",
			Sentence: "Letting the level fall by {drop_cm} in a tank of {inner_L_cm} by {inner_W_cm} inside takes out",
			In:       []Input{in("drop_cm", "fall of the level", quantity.CM, "drop"), inLength, inWidth, in("free", "share of the surface that is water", plain).or(1).share()}, Out: quantity.L, Source: "geometry",
			Eval: func(a Args) (Answer, error) {
				v, err := volume.ToLine(quantity.Centimetre(a.F("drop_cm")), quantity.Centimetre(a.F("inner_L_cm")), quantity.Centimetre(a.F("inner_W_cm")), quantity.Share(a.F("free")))
				return one(float64(v), step("litres", "{d} · {L} · {W} · {f}/1000", float64(v), quantity.L, "d", a.F("drop_cm"), "L", a.F("inner_L_cm"), "W", a.F("inner_W_cm"), "f", a.F("free"))), err
			},
		},
		{
			Name: "light_map", Title: "A light map: mean, evenness, what lies in the shade", Topic: TopicLight, Find: "PAR PPFD points spread uniformity minimum corner",
			Sentence: "Points of {PPFD} have a mean of",
			In:       []Input{in("PPFD", "PPFD of the points", quantity.Umol, "ppfd", "par", "points").many(), in("need", "PPFD that the plants need", quantity.Umol).opt()}, Out: quantity.Umol, Source: "definition; EN 12464-1 for uniformity",
			Eval: evalLightMap,
		},
		{
			Name: "cylinder_days", Aliases: []string{"days_left"}, Title: "Days until a CO2 cylinder is to be swapped", Topic: TopicGear, Find: "bottle empty gas left weigh",
			Sentence: "Filled with {charge_kg} of CO2 and {gross_then_kg} at the swap {days} ago, {gross_now_kg} now, it lasts",
			In:       []Input{in("charge_kg", "CO2 filled in", quantity.Kg, "charge"), in("gross_then_kg", "weight at the swap", quantity.Kg, "then"), in("days", "days since the swap", quantity.Day), in("gross_now_kg", "weight now", quantity.Kg, "now")},
			Out:      quantity.Day, Source: "weighing; swapping at a fifth of the charge is practice",
			Eval: evalCylinderDays,
		},
		{
			Name: "co2_left_share", Title: "Share of its charge that a CO2 cylinder still holds", Topic: TopicGear, Share: true, Find: "bottle empty gas left",
			Sentence: "{left_kg} left of a charge of {charge_kg} are",
			In:       []Input{in("left_kg", "CO2 left, by weight", quantity.Kg, "left"), in("charge_kg", "CO2 filled in", quantity.Kg, "charge")}, Out: plain, Source: "weighing; swapping at a fifth of the charge is practice",
			Eval: func(a Args) (Answer, error) {
				v, err := gear.LeftOfCharge(quantity.Kilogram(a.F("left_kg")), quantity.Kilogram(a.F("charge_kg")))
				return one(float64(v), step("share", "{left}/{charge}", float64(v), plain, "left", a.F("left_kg"), "charge", a.F("charge_kg"))).warn(err == nil && v <= gear.SwapShare, "calc.swap_cylinder"), err
			},
		},
		{
			Name: "heater_for_tank", Title: "Heater for a tank by its sizes and the coldest room", Topic: TopicGear, Find: "watts power size heating winter",
			Sentence: "A tank of {inner_L_cm} by {inner_W_cm}, {fill_cm} of water, kept at {water_C} in a room of {room_C} at its coldest needs",
			In:       []Input{inLength, inWidth, in("fill_cm", "water over the bottom", quantity.CM, "level"), in("water_C", "wanted in the tank", quantity.DegC), in("room_C", "room at its coldest", quantity.DegC), in("kg_per_day", "evaporation", kgDay).or(0)},
			Out:      watt, Source: "heat balance; half as much again in reserve is practice", Valid: "two of half the size limit both ways to fail",
			Eval: func(a Args) (Answer, error) {
				side, err := gear.SidesOf(quantity.Centimetre(a.F("inner_L_cm")), quantity.Centimetre(a.F("inner_W_cm")), quantity.Centimetre(a.F("fill_cm")))
				if err != nil {
					return Answer{}, err
				}
				dt := a.F("water_C") - a.F("room_C")
				h, err := gear.SizeHeaters(side, quantity.Kelvin(dt), quantity.Kilogram(a.F("kg_per_day")))
				return one(float64(h.Total),
					step("sides", "2 · ({L} + {W}) · {h}/10000", float64(side), m2, "L", a.F("inner_L_cm"), "W", a.F("inner_W_cm"), "h", a.F("fill_cm")),
					step("glass", "{U} · {A} · {dT}", float64(h.Glass), watt, "U", gear.UsualGlassU, "A", float64(side), "dT", dt),
					step("evaporation", "~of {m} kg a day", float64(h.Evaporation), watt, "m", a.F("kg_per_day")),
					step("each of two heaters", "{P}·1.5/2", float64(h.Each), watt, "P", float64(h.Total)).also()).warn(true, "calc.mains"), err
			},
		},
		{
			Name: "ec_step", Title: "How far a change moves the dissolved salts", Topic: TopicSource, Find: "conductivity EC TDS shock difference before after",
			Sentence: "From {before} to {now} is a step of",
			In:       []Input{in("before", "conductivity before", quantity.USCm), in("now", "conductivity now", quantity.USCm)}, Out: quantity.USCm, Source: "difference; judged by what the tank's last changes did",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.ConductivityStep(quantity.MicroSPerCm(a.F("before")), quantity.MicroSPerCm(a.F("now")))
				return one(float64(v), step("step", "|{now} − {before}|", float64(v), quantity.USCm, "now", a.F("now"), "before", a.F("before"))), err
			},
		},
	}
}

func evalLightMap(a Args) (Answer, error) {
	points := micromols(a.List("PPFD"))
	var need []quantity.Micromol
	if a.Has("need") {
		need = append(need, quantity.Micromol(a.F("need")))
	}
	m, err := light.Measure(points, need...)
	if err != nil {
		return Answer{}, err
	}
	ans := one(float64(m.Mean), step("mean", "Σ/{n}", float64(m.Mean), quantity.Umol, "n", m.Points),
		Step{Name: "darkest point", Value: float64(m.Min), Unit: quantity.Umol}.also(), Step{Name: "brightest point", Value: float64(m.Max), Unit: quantity.Umol}.also(),
		step("evenness, darkest over mean", "{min}/{mean}", float64(m.Uniformity), plain, "min", float64(m.Min), "mean", float64(m.Mean)).also())
	if m.Below.OK {
		ans.Steps = append(ans.Steps, step("below what the plants need", "~points below {need} of {n}, in per cent", 100*float64(m.Below.V), quantity.Percent, "need", a.F("need"), "n", m.Points).also())
	}
	return ans.warn(!m.Enough, "calc.few_points"), nil
}

func evalCylinderDays(a Args) (Answer, error) {
	charge := quantity.Kilogram(a.F("charge_kg"))
	u, err := gear.FromWeighings([]gear.Weighing{{Since: 0, Gross: quantity.Kilogram(a.F("gross_then_kg"))}, {Since: quantity.Days(a.F("days")), Gross: quantity.Kilogram(a.F("gross_now_kg"))}}, quantity.Some(charge), 10)
	if err != nil {
		return Answer{}, err
	}
	if _, err := gear.LeftOfCharge(u.Content.V, charge); err != nil {
		return Answer{}, err
	}
	if u.Lost > charge {
		return Answer{}, fault.New(fault.Invalid, "It has lost %s kg, more than the %s kg that were filled in: one of the weights is wrong.", figure(float64(u.Lost)), figure(float64(charge)))
	}
	left, ok := gear.DaysLeft(u.Content.V, charge, u.PerDay, gear.SwapShare)
	if !ok {
		return Answer{}, fault.New(fault.Invalid, "By these weights nothing is used, or next to nothing: weigh again in a week.")
	}
	return one(float64(left),
		step("use", "({then} − {now}) · 1000/{t}", float64(u.PerDay), quantity.GramDay, "then", a.F("gross_then_kg"), "now", a.F("gross_now_kg"), "t", a.F("days")).also(),
		step("left", "{charge} − ({then} − {now})", float64(u.Content.V), quantity.Kg, "charge", float64(charge), "then", a.F("gross_then_kg"), "now", a.F("gross_now_kg")).also(),
		step("days until a fifth of the charge", "({left} − {charge}/5) · 1000/{use}", float64(left), quantity.Day, "left", float64(u.Content.V), "charge", float64(charge), "use", float64(u.PerDay))).
		warn(left <= 0, "calc.swap_cylinder").warn(true, "calc.gauge_shows_room"), nil
}
