package forecast

import (
	"scaperound/domain/gear"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Limit is a value that a kind should not pass, in its canonical unit; a
// cylinder's is its content in kg.
type Limit struct {
	Kind q.Kind
	Side Side
	At   float64
	// Hard limits are kept with nine chances in ten, the others as often as not.
	Hard bool
}

// lowFlow is the share of the clean flow at which a filter is cleaned (practice).
const lowFlow = 0.6

// LimitsOf are the limits of a tank's profile for the kinds that a forecast
// follows, with those of its filter and its cylinder.
func LimitsOf(setup tank.Setup, p tank.Profile) []Limit {
	var out []Limit
	for _, b := range p.Bands {
		if i, ok := indexOf(b.Kind); !ok || i >= moves {
			continue
		}
		for _, l := range [...]struct {
			at   q.Opt[float64]
			side Side
			hard bool
		}{{b.Lo, Below, false}, {b.Hi, Above, false}, {b.HardLo, Below, true}, {b.HardHi, Above, true}} {
			if l.at.OK && finite(l.at.V) && (l.at.V > 0 || l.side == Above) {
				out = append(out, Limit{b.Kind, l.side, l.at.V, l.hard})
			}
		}
	}
	if c := setup.Filter.Clean; c.OK && c.V > 0 {
		out = append(out, Limit{q.Flow, Below, lowFlow * float64(c.V), false})
	}
	if c := setup.CO2.Cylinder; setup.CO2.Injected && c.OK && c.V > 0 {
		out = append(out, Limit{q.CylinderGross, Below, float64(gear.SwapShare) * float64(c.V), true})
	}
	return out
}

// Longest is how long a tank may be left, and what ends it.
type Longest struct {
	Verdict Verdict // Around, Already, NotWithin or NotEnough
	Days    int     // the last day on which every limit is kept
	By      Limit   // the first that is not, where Verdict is Around or Already
	Within  int
}

// LongestInterval answers for how many days, at most within (1 to 365), the tank
// may be left under a plan, with no change of water, before a limit is passed. A
// limit that is already passed after this visit's work is answered as such only
// where nothing else ends sooner.
func LongestInterval(s State, setup tank.Setup, plan tank.Plan, limits []Limit, within int) Longest {
	within = max(1, min(within, 365))
	out := Longest{Verdict: NotEnough, Within: within}
	if !s.Usable() || len(limits) == 0 {
		return out
	}
	run := runner{s: s, setup: &setup, course: &Course{Plan: plan}}
	passed := make([]bool, len(limits))
	judged := false
	for d := 0; d <= within; d++ {
		run.to(s.Day.Add(d))
		var now [Tracked]Expected
		for _, e := range run.say(make([]Expected, 0, Tracked), run.s.Day) {
			i, _ := indexOf(e.Kind)
			now[i] = e
		}
		for i, l := range limits {
			k, ok := indexOf(l.Kind)
			if !ok || now[k].Kind == "" || passed[i] {
				continue
			}
			judged = true
			if !l.passes(now[k]) {
				continue
			}
			if d > 0 {
				return Longest{Verdict: Around, Days: d - 1, By: l, Within: within}
			}
			passed[i] = true
		}
	}
	if !judged {
		return out
	}
	out.Verdict, out.Days = NotWithin, within
	for i, l := range limits {
		if passed[i] {
			return Longest{Verdict: Already, By: l, Within: within}
		}
	}
	return out
}

func (l Limit) passes(e Expected) bool {
	x := e.Value
	switch {
	case l.Hard && l.Side == Below:
		x = e.Lo
	case l.Hard:
		x = e.Hi
	}
	if l.Side == Below {
		return x < l.At
	}
	return x > l.At
}
