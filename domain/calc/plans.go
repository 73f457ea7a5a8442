package calc

import (
	"strings"

	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/light"
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
)

// planned are the nutrients that a plan may aim at, and what may be capped.
var planned = []salt.Solute{salt.NO3, salt.PO4, salt.K, salt.Mg, salt.Ca, salt.Fe}

func planInputs() []Input {
	out := []Input{inNet}
	for _, s := range planned {
		out = append(out, in(s.String()+"_mg_L", s.String()+" a week", quantity.MgL, s.String()).opt())
	}
	for _, s := range []salt.Solute{salt.K, salt.Cl, salt.SO4, salt.Na} {
		out = append(out, in(s.String()+"_max", s.String()+" a week at most", quantity.MgL).opt())
	}
	return append(out, Input{Key: "salts", Title: "salts at hand", Shape: Words, Optional: true, Choices: those(func(s *salt.Salt) bool {
		return s.Mass > 0 && !s.Has(salt.FreeMetal) || s.Gives[salt.Fe] > 0 && s.Has(salt.Chelate)
	})}, in("doses", "doses a week", plain).or(3), in("animals", "animals live in the tank", plain).or(1).yesNo())
}

// saltsOf finds the salts that are named, or those that were given.
func saltsOf(ids []string, usual ...string) ([]*salt.Salt, error) {
	if len(ids) == 0 {
		ids = usual
	}
	var out []*salt.Salt
	for _, id := range ids {
		s, err := salt.Find(id)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

func evalPlan(a Args) (Answer, error) {
	salts, err := saltsOf(a.WordList("salts"), "KNO3", "KH2PO4", "K2SO4", "MgSO4.7H2O", "CaCl2.2H2O", "Fe-DTPA")
	if err != nil {
		return Answer{}, err
	}
	p := salt.Problem{Salts: salts, Animals: a.F("animals") != 0}
	for _, s := range planned {
		if a.Has(s.String() + "_mg_L") {
			p.Aims = append(p.Aims, salt.Aim{Of: s, Value: a.F(s.String() + "_mg_L")})
		}
	}
	for _, s := range []salt.Solute{salt.K, salt.Cl, salt.SO4, salt.Na} {
		if a.Has(s.String() + "_max") {
			p.Aims = append(p.Aims, salt.Aim{Of: s, Value: a.F(s.String() + "_max"), AtMost: true})
		}
	}
	doses := a.F("doses")
	if doses < 1 || doses > 100 {
		return Answer{}, fault.New(fault.Invalid, "A plan has from 1 to 100 doses a week.")
	}
	r, err := salt.Solve(p)
	if err != nil {
		return Answer{}, err
	}
	weigh, err := r.For(p, quantity.Litre(a.F("net_volume_L")))
	if err != nil {
		return Answer{}, err
	}
	ans := Answer{}
	var used []*salt.Salt
	for _, w := range weigh {
		ans.Value += float64(w.Mass)
		used = append(used, w.Salt)
		ans.Steps = append(ans.Steps, step(w.Salt.ID+" a dose", "{g}/{n}", float64(w.Mass)/doses, quantity.Gr, "g", float64(w.Mass), "n", doses).also())
	}
	for i, v := range r.Reached {
		if v > 0.0005 && salt.Solute(i) != salt.Alk {
			ans.Steps = append(ans.Steps, Step{Name: salt.Solute(i).String() + " a week", Value: v, Unit: quantity.MgL}.also())
		}
	}
	for _, m := range r.Missed {
		ans = ans.warn(true, "calc.target_missed", say.Text("what", m.Of.String()), say.Num("want", m.Value, quantity.MgL, 1), say.Num("nearest", m.Reached, quantity.MgL, 1))
	}
	ans.What = "salts"
	if b := salt.Bottles(used); len(b) > 1 {
		ans = ans.warn(true, "calc.bottles_apart", say.Text("bottles", bottleText(b)))
	}
	return cautions(ans, used...), nil
}

func bottleText(bottles [][]*salt.Salt) string {
	var out []string
	for _, b := range bottles {
		var ids []string
		for _, s := range b {
			ids = append(ids, s.ID)
		}
		out = append(out, strings.Join(ids, " with "))
	}
	return strings.Join(out, "; ")
}

func planDefs() []Def {
	inSalts := Input{Key: "salts", Title: "salts", Shape: Words, Choices: saltNames()}
	return []Def{
		{
			Name: "dosing_plan", Sentence: "In {net_volume_L} a week is to bring NO3 {NO3_mg_L}, PO4 {PO4_mg_L}, K {K_mg_L}, Mg {Mg_mg_L}, Ca {Ca_mg_L}, Fe {Fe_mg_L}, in {doses} doses:", Title: "A week's doses of several nutrients at once", Topic: TopicSalt, Find: "fertiliser fertilizer recipe plan weekly NO3 PO4 K Fe", In: planInputs(), Out: quantity.Gr, Source: refNNLS, Valid: "what a week is to bring, in the net volume; co-ions counted",
			Eval: evalPlan,
		},
		{
			Name: "bottles", Title: "Which salts may share a stock bottle", Topic: TopicSalt, Find: "incompatible mix two bottles gypsum", In: []Input{inSalts}, Out: plain, Source: "solubility products; the growers' rule of two tanks",
			Eval: func(a Args) (Answer, error) {
				salts, err := saltsOf(a.WordList("salts"))
				if err != nil {
					return Answer{}, err
				}
				b := salt.Bottles(salts)
				ans := one(float64(len(b)))
				ans = ans.warn(len(b) > 1, "calc.bottles_apart", say.Text("bottles", bottleText(b)))
				for i, x := range salts {
					for _, y := range salts[:i] {
						if why, bad := salt.Conflict(x, y); bad {
							ans = ans.warn(true, "calc.conflict", say.Text("a", y.ID), say.Text("b", x.ID), say.Text("why", why.Text()))
						}
					}
				}
				return ans, nil
			},
		},
		{
			Name: "copper", Title: "Copper that a trace mix brings", Topic: TopicSalt, Find: "shrimp snail trace metal poison", In: []Input{inNet, in("g", "trace mix", quantity.Gr), in("Cu_share", "copper in a gram of it", gPerG), in("there_mg_L", "copper that is there", quantity.MgL).or(0)}, Out: quantity.MgL, Source: "Yang et al. 2008; Arthur and Leonard 1970, J. Fish. Res. Board Can. 27, 1277",
			Eval: func(a Args) (Answer, error) {
				mix, err := salt.TraceMix("trace mix", salt.Amounts{salt.Cu: a.F("Cu_share")})
				if err != nil {
					return Answer{}, err
				}
				v, unsafe, err := salt.CopperOf(quantity.MgPerLitre(a.F("there_mg_L")), quantity.Litre(a.F("net_volume_L")), salt.Weighed{Salt: mix, Mass: quantity.Gram(a.F("g"))})
				return one(float64(v), step("Cu", "{g} · 1000 · {c}/{V}", float64(v), quantity.MgL, "g", a.F("g"), "c", a.F("Cu_share"), "V", a.F("net_volume_L"))).warn(unsafe, "calc.copper"), err
			},
		},
		{
			Name: "light_ramp", Title: "Weeks in which a new tank comes up to its light", Topic: TopicLight, Find: "ramp photoperiod increase new tank", In: []Input{in("hours", "hours now", hour).or(6), in("to_hours", "hours wanted", hour), in("percent", "power now", quantity.Percent).or(50), in("to_percent", "power wanted", quantity.Percent)}, Out: week, Source: "practice: half an hour or ten per cent a week, never both",
			Eval: func(a Args) (Answer, error) {
				stages, err := light.Ramp(quantity.Hours(a.F("hours")), quantity.Hours(a.F("to_hours")), a.F("percent"), a.F("to_percent"))
				if err != nil {
					return Answer{}, err
				}
				ans := one(float64(len(stages) - 1))
				for _, s := range stages {
					ans.Steps = append(ans.Steps, Step{Name: "week " + figure(float64(s.Week)) + " at " + figure(s.Percent) + " %", Value: float64(s.Hours), Unit: hour}.also())
				}
				return ans.warn(a.F("to_hours") > 10, "calc.long_day"), nil
			},
		},
		{
			Name: "safe_change", Share: true, Title: "Largest change that keeps free ammonia low", Topic: TopicAnimal, Find: "raise KH hard water TAN NH3 safe", In: []Input{in("TAN_mgN_L", "total ammonia as nitrogen", mgNL, "tan"), inKH, inT, in("source_KH_d", "KH of the change water", quantity.DKH), in("source_TAN", "total ammonia of the change water", mgNL).or(0), in("limit", "NH3-N not to be passed", mgNL).or(0.02), in("room_ppm", "CO2 in the room's air", quantity.PPMAir).or(425)}, Out: plain, Source: "Emerson et al. 1975; mass balance; the limit of 0.02 is EIFAC 1970's",
			Eval: func(a Args) (Answer, error) {
				t := quantity.Celsius(a.F("T_C"))
				eq, err := chem.CO2WithAir(t, quantity.PartPerMillion(a.F("room_ppm")), 0)
				if err != nil {
					return Answer{}, err
				}
				w, err := chem.ChangeForNH3N(chem.Batch{TAN: quantity.MgNPerLitre(a.F("TAN_mgN_L")), KH: quantity.DegreeKH(a.F("KH_d")), Temp: t, Ionic: chem.UsualIonic},
					chem.Batch{TAN: quantity.MgNPerLitre(a.F("source_TAN")), KH: quantity.DegreeKH(a.F("source_KH_d")), Temp: t, Ionic: chem.UsualIonic}, quantity.MgNPerLitre(a.F("limit")), eq)
				return one(float64(w)).warn(err == nil && w == 0, "calc.no_safe_change"), err
			},
		},
	}
}
