package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// needs is what a group of animals is usually kept in. The figures are trade
// practice and a default that the shop can change in its target profiles.
type needs struct {
	tempLo, tempHi float64 // °C
	phLo, phHi     float64
	ghLo, ghHi     float64 // °d
	khLo, khHi     float64 // °d
	nitrate        float64 // mg/L NO3, guide
}

var animalNeeds = map[string]needs{
	"tetras":             {22, 26, 5.5, 7.2, 1, 10, 0, 5, 30},
	"tetras_sensitive":   {22, 26, 5.5, 7.0, 1, 8, 0, 4, 30},
	"rasboras":           {22, 27, 6, 7.5, 2, 12, 1, 8, 40},
	"small_fish":         {22, 27, 5.5, 7.6, 1, 15, 0, 10, 40},
	"livebearers":        {20, 28, 7, 8.2, 8, 25, 4, 16, 50},
	"labyrinth_fish":     {23, 28, 6, 7.6, 2, 15, 1, 10, 40},
	"dwarf_cichlids":     {24, 28, 5.5, 7, 1, 8, 0, 4, 25},
	"catfish":            {20, 26, 6, 7.6, 2, 14, 1, 8, 30},
	"loaches":            {21, 27, 6, 7.6, 2, 14, 1, 8, 30},
	"algae_grazers":      {21, 27, 6, 7.8, 2, 15, 1, 10, 40},
	"hardy_fish":         {19, 27, 6, 8.2, 3, 22, 1, 15, 50},
	"community":          {22, 27, 5.8, 7.8, 2, 16, 1, 10, 40},
	"tropical_community": {24, 28, 5.8, 7.8, 2, 16, 1, 10, 40},
	"bee_shrimp":         {20, 25, 5.2, 6.8, 3, 7, 0, 2, 15},
	"dwarf_shrimp":       {18, 27, 6.2, 8, 4, 15, 1, 10, 30},
	"snails":             {18, 28, 6.8, 8.4, 6, 25, 3, 16, 40},
}

// Limits that hold for every tank with animals.
const (
	tanFirstClass   = 0.25 // mg N/L, the first class of usual kits
	nitriteAct      = 0.1  // mg/L, in soft water low in chloride
	nitriteHarm     = 0.5  // mg/L
	nh3Guide        = 0.02 // mg/L NH3-N, long-term guide (EIFAC 1970)
	nh3Harm         = 0.05 // mg/L NH3-N, gill damage reported from about here
	co2Watch        = 20.0 // mg/L
	co2Alarm        = 30.0
	co2Off          = 40.0
	oldTankWeeks    = 10.0
	newTankWeeks    = 12.0
	noTankKH        = 0.5 // °d below which pH and KH say nothing on CO2
	saturationGas   = 110.0
	roomCO2Limit    = 5000.0  // ppm, 8 h (OSHA PEL, HSE EH40)
	roomCO2Short    = 15000.0 // ppm, 15 min (HSE EH40)
	nitrateOfPlants = 5.0     // mg/L below which a sign of hunger is believed
)

// bandOf is the tank's band of the kind: the profile's, else what its animals
// share.
func (v *View) bandOf(k q.Kind) Band {
	// What counts before the first animals is the gate, not what a starting tank
	// may have.
	if (k == q.TAN || k == q.Nitrite) && v.gated() {
		return Band{Lo: q.Some(0.0), Hi: q.Some(nitriteAct)}
	}
	if b, ok := v.Profile.Band(k); ok {
		return Band{b.Lo, b.Hi}
	}
	if !v.Animals {
		return Band{}
	}
	var b Band
	narrow := func(lo, hi float64) {
		if !b.Lo.OK || lo > b.Lo.V {
			b.Lo = q.Some(lo)
		}
		if !b.Hi.OK || hi < b.Hi.V {
			b.Hi = q.Some(hi)
		}
	}
	for _, a := range v.Setup.Animals {
		n, ok := animalNeeds[a.Group]
		if !ok || a.Count <= 0 {
			continue
		}
		switch k {
		case q.Temperature:
			narrow(n.tempLo, n.tempHi)
		case q.Acidity:
			if !v.Injected {
				narrow(n.phLo, n.phHi)
			}
		case q.GH:
			narrow(n.ghLo, n.ghHi)
		case q.KH:
			narrow(n.khLo, n.khHi)
		case q.Nitrate:
			narrow(0, n.nitrate)
		case q.TAN:
			narrow(0, tanFirstClass)
		case q.Nitrite:
			narrow(0, nitriteAct)
		}
	}
	// Animals that share no band: none is shown, a rule speaks of it.
	if b.Lo.OK && b.Hi.OK && b.Lo.V > b.Hi.V {
		return Band{}
	}
	return b
}

// nitrateGuide is the nitrate in mg/L that the animals here are kept at, which is
// not the band in which a profile doses; that stands in where no group is known.
func (v *View) nitrateGuide() q.Opt[float64] {
	guide := q.Opt[float64]{}
	for _, a := range v.Setup.Animals {
		if n, ok := animalNeeds[a.Group]; ok && a.Count > 0 && (!guide.OK || n.nitrate < guide.V) {
			guide = q.Some(n.nitrate)
		}
	}
	if !guide.OK {
		return v.bandOf(q.Nitrate).Hi
	}
	return guide
}

