package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// usualShare is the share of the net water that a change takes where nothing
// calls for another: half in the first four weeks, half under CO2 and dense
// planting, a quarter else (practice).
func (v *View) usualShare() float64 {
	switch {
	case v.Age.OK && v.Age.V < 4:
		return 0.5
	case v.Injected:
		return 0.4
	}
	return 0.25
}

// shareFor is the share that the list asks for.
func shareFor(v *View, tasks []Task) float64 {
	for _, t := range tasks {
		s := shareOf(t.Action)
		if s <= 0 {
			continue
		}
		for _, a := range t.Amount {
			if a.What == "water" && v.Net.OK && v.Net.V > 0 {
				return a.Value / float64(v.Net.V)
			}
		}
		return s
	}
	return v.usualShare()
}

// shareOf is the share of the net water that a change takes, 0 for what is none.
func shareOf(action string) float64 {
	switch action {
	case "wc_50_repeat":
		return 0.5
	case "wc_30_50":
		return 0.4
	case "wc_20":
		return 0.2
	case "wc_many_small":
		return 0.1
	}
	return 0
}

// recipe is the water change of this visit in litres, cans and degrees.
func recipe(v *View, tasks []Task) Recipe {
	var r Recipe
	for _, t := range tasks {
		if t.Rank == RankPeople {
			return r // nobody goes to the tank
		}
	}
	share := shareFor(v, tasks)
	asked := share != v.usualShare()
	switch {
	case !asked && v.Setup.DrainLitres.OK:
		r.Litres = v.Setup.DrainLitres
	case v.Net.OK:
		r.Litres = q.Some(q.Litre(share * float64(v.Net.V)))
	default:
		return r
	}
	if c := v.Setup.CanLitres; c.OK && c.V > 0 {
		r.Cans = q.Some(float64(r.Litres.V / c.V))
	}
	if t, ok := v.Tank(q.Temperature); ok {
		r.Temp = q.Some(q.Celsius(t.Value))
	} else if t := v.Setup.Heater.Target; t.OK {
		r.Temp = t
	}
	if ro := v.Setup.ROShare; ro > 0 {
		r.RO = q.Some(r.Litres.V * q.Litre(ro))
	}
	r.Weigh = salts(v, r.Litres.V)
	r.Steps = append(r.Steps, say.S("recipe.heater_off"))
	if !asked && v.Setup.DrainLine != "" {
		r.Steps = append(r.Steps, say.S("recipe.drain_to", say.Text("line", v.Setup.DrainLine), say.Num("litres", float64(r.Litres.V), q.L, 0)))
	} else {
		r.Steps = append(r.Steps, say.S("recipe.drain", say.Num("litres", float64(r.Litres.V), q.L, 0)))
	}
	if r.RO.OK {
		r.Steps = append(r.Steps, say.S("recipe.ro", say.Num("litres", float64(r.RO.V), q.L, 0)))
	}
	if v.disinfected() {
		r.Steps = append(r.Steps, say.S("recipe.dechlorinate", say.Num("litres", float64(r.Litres.V), q.L, 0)))
	}
	for _, w := range r.Weigh {
		r.Steps = append(r.Steps, say.S("recipe.weigh", say.Num("amount", w.Value, w.Unit, 1), say.Word("what", w.What)))
	}
	if r.Temp.OK {
		r.Steps = append(r.Steps, say.S("recipe.match", say.Num("temp", float64(r.Temp.V), q.DegC, 1)))
	}
	if s, ok := v.Now.Reading(q.Temperature, visit.FromSource); ok && r.Temp.OK && s.Value < float64(r.Temp.V)-8 {
		r.Steps = append(r.Steps, say.S("recipe.cold_mains"))
	}
	r.Steps = append(r.Steps, say.S("recipe.heater_on"))
	return r
}

// disinfected reports whether the change water may hold chlorine or chloramine:
// from the mains, unless it is known to hold none.
func (v *View) disinfected() bool {
	s := v.Setup.Source
	if !s.OK {
		return false
	}
	switch s.V.Disinfectant {
	case "chlorine", "chloramine":
		return true
	case "none":
		return false
	}
	return s.V.Kind == "tap" || s.V.Kind == "softened_tap"
}

// salts is what to weigh into the new water so that its GH and KH come up to the
// lower end of the tank's band, where the source is below it.
func salts(v *View, litres q.Litre) []Amount {
	var gh, kh float64
	if b, s := v.bandOf(q.GH), v.Source(q.GH); b.Lo.OK && s.OK {
		gh = max(0, b.Lo.V-s.V)
	}
	if b, s := v.bandOf(q.KH), v.Source(q.KH); b.Lo.OK && s.OK && !v.Fact("tan_and_animals") {
		kh = max(0, b.Lo.V-s.V)
	}
	if gh < leastRise {
		gh = 0
	}
	if kh < leastRise {
		kh = 0
	}
	return hardnessSalts(litres, gh, kh)
}

// leastRise is the step of hardness, in °d, below which nobody weighs anything.
const leastRise = 0.3

// forHardness is what raises the tank's own hardness.
func (v *View) forHardness(gh, kh float64) []Amount { return hardnessSalts(v.Net.V, gh, kh) }

var saltWords = map[string]string{"CaSO4.2H2O": "salt.gypsum", "MgSO4.7H2O": "salt.epsom", "KHCO3": "salt.khco3"}

// hardnessSalts weighs gypsum and Epsom salt (calcium to magnesium 3 to 1 by
// mass) and potassium bicarbonate for a rise of GH and KH.
func hardnessSalts(litres q.Litre, gh, kh float64) []Amount {
	if litres <= 0 || gh <= 0 && kh <= 0 {
		return nil
	}
	w, err := salt.Mix(salt.Order{Litres: litres, GH: q.DegreeGH(gh), KH: q.DegreeKH(kh)})
	if err != nil {
		return nil
	}
	var out []Amount
	for _, x := range w.Weigh {
		if x.Mass >= 0.05 {
			out = append(out, Amount{saltWords[x.Salt.ID], float64(x.Mass), q.Gr})
		}
	}
	return out
}
