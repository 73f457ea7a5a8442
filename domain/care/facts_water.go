package care

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func factsOfHardness(v *View, set setter) {
	if kh, ok := v.Tank(q.KH); ok {
		set("kh_gone", kh.Value < 1 && !v.softAndSound())
		set("kh_fine", kh.Value >= 2)
		if s := v.Source(q.KH); s.OK {
			set("source_kh_above", s.V >= kh.Value+4)
		}
	}
	gh, ok := v.Tank(q.GH)
	if ok {
		set("gh_low", gh.Value < 3)
		set("gh_enough", gh.Value >= 4)
		if s := v.Source(q.GH); s.OK {
			set("harder_than_source", gh.Value >= s.V+4)
			set("salts_differ", math.Abs(gh.Value-s.V) >= 4)
		}
	}
	if k, ok := v.Tank(q.KH); ok && gh.Value > 0 {
		set("kh_over_gh", k.Value >= gh.Value+3)
	}
	if k, g := v.Source(q.KH), v.Source(q.GH); k.OK && g.OK {
		set("kh_over_gh", k.V >= g.V+3)
	}
	if s := v.Source(q.Sodium); s.OK {
		set("sodium_high", s.V >= 60)
	}
	if r, ok := v.Tank(q.Sodium); ok {
		set("sodium_high", r.Value >= 60)
	}
	if e, ok := v.Tank(q.EC); ok {
		if s := v.Source(q.EC); s.OK {
			set("harder_than_source", e.Value >= 1.5*s.V && e.Value-s.V > 150)
		}
		if old := v.Before(q.EC, 1); len(old) > 0 {
			set("salts_jumped", math.Abs(e.Value-old[0].Value) > 0.3*old[0].Value)
		}
	}
	bagGap(v, set)
	if b, ok := v.Read(q.Acidity, visit.Before, visit.Late, visit.Morning); ok {
		if a, ok := v.Read(q.Acidity, visit.After); ok {
			set("ph_jumped", a.Value-b.Value >= 0.8)
		}
	}
}

// bagGap compares the transport water with the tank.
func bagGap(v *View, set setter) {
	gap := func(k q.Kind, far func(bag, tank float64) bool) bool {
		b, ok1 := v.Read(k, visit.Bag)
		t, ok2 := v.Tank(k)
		return ok1 && ok2 && far(b.Value, t.Value)
	}
	ratio := func(a, b float64) bool { return a > 1.5*b || b > 1.5*a }
	set("bag_salts_differ", gap(q.EC, ratio) || gap(q.TDS, ratio) || gap(q.GH, func(a, b float64) bool { return math.Abs(a-b) >= 4 }))
	alike := func(a, b float64) bool { return a < 1.15*b && b < 1.15*a }
	set("bag_salts_agree", (gap(q.EC, alike) || gap(q.TDS, alike)) && !v.facts["bag_salts_differ"])
	set("bag_temp_differs", gap(q.Temperature, func(a, b float64) bool { return math.Abs(a-b) > 2 }))
	set("bag_ph_rises", gap(q.Acidity, func(a, b float64) bool { return b-a >= 1 }) && gap(q.KH, func(a, b float64) bool { return b-a >= 3 }))
}

func factsOfTemperature(v *View, set setter) {
	b := v.bandOf(q.Temperature)
	t, ok := v.Tank(q.Temperature)
	// A degree or two beyond a band of practice is a talk, not an emergency.
	hot := func(x float64) bool { return b.Hi.OK && x > b.Hi.V+2.5 || x > 29 }
	cold := func(x float64) bool { return b.Lo.OK && x < b.Lo.V-1.5 }
	if ok {
		set("temp_high", hot(t.Value))
		set("temp_low", cold(t.Value))
		set("temp_fine", !hot(t.Value) && !cold(t.Value))
		if g := v.Setup.Heater.Target; g.OK {
			set("below_set_point", t.Value < float64(g.V)-1.5)
			set("above_set_point", t.Value > float64(g.V)+1.5)
		}
		if a, ok := v.Read(q.Temperature, visit.After); ok {
			set("temp_fell", t.Value-a.Value > 2)
		}
	}
	if a, ok := v.Read(q.Temperature, visit.After); ok {
		set("temp_low", cold(a.Value))
	}
	if r, ok := v.Read(q.TempMax, visit.Between, visit.Before); ok {
		set("temp_high", hot(r.Value))
	}
	if r, ok := v.Read(q.TempMin, visit.Between, visit.Before); ok {
		set("temp_low", cold(r.Value))
	}
	if r, ok := v.Read(q.Temperature, visit.Morning); ok {
		set("temp_low", cold(r.Value))
		if ok2 := t.Value - r.Value; ok2 >= 3 {
			set("temp_swings", true)
		}
	}
	if r, ok := v.Read(q.Temperature, visit.InRoom); ok && b.Hi.OK {
		set("room_hot", r.Value >= b.Hi.V)
	}
	if p, n := v.Setup.Heater.Power, v.Net; p.OK && n.OK && n.V > 0 {
		set("heater_small", float64(p.V)/float64(n.V) < 0.4)
	}
}

func factsOfSource(v *View, set setter) {
	s := v.Setup.Source
	if s.OK {
		set("softened", s.V.Kind == tank.SoftenedTap || s.V.Softener)
		set("source_ro_pure", s.V.Kind == tank.RO)
	}
	_, _, moved := v.sourceMoved()
	set("source_moved", moved)
	for _, k := range []q.Kind{q.FreeChlorine, q.TotalChlorine} {
		if r, ok := v.Read(k, visit.Before, visit.After); ok {
			set("chlorine_in_tank", r.Value >= 0.02)
			set("chlorine_zero", r.Value < 0.02)
		}
		if r, ok := v.Read(k, visit.FromSource); ok {
			set("chlorine_in_source", r.Value >= 0.05)
			set("source_chlorine_zero", r.Value < 0.02)
		}
	}
	n := v.sourceNitrate()
	set("source_no3_high", n.OK && n.V >= 25)
	if t := v.Value(q.Nitrate); t.OK && n.OK {
		set("no3_as_source", n.V >= 25 && t.V < 1.25*n.V)
	}
	if r, ok := v.Read(q.NitrateN, visit.SourceReport, visit.FromSource); ok {
		if own, ok := v.Read(q.Nitrate, visit.FromSource, visit.Before); ok && r.Value > 0 {
			ratio := own.Value / r.Value
			set("units_explain", ratio > 3 && ratio < 6)
		} else {
			set("units_possible", true)
		}
	}
	set("topoff_tap", v.Setup.Topoff == tank.TopoffTap)
	if s := v.Source(q.TAN); s.OK {
		set("source_tan", s.V >= 0.2)
	}
	if s := v.Source(q.Nitrite); s.OK {
		set("source_no2", s.V >= 0.1)
	}
}
