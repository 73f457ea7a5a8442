package calc

import (
	"strings"

	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
)

const (
	refMass Ref = "mass balance; abridged IUPAC atomic weights"
	refCRC  Ref = "CRC Handbook of Chemistry and Physics, 98th ed."
)

func soluteOf(name string) (salt.Solute, error) {
	for i := salt.Solute(0); i < salt.SoluteCount; i++ {
		if strings.EqualFold(i.String(), name) {
			return i, nil
		}
	}
	return 0, fault.New(fault.Invalid, "“%s” is not something that a salt brings; try NO3, PO4, K, Mg, Ca, Fe …", name)
}

// doseSteps writes what a dose weighs and what comes along.
func doseSteps(d salt.Dose, of salt.Solute, rise float64, net float64) []Step {
	frac := d.Salt.Gives[of]
	steps := []Step{step(d.Salt.ID, "{rise} · {V}/(1000 · {share})", float64(d.Mass), quantity.Gr, "rise", rise, "V", net, "share", frac)}
	if of == salt.Alk {
		steps[0] = step(d.Salt.ID, "{rise} · {V}/{meq}", float64(d.Mass), quantity.Gr, "rise", rise, "V", net, "meq", frac)
	}
	for i, v := range d.Adds {
		if v > 0 && salt.Solute(i) != of {
			u := quantity.MgL
			if salt.Solute(i) == salt.Alk {
				u = quantity.MeqL
			}
			steps = append(steps, Step{Name: "brings along " + salt.Solute(i).String(), Value: v, Unit: u}.also())
		}
	}
	if ec, err := chem.Conductivity(d.Adds.Ions()); err == nil && ec.Value > 0 {
		steps = append(steps, Step{Name: "conductivity should rise by", Value: ec.Value, Unit: quantity.USCm}.also())
	}
	return steps
}

// cautions says what to heed with the salts; what holds for any salt is said once.
func cautions(a Answer, salts ...*salt.Salt) Answer {
	labelled := false
	for _, s := range salts {
		name, _, _ := strings.Cut(s.Name, ",") // without what only tells it from its like
		for _, c := range s.Cautions() {
			if c == salt.NoFoodBottles {
				labelled = true
				continue
			}
			a = a.warn(true, "caution."+string(c), say.Text("salt", name))
		}
	}
	return a.warn(labelled, "caution."+string(salt.NoFoodBottles))
}

func saltDefs() []Def {
	inSalt := word("salt", "salt as sold", saltNames()...)
	return []Def{
		{
			Name: "dose", Sentence: "From {from} to {to} {of} in {net_volume_L} net, with {salt}", Aliases: []string{"salt_for_rise", "grams"}, Title: "Grams of a salt for a rise in the tank", Topic: TopicSalt, Find: "fertiliser fertilizer nitrate phosphate potassium magnesium calcium iron dry weigh KNO3 how much",
			In:  []Input{inSalt, word("of", "what is to rise", "NO3", "PO4", "K", "Mg", "Ca", "Fe", "Na", "Cl", "SO4"), in("from", "reading now", quantity.MgL).or(0).of(ByWord), in("to", "wanted", quantity.MgL).of(ByWord), inNet, in("animals", "animals live in the tank", plain).or(1).yesNo()},
			Out: quantity.Gr, Source: refMass,
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				if err := s.AllowedWith(a.F("animals") != 0); err != nil {
					return Answer{}, err
				}
				of, err := soluteOf(a.Word("of", ""))
				if err != nil {
					return Answer{}, err
				}
				rise := a.F("to") - a.F("from")
				if rise < 0 {
					return Answer{}, fault.New(fault.Invalid, "%s is already at %s and nothing that is weighed lowers it; change water.", of, figure(a.F("from")))
				}
				d, err := salt.ForRise(s, of, rise, quantity.Litre(a.F("net_volume_L")))
				if err != nil {
					return Answer{}, err
				}
				ans := one(float64(d.Mass), doseSteps(d, of, rise, a.F("net_volume_L"))...)
				ans.What = s.ID
				return cautions(ans, s), nil
			},
		},
		{
			Name: "brings", Sentence: "{g} of {salt} in {net_volume_L} bring of {of}", Title: "What grams of a salt bring into the tank", Topic: TopicSalt, Find: "dosed accidentally overdose what does it add", In: []Input{inSalt, in("g", "amount", quantity.Gr, "grams"), inNet, word("of", "of what", "NO3", "PO4", "K", "Mg", "Ca", "Fe", "Na", "Cl", "SO4")}, Out: quantity.MgL, Source: refMass,
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				of, err := soluteOf(a.Word("of", ""))
				if err != nil {
					return Answer{}, err
				}
				d, err := salt.Brings(salt.Weighed{Salt: s, Mass: quantity.Gram(a.F("g"))}, quantity.Litre(a.F("net_volume_L")))
				if err != nil {
					return Answer{}, err
				}
				ans := one(d.Adds[of], doseSteps(d, of, d.Adds[of], a.F("net_volume_L"))...)
				ans.What = of.String()
				return ans, nil
			},
		},
		{
			Name: "K_added_by_that", Title: "Potassium that comes with nitrate from KNO3", Topic: TopicSalt, Find: "co-ion side effect", In: []Input{in("dNO3_mg_L", "rise of nitrate", quantity.MgL)}, Out: "mg/L K", Source: refMass,
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find("KNO3")
				if err != nil {
					return Answer{}, err
				}
				v := a.F("dNO3_mg_L") / s.Gives[salt.NO3] * s.Gives[salt.K]
				return one(v, step("K", "{NO3} · {k}/{n}", v, "mg/L K", "NO3", a.F("dNO3_mg_L"), "k", s.Gives[salt.K], "n", s.Gives[salt.NO3])), notNegative(v)
			},
		},
		{
			Name: "molar_mass", Title: "Molar mass of a salt", Topic: TopicFact, In: []Input{inSalt}, Out: gPerMol, Source: "abridged IUPAC atomic weights",
			Eval: func(a Args) (Answer, error) { v, err := molarMass(a.Word("salt", "")); return one(v), err },
		},
		{
			Name: "mass_fraction", Title: "Grams of something in a gram of a salt", Topic: TopicFact, In: []Input{inSalt, word("as", "counted as", "NO3", "K", "PO4", "N", "P", "K2O", "P2O5", "Ca", "Mg", "Na", "Cl", "SO4", "S", "Fe", "HCO3", "CO3")}, Out: gPerG, Source: "abridged IUPAC atomic weights",
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				v, ok := s.Fraction(a.Word("as", ""))
				if !ok {
					return Answer{}, fault.New(fault.Invalid, "%s holds no %s.", s.ID, a.Word("as", ""))
				}
				return one(v), nil
			},
		},
		{
			Name: "alk_meq_per_g", Title: "Alkalinity in a gram of a salt", Topic: TopicFact, In: []Input{inSalt}, Out: meqPerG, Source: "abridged IUPAC atomic weights",
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				return one(s.Gives[salt.Alk]), nil
			},
		},
		{
			Name: "stock", Sentence: "A bottle of {bottle_L} of which {dose_mL} raise {of} by {rise} in {net_volume_L} takes {salt}", Aliases: []string{"stock_bottle"}, Title: "A stock bottle: grams, saturation, doses in it", Topic: TopicSalt, Find: "solution fertiliser bottle label concentrate",
			In: []Input{inSalt, word("of", "what a dose raises", "NO3", "PO4", "K", "Mg", "Ca", "Fe"), in("rise", "by how much a dose raises it", quantity.MgL).of(ByWord), inNet, in("dose_mL", "dose", quantity.ML), in("bottle_L", "bottle", quantity.L).or(0.5),
				in("coldest_C", "coldest place of storage", quantity.DegC).or(15)},
			Out: quantity.Gr, Source: refCRC, Valid: "at most 70 % of saturation at the coldest temperature of storage",
			Eval: evalStock,
		},
		{
			Name: "strokes", Sentence: "{dose_mL}, with {mL_each} a stroke, are", Title: "Pump strokes, drops or doser seconds of a dose", Topic: TopicSalt, Find: "doser pump drops seconds calibrate", In: []Input{in("dose_mL", "dose", quantity.ML), in("mL_each", "one stroke as calibrated", quantity.ML)}, Out: plain, Source: "calibration",
			Eval: func(a Args) (Answer, error) {
				v, err := salt.Strokes(quantity.Millilitre(a.F("dose_mL")), quantity.Millilitre(a.F("mL_each")))
				return one(v, step("strokes", "{mL}/{each}", v, plain, "mL", a.F("dose_mL"), "each", a.F("mL_each"))), err
			},
		},
	}
}

