package care

import (
	"sync"

	"scaperound/domain/chem"
	"scaperound/domain/forecast"
	"scaperound/domain/light"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// View is a case and what follows from it at once. Rules read only this and
// never change it.
type View struct {
	Case
	Net      q.Opt[q.Litre] // net water
	Age      q.Opt[float64] // weeks since planting
	Animals  bool
	Fish     bool
	Shrimp   bool
	Snails   bool
	Plants   bool
	Injected bool
	Clock    Clock
	CO2      CO2View
	NH3      NH3View
	PPFD     q.Opt[float64] // mean at the height of the leaves, µmol/m²/s
	DLI      q.Opt[float64] // mol/m²/d
	Hours    q.Opt[float64] // light a day
	Flow     FlowView
	Doubts   []Doubt
	Aside    []visit.Reading // taken out of this visit until read again: see slips
	Learnt   forecast.State  // of the tank, this visit included
	Causes   []Cause
	NotKnown float64
	Followed []FollowUp      // what became of tasks that were done
	failed   map[string]bool // tasks that were done and did not help, by their key
	Tried    map[string]bool // causes against which something was done in vain

	awaited    []forecast.Expected // see expected
	then       forecast.State      // see atNext
	moved      bool                // then is worked out
	doseInVain bool                // a dose was given and its reading did not move
	facts      map[string]bool
	factList   []string // the same, in the order in which they were found
	scales     scales
}

// CO2View is CO2 by the full chemistry.
type CO2View struct {
	OK     bool
	Est    chem.CO2Estimate
	Late   bool // known to be near the day's top
	Early  bool // known to be before the last third
	PH, KH q.Interval
	Temp   q.Interval
	By     string        // ph_kh, drop, indicator, direct
	KHOn   q.Opt[q.Date] // the day of the KH, where it is from an earlier visit
	Upper  bool          // an upper bound: not all of the KH need be carbonate
}

// NH3View is free ammonia at the day's highest pH.
type NH3View struct {
	OK      bool
	N       q.Interval // mg/L NH3-N
	PH      q.Interval
	Guessed bool // the highest pH is not measured but follows from KH when the CO2 is gone
}

// Doubt is a reading that does not count until it is taken again.
type Doubt struct {
	Kind q.Kind
	Why  string // expired, contradiction, uncalibrated, slip, gas
}

// See computes what the rules read.
func See(c Case) *View {
	v := &View{}
	v.see(&c)
	return v
}

// desks are views whose room is used again: one that is replayed over a whole
// shop would otherwise make more garbage than findings.
var desks = sync.Pool{New: func() any { return &View{} }}

// cleared is the view as new, but for the room that it may use again.
func (v *View) cleared() *View {
	clear(v.facts)
	*v = View{facts: v.facts, factList: v.factList[:0], scales: v.scales}
	return v
}

func (v *View) see(c *Case) {
	v.Case, v.Injected, v.Age = *c, c.Setup.CO2.Injected, c.Setup.AgeWeeks(c.Now.Day)
	for _, a := range c.Setup.Animals {
		if a.Count <= 0 {
			continue
		}
		v.Animals = true
		switch {
		case tank.Shrimp(a.Group):
			v.Shrimp = true
		case a.Group == "snails":
			v.Snails = true
		default:
			v.Fish = true
		}
	}
	v.setAside(v.slips())
	v.Learnt = forecast.Update(recall(c), c.Setup, c.Plan, v.Now)
	v.Plants = len(c.Setup.Plants) > 0 || c.Setup.Planting != ""
	v.Net, _ = forecast.NetVolume(c.Setup)
	v.Clock = lightClock(c)
	v.Hours = q.Opt[float64]{V: float64(c.Setup.Light.Hours.V), OK: c.Setup.Light.Hours.OK}
	v.Doubts = doubts(v)
	v.CO2 = seeCO2(v)
	v.NH3 = seeNH3(v)
	v.Flow = seeFlow(v)
	v.PPFD = seePPFD(v)
	if v.PPFD.OK && v.Hours.OK {
		if d, err := light.DLI(q.Micromol(v.PPFD.V), q.Hours(v.Hours.V)); err == nil {
			v.DLI = q.Some(float64(d))
		}
	}
	v.followClosed()
	facts(v)
	v.Causes, v.NotKnown = Weigh(v)
}

// Read returns this visit's reading of the kind in the first of the phases that
// has one, widened to what a kit of its kind can mean where none was named.
func (v *View) Read(k q.Kind, phases ...visit.Phase) (visit.Reading, bool) {
	return readOf(&v.Now, k, phases...)
}

func readOf(r *visit.Record, k q.Kind, phases ...visit.Phase) (visit.Reading, bool) {
	if x := r.First(k, phases...); x != nil {
		return widened(*x), true
	}
	return visit.Reading{}, false
}

// Tank returns the reading that stands for the tank's own water.
func (v *View) Tank(k q.Kind) (visit.Reading, bool) {
	return v.Read(k, visit.Late, visit.Before, visit.Morning)
}

// Value is the tank's reading of the kind as a number; a doubtful one counts as
// not known.
func (v *View) Value(k q.Kind) q.Opt[float64] {
	r, ok := v.Tank(k)
	if !ok || v.Doubtful(k) {
		return q.Opt[float64]{}
	}
	return q.Some(r.Value)
}

// Source is the change water's value: as tested now, else as recorded for the
// tank.
func (v *View) Source(k q.Kind) q.Opt[float64] {
	if r, ok := v.Now.Reading(k, visit.FromSource); ok {
		return q.Some(r.Value)
	}
	return v.Setup.Change(k)
}

// Doubtful reports whether readings of the kind wait for a second test before
// anything follows from them.
func (v *View) Doubtful(k q.Kind) bool {
	if k == q.TAN || k == q.Nitrite {
		return false
	}
	for _, d := range v.Doubts {
		if d.Kind == k {
			return true
		}
	}
	return false
}

// Before returns the newest earlier readings of the kind from the tank's own
// water, the newest first, at most n.
func (v *View) Before(k q.Kind, n int) []visit.Reading {
	out := make([]visit.Reading, 0, min(n, len(v.History)))
	for i := len(v.History) - 1; i >= 0 && len(out) < n; i-- {
		if x, ok := readOf(&v.History[i], k, visit.Late, visit.Before, visit.Morning); ok {
			out = append(out, x)
		}
	}
	return out
}

// valuesBefore are the values of what Before returns, put into the room of into.
func (v *View) valuesBefore(k q.Kind, into []float64) []float64 {
	for i := len(v.History) - 1; i >= 0 && len(into) < cap(into); i-- {
		if x := v.History[i].First(k, visit.Late, visit.Before, visit.Morning); x != nil {
			into = append(into, x.Value)
		}
	}
	return into
}

// Has reports whether any of the signs was seen at this visit.
func (v *View) Has(signs ...string) bool {
	for _, s := range signs {
		if v.Now.Has(s) {
			return true
		}
	}
	return false
}

// Fact reports a derived fact by its name; see facts.
func (v *View) Fact(name string) bool { return v.facts[name] }

// Weight is the share of a cause among those that speak of the same, 0 where it was
// not considered: a second trouble does not silence the first.
func (v *View) Weight(cause string) float64 {
	for _, c := range v.Causes {
		if c.ID == cause {
			return c.Own
		}
	}
	return 0
}

// Looked reports whether somebody looked at what the groups of signs show.
func (v *View) Looked(groups ...visit.SignGroup) bool {
	for _, g := range groups {
		// "Since last time" is a look at what happened, and a death one at the animals.
		if g == visit.SignHistory && len(v.Now.Since) > 0 || g == visit.SignAnimals && v.since("died") {
			return true
		}
		if a := v.Now.Looks[visit.Look(g)]; a != visit.NotLooked {
			return true
		}
		for _, s := range v.Now.Signs {
			if d, ok := visit.SignOf(s.ID); ok && d.Group == g {
				return true
			}
		}
	}
	return false
}

// usualHalf is half of what a reading of the kind can mean where no kit is
// named.
func usualHalf(k q.Kind, v float64) float64 {
	m := visit.MeaningOf(k, v)
	return m.Hi - m.Value
}

// widened gives a bare number what it can mean.
func widened(r visit.Reading) visit.Reading {
	if r.Lot == "" && r.Lo == r.Hi {
		r.Interval = visit.MeaningOf(r.Kind, r.Value)
	}
	return r
}

// usualTemp stands in where no temperature was read; CO2 and ammonia change
// little over the width that it is given.
var usualTemp = q.Interval{Value: 25, Lo: 22, Hi: 28}

// held is a reading held against a limit, as the arithmetic of a finding.
func (v *View) held(r visit.Reading, limit float64, source string) *Calc {
	m, _ := q.MeasureOf(r.Kind)
	return &Calc{Name: "reading", Args: []Arg{{string(r.Kind), r.Value, m.Unit}}, Value: r.Value, Lo: r.Lo, Hi: r.Hi, Unit: m.Unit, Limit: q.Some(limit), Source: source}
}

func (v *View) temp() q.Interval {
	if r, ok := v.Tank(q.Temperature); ok {
		return r.Interval
	}
	if t := v.Setup.Heater.Target; t.OK {
		return q.Interval{Value: float64(t.V), Lo: float64(t.V) - 1, Hi: float64(t.V) + 1}
	}
	return usualTemp
}

func (v *View) ionic() q.MolPerLitre {
	if r, ok := v.Tank(q.EC); ok {
		if i, err := chem.IonicFromEC(q.MicroSPerCm(r.Value)); err == nil {
			return i
		}
	}
	return chem.UsualIonic
}
