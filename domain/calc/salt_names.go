package calc

import (
	"strings"

	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
)

// saltNamed understands names that carry a salt and a solute:
//
//	SALT_g_for_dX  grams for a rise of X in the net volume
//	SALT_g         the same, with the rise as dX_mg_L
//	stock_SALT_g_per_L
//	g_SALT         grams in a remineralising recipe
func saltNamed(name string) *Def {
	if id, ok := strings.CutPrefix(name, "g_"); ok {
		if s, err := salt.Find(id); err == nil {
			return reminOf(name, s.ID)
		}
		return nil
	}
	stock := false
	id, ok := strings.CutPrefix(name, "stock_")
	if ok {
		if id, ok = strings.CutSuffix(id, "_g_per_L"); !ok {
			return nil
		}
		stock = true
	} else if i := strings.Index(name, "_g_for_d"); i > 0 {
		id = name[:i]
	} else if id, ok = strings.CutSuffix(name, "_g"); !ok {
		return nil
	}
	s, err := salt.Find(id)
	if err != nil {
		return nil
	}
	ins := make([]Input, 0, int(salt.SoluteCount)+2)
	for i := salt.Solute(0); i < salt.SoluteCount; i++ {
		if s.Gives[i] > 0 && i != salt.Alk {
			ins = append(ins, in("d"+i.String()+"_mg_L", "rise of "+i.String(), quantity.MgL, "d"+i.String()).opt())
		}
	}
	if s.Gives[salt.Alk] > 0 {
		ins = append(ins, in("dKH_d", "rise of KH", quantity.DKH, "dKH").opt())
	}
	ins = append(ins, inNet)
	out := quantity.Gr
	if stock {
		ins, out = append(ins, in("dose_mL", "dose", quantity.ML)), gPerL
	}
	return &Def{
		Name: name, Title: "Grams of " + s.ID + " for a rise in the tank", Topic: TopicSalt, In: ins, Out: out, Source: refMass,
		Eval: func(a Args) (Answer, error) { return evalSaltNamed(a, s, stock) },
	}
}

func evalSaltNamed(a Args, s *salt.Salt, stock bool) (Answer, error) {
	of, rise, n := salt.Solute(0), 0.0, 0
	for i := salt.Solute(0); i < salt.SoluteCount; i++ {
		if key := "d" + i.String() + "_mg_L"; a.Has(key) {
			of, rise, n = i, a.F(key), n+1
		}
	}
	if a.Has("dKH_d") {
		of, rise, n = salt.Alk, a.F("dKH_d")*chem.MeqPerDegree, n+1
	}
	if n != 1 {
		return Answer{}, fault.New(fault.Invalid, "Give exactly one rise for %s.", s.ID)
	}
	net := quantity.Litre(a.F("net_volume_L"))
	d, err := salt.ForRise(s, of, rise, net)
	if err != nil {
		return Answer{}, err
	}
	steps := doseSteps(d, of, rise, float64(net))
	if !stock {
		return cautions(one(float64(d.Mass), steps...), s), nil
	}
	v, err := salt.PerLitre(s, of, rise, net, quantity.Millilitre(a.F("dose_mL")))
	if err != nil {
		return Answer{}, err
	}
	ans := one(float64(v), append(steps, step("in a litre", "{g} · 1000/{mL}", float64(v), gPerL, "g", float64(d.Mass), "mL", a.F("dose_mL")))...)
	if most, _, err := s.PerLitre(20); err == nil {
		ans = ans.warn(v > most*salt.SafeSaturation, "calc.stock_above_20", say.Num("most", float64(most*salt.SafeSaturation), gPerL, 0))
	}
	return cautions(ans, s), nil
}