// within says where a reading stands against a band, with what the kit can mean.
func (b Band) within(x q.Interval) State {
	switch {
	case !b.Lo.OK && !b.Hi.OK:
		return NotJudged
	case b.Hi.OK && x.Value > b.Hi.V && x.Lo > b.Hi.V:
		return High
	case b.Lo.OK && x.Value < b.Lo.V && x.Hi < b.Lo.V:
		return Low
	case b.Hi.OK && x.Value > b.Hi.V, b.Lo.OK && x.Value < b.Lo.V:
		return Borderline
	}
	return InBand
}

// strips shows every reading of the tank's own water against its band.
func strips(v *View) []Strip {
	var out []Strip
	for _, r := range v.Aside {
		out = append(out, Strip{Kind: r.Kind, Phase: string(r.Phase), Value: r.Interval, Band: v.bandOf(r.Kind), State: Retest, Previous: v.previous(r.Kind, r.Phase)})
	}
	for _, r := range v.Now.Readings {
		switch r.Phase {
		case visit.Late, visit.Before, visit.Morning:
		default:
			continue
		}
		switch r.Kind {
		case q.Temperature, q.Acidity, q.KH, q.GH, q.TAN, q.Nitrite, q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.EC, q.PPFD, q.Flow:
		default:
			continue
		}
		w := widened(r)
		s := Strip{Kind: r.Kind, Phase: string(r.Phase), Value: w.Interval, Band: v.bandOf(r.Kind)}
		s.State = s.Band.within(w.Interval)
		if r.Kind == q.Flow && v.Flow.Clean.OK {
			s.Band = Band{Lo: q.Some(0.6 * v.Flow.Clean.V), Hi: q.Some(1.05 * v.Flow.Clean.V)}
			s.State = s.Band.within(w.Interval)
		}
		// With CO2 driven, pH follows the lamp: only the last third of the light
		// says what it comes to.
		if r.Kind == q.Acidity && v.Injected && !v.nearTop(r) {
			s.State = NotJudged
		}
		if v.Doubtful(r.Kind) {
			s.State = Retest
		}
		s.Previous = v.previous(r.Kind, r.Phase)
		out = append(out, s)
	}
	if v.CO2.OK && v.CO2.By != "direct" && v.Injected && !v.co2Meaningless() {
		e := v.CO2.Est
		s := Strip{Kind: q.CO2, Phase: "computed", Value: q.Interval{Value: float64(e.Value), Lo: float64(e.Lo90), Hi: float64(e.Hi90)}, Band: v.co2Band()}
		s.State = v.co2State()
		// Against the target, not against the animals' alarm, which has its own words.
		if s.State == InBand || s.State == Borderline {
			s.State = s.Band.within(s.Value)
		}
		out = append(out, s)
	}
	return out
}

// previous is the last earlier reading of the kind in the same phase: a pH at
// dawn says nothing beside one from the afternoon.
func (v *View) previous(k q.Kind, p visit.Phase) q.Opt[float64] {
	for i := len(v.History) - 1; i >= 0; i-- {
		if x, ok := v.History[i].Reading(k, p); ok {
			return q.Some(x.Value)
		}
	}
	return q.Opt[float64]{}
}

// nearTop reports whether a sample was drawn near the day's top of CO2: by the
// clock where the hours of light are known, else as it was said.
func (v *View) nearTop(r visit.Reading) bool {
	if c := v.drawnAt(r); c.Known {
		return c.Late()
	}
	return r.Phase == visit.Late
}

func (v *View) co2Band() Band {
	if b, ok := v.Profile.Band(q.CO2); ok {
		return Band{b.Lo, b.Hi}
	}
	if !v.Injected {
		return Band{}
	}
	return Band{q.Some(15.0), q.Some(co2Alarm)}
}

// lookedAtSystem reports whether this visit says that the system is well, by
// reading or by eye.
func (v *View) lookedAtSystem(s System) bool {
	if s == CO2 {
		return v.CO2.OK && v.Injected
	}
	return lookedAt(&v.Now, s)
}

// lookedAt reports whether a visit says anything of a system.
func lookedAt(r *visit.Record, s System) bool {
	read := func(ks ...q.Kind) bool {
		for i := range r.Readings {
			for _, k := range ks {
				if r.Readings[i].Kind == k {
					return true
				}
			}
		}
		return false
	}
	switch s {
	case Light:
		return read(q.PPFD, q.PPFDMax, q.PPFDMin) || len(r.PPFD) > 0
	case CO2:
		return read(q.Acidity, q.CO2, q.IndicatorPH)
	case Nutrients:
		return read(q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.Calcium, q.Magnesium)
	case Water:
		return read(q.Temperature, q.KH, q.GH, q.TAN, q.Nitrite, q.EC)
	case Filter:
		return read(q.Flow, q.FlowShare) || len(r.Buckets) > 0 || r.EyeMark != ""
	case Animals:
		return r.Looks[visit.LookAnimals] == visit.Fine || r.Has("animals_normal")
	case Plants:
		return r.Looks[visit.LookPlants] == visit.Fine || r.Has("plants_growing") || r.Has("bubbles_on_leaves")
	case Gear:
		return r.Looks[visit.LookGear] == visit.Fine
	}
	return false
}