func evalStock(a Args) (Answer, error) {
	s, err := salt.Find(a.Word("salt", ""))
	if err != nil {
		return Answer{}, err
	}
	of, err := soluteOf(a.Word("of", ""))
	if err != nil {
		return Answer{}, err
	}
	d, err := salt.ForRise(s, of, a.F("rise"), quantity.Litre(a.F("net_volume_L")))
	if err != nil {
		return Answer{}, err
	}
	b, err := salt.Stock([]salt.Weighed{d.Weighed}, quantity.Millilitre(a.F("dose_mL")), quantity.Litre(a.F("bottle_L")), quantity.Celsius(a.F("coldest_C")))
	if err != nil {
		return Answer{}, err
	}
	ans := one(float64(b.Weigh[0].Mass), append(doseSteps(d, of, a.F("rise"), a.F("net_volume_L")),
		step("doses in the bottle", "{L} · 1000/{mL}", b.Doses, plain, "L", a.F("bottle_L"), "mL", a.F("dose_mL")).also(),
		step("for the bottle", "{g} · {n}", float64(b.Weigh[0].Mass), quantity.Gr, "g", float64(d.Mass), "n", b.Doses))...)
	ans.What = s.ID
	if len(b.NotKnown) == 0 {
		ans.Steps = append(ans.Steps, step("part of saturation at {t} °C", "", float64(b.Saturation), plain, "t", a.F("coldest_C")))
		last := &ans.Steps[len(ans.Steps)-1]
		last.Name, last.Also = "part of saturation at "+figure(a.F("coldest_C"))+" °C", true
	}
	least, err := salt.SmallestDose([]salt.Weighed{d.Weighed}, quantity.Celsius(a.F("coldest_C")))
	if err != nil {
		return Answer{}, err
	}
	ans = ans.warn(b.TooMuch, "calc.stock_too_strong", say.Num("ml", float64(least), quantity.ML, 1)).warn(b.Extrapolate, "calc.solubility_extrapolated").warn(len(b.NotKnown) > 0, "calc.solubility_unknown")
	return cautions(ans, s), nil
}

func saltNames() []string {
	var out []string
	for _, s := range salt.All() {
		out = append(out, s.ID)
	}
	return out
}

func molarMass(id string) (float64, error) {
	s, err := salt.Find(id)
	if err != nil {
		return 0, err
	}
	if s.Mass == 0 {
		return 0, fault.New(fault.Invalid, "%s is a technical product without one molar mass.", s.ID)
	}
	return s.Mass, nil
}
