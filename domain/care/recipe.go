package care

import (
	"slices"

	q "scaperound/domain/quantity"
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
	share, asked := shareFor(v, tasks), false
	for _, t := range tasks {
		asked = asked || ActionOf(t.Action).Family == "change"
	}
	if !asked && pressing(tasks) {
		return r // the usual change waits until the animals are out of danger
	}
	asked = share != v.usualShare()
	switch {
	case !asked && v.Setup.DrainLitres.OK:
		r.Litres = v.Setup.DrainLitres
	case v.Net.OK:
		r.Litres = q.Some(q.Litre(share * float64(v.Net.V)))
	default:
		return r
	}
	if c := v.Setup.CanLitres; c.OK && c.V > 0 {
		if n := float64(r.Litres.V / c.V); n >= 1 {
			r.Cans = q.Some(n)
		}
	}
	if t, ok := v.Tank(q.Temperature); ok {
		r.Temp = q.Some(q.Celsius(v.changeTemp(t.Value)))
	} else if t := v.Setup.Heater.Target; t.OK {
		r.Temp = t
	}
	unsoftened := slices.ContainsFunc(tasks, func(t Task) bool { return t.Action == "use_unsoftened" })
	var plan waterPlan
	if !unsoftened { // of other water than usual nobody knows yet what it holds
		plan = planWater(v, r.Litres.V)
	}
	r.Weigh, r.RO = plan.Weigh, plan.RO
	if ro := v.Setup.ROShare; ro > 0 {
		r.RO = q.Some(r.Litres.V * q.Litre(ro))
	}
	for _, t := range tasks {
		if t.Action == "ro_blend" && len(t.Amount) == 1 {
			r.RO = q.Some(q.Litre(t.Amount[0].Value))
		}
	}
	if r.RO.OK && r.RO.V < 0.5 {
		r.RO = q.Opt[q.Litre]{}
	}
	r.Steps = append(r.Steps, say.S("recipe.heater_off"))
	if !asked && v.Setup.DrainLine != "" {
		r.Steps = append(r.Steps, say.S("recipe.drain_to", say.Text("line", v.Setup.DrainLine), say.Num("litres", float64(r.Litres.V), q.L, 0)))
	} else {
		r.Steps = append(r.Steps, say.S("recipe.drain", say.Num("litres", float64(r.Litres.V), q.L, 0)))
	}
	if r.RO.OK {
		r.Steps = append(r.Steps, say.S("recipe.ro", say.Num("litres", float64(r.RO.V), q.L, 0)))
	}
	if unsoftened {
		r.Steps = append(r.Steps, say.S("recipe.unsoftened"))
	}
	if v.disinfected() {
		r.Steps = append(r.Steps, say.S("recipe.dechlorinate", say.Num("litres", float64(r.Litres.V), q.L, 0)))
	}
	for _, w := range r.Weigh {
		r.Steps = append(r.Steps, say.S("recipe.weigh", say.Num("amount", w.Value, w.Unit, 1), say.Word("what", w.What)))
	}
	switch {
	case plan.GH.OK && plan.KH.OK:
		r.Steps = append(r.Steps, say.S("recipe.reach", say.Reading("gh", q.GH, plan.GH.V), say.Reading("kh", q.KH, plan.KH.V)))
	case plan.GH.OK:
		r.Steps = append(r.Steps, say.S("recipe.reach_gh", say.Reading("gh", q.GH, plan.GH.V)))
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

// pressing reports whether something is to be done for the animals at once.
func pressing(tasks []Task) bool {
	return slices.ContainsFunc(tasks, func(t Task) bool { return t.Rank <= RankAnimals && t.Urgency == Now })
}

// inNewWater leaves the weighing of a salt to the new water where that gets the
// same one, or brings it along: nobody weighs it twice.
func inNewWater(tasks []Task, r *Recipe) {
	for i := range tasks {
		t := &tasks[i]
		if t.Action != "dose_ca" && t.Action != "dose_mg" {
			continue
		}
		if slices.ContainsFunc(tasks, func(o Task) bool { return o.Action == "use_unsoftened" }) {
			t.Amount, t.Say = nil, say.S("task.by_unsoftened")
			continue
		}
		salts := map[string]string{"dose_ca": "salt.gypsum", "dose_mg": "salt.epsom"}
		if slices.ContainsFunc(r.Weigh, func(a Amount) bool { return a.What == salts[t.Action] }) {
			t.Amount, t.Say = nil, say.S("task.in_new_water")
		}
	}
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
