package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/quantity"
)

// byTemperature is a constant that depends on temperature alone.
func byTemperature(name, title string, src Ref, f func(quantity.Celsius) (float64, error)) Def {
	return Def{
		Name: name, Title: title, Topic: TopicFact, In: []Input{inT}, Out: plain, Source: src,
		Eval: func(a Args) (Answer, error) {
			v, err := f(quantity.Celsius(a.F("T_C")))
			return one(v, step(name, "~at {t} °C = {T} K", v, plain, "t", a.F("T_C"), "T", a.F("T_C")+273.15)), err
		},
	}
}

func constantDefs() []Def {
	const pb Ref = "Plummer and Busenberg 1982, Geochim. Cosmochim. Acta 46, 1011"
	return []Def{
		byTemperature("pK1", "First dissociation constant of carbonic acid", pb, chem.PK1),
		byTemperature("pK2", "Second dissociation constant of carbonic acid", pb, chem.PK2),
		byTemperature("pKw", "Ion product of water", "Truesdell and Jones 1974, J. Res. US Geol. Survey 2, 233", chem.PKw),
		byTemperature("pKH_CO2", "Henry's constant of CO2", pb, chem.PHenry),
		byTemperature("log_K_calcite", "Solubility product of calcite", pb, chem.LogCalcite),
		byTemperature("log_K_aragonite", "Solubility product of aragonite", pb, chem.LogAragonite),
		byTemperature("log_K_vaterite", "Solubility product of vaterite", pb, chem.LogVaterite),
		{
			Name: "gamma_Davies", Title: "Activity coefficient of an ion", Topic: TopicFact, In: []Input{inT, inIonic, in("z", "charge", plain)}, Out: plain, Source: "Davies 1962, Ion Association",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.GammaDavies(quantity.Celsius(a.F("T_C")), quantity.MolPerLitre(a.F("I_mol_L")), int(a.F("z")))
				if err != nil {
					return Answer{}, err
				}
				aa, err := chem.DebyeHuckelA(quantity.Celsius(a.F("T_C")))
				return one(v, step("γ", "10^(−{A} · {z}² · (√I/(1+√I) − 0.3·I)), I = {I} mol/L", v, plain, "A", aa, "z", a.F("z"), "I", a.F("I_mol_L"))), err
			},
		},
		{
			Name: "ionic_strength_from_EC", Title: "Ionic strength from conductivity", Topic: TopicFact, In: []Input{in("EC_uS_cm", "conductivity at 25 °C", quantity.USCm, "ec")}, Out: molL, Source: "Russell 1976, after Snoeyink and Jenkins 1980",
			Eval: func(a Args) (Answer, error) {
				v, err := chem.IonicFromEC(quantity.MicroSPerCm(a.F("EC_uS_cm")))
				return one(float64(v), step("I", "1.6e-5 · {EC}", float64(v), molL, "EC", a.F("EC_uS_cm"))), err
			},
		},
		{
			Name: "calcite_index", Title: "Does the water dissolve shells? Saturation index of calcite", Topic: TopicAnimal, Find: "snail lime calcium carbonate SI",
			In: []Input{in("Ca_mg_L", "calcium", quantity.MgL, "ca"), inPH, inKH, inT, inIonic, inEC}, Out: plain, Source: pb,
			Eval: func(a Args) (Answer, error) {
				w, err := water(a)
				if err != nil {
					return Answer{}, err
				}
				v, err := chem.CalciteIndex(quantity.MgPerLitre(a.F("Ca_mg_L")), quantity.PH(a.F("pH")), quantity.DegreeKH(a.F("KH_d")), w)
				return one(v, step("SI", "log(γ2² · [Ca] · [CO3]) − log Kc", v, plain)).warn(v < -0.5, "calc.shells_dissolve"), err
			},
		},
	}
}
