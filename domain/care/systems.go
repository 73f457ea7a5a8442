package care

import (
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// systems says for each part of the tank how it stands: its worst finding, how
// sure that is, since when, and what would change it.
func systems(fs []Finding, v *View, seps []Separator, strips []Strip) []SystemState {
	out := make([]SystemState, 0, len(Systems))
	for _, sys := range Systems {
		s := SystemState{System: sys, State: NotMeasured}
		worst := -1
		for i := range fs {
			f := &fs[i]
			if f.System != sys || f.State == Internal || f.Rule == "asked" {
				continue
			}
			if worst < 0 || f.State.Trouble() && (!fs[worst].State.Trouble() || f.Urgency.Level() < fs[worst].Urgency.Level()) {
				worst = i
			}
		}
		word := say.Word("system", "system."+string(sys))
		switch {
		case worst >= 0:
			s.State, s.Say = fs[worst].State, fs[worst].Say
			s.More = v.about(&fs[worst], seps)
		case sys == CO2 && !v.Injected:
			s.State, s.Say = NotDue, say.S("system.no_co2")
		case sys == CO2 && v.CO2.OK && v.co2Meaningless():
			s.State, s.Say = NotJudged, say.S("system.co2_meaningless")
		case v.unsaid(sys):
			s.State, s.Say = NotJudged, say.S("system.unsaid", word)
		case figureOut(strips, sys) != nil:
			x := figureOut(strips, sys)
			s.State, s.Say = x.State, say.S("system.figure", word, say.Text("what", titleOf(x.Kind)), say.Reading("value", x.Kind, x.Value.Value))
			s.More = []say.Sentence{say.S("sure.read")}
		case v.lookedAtSystem(sys):
			s.State, s.Say = Fine, say.S("system.fine", word)
			s.More = []say.Sentence{say.S("sure.eye")}
			if v.readForSystem(sys) {
				s.More[0] = say.S("sure.read")
			}
		default:
			s.Say = say.S("system.not_measured", word)
			if on, ok := v.lastLooked(sys); ok {
				s.More = []say.Sentence{say.S("system.last_looked", say.Day("day", on))}
			}
		}
		out = append(out, s)
	}
	return out
}

// figureOut is the first figure of a system that stands outside its target.
func figureOut(strips []Strip, sys System) *Strip {
	for i := range strips {
		if s := &strips[i]; systemRead(s.Kind) == sys && (s.State == High || s.State == Low) {
			return s
		}
	}
	return nil
}

// clearly is the share from which a cause is told with its weight.
const clearly = 0.5

// unsaid reports whether somebody saw trouble and noted no sign that says what.
func (v *View) unsaid(s System) bool {
	switch s {
	case Animals:
		return v.Now.Looks[visit.LookAnimals] == visit.Trouble
	case Plants:
		return v.Now.Looks[visit.LookPlants] == visit.Trouble
	case Gear:
		return v.Now.Looks[visit.LookGear] == visit.Trouble
	}
	return false
}

// about says how sure a finding is, since when it holds, and what would change it.
func (v *View) about(f *Finding, seps []Separator) []say.Sentence {
	var out []say.Sentence
	believed := Cause{}
	for _, w := range f.Wishes {
		if w.Weight > believed.Weight {
			believed = Cause{ID: w.Cause, Weight: w.Weight, Own: v.Weight(w.Cause)}
		}
	}
	kind, isReading := readingOf(f)
	switch {
	case f.State == Borderline || f.State == Retest:
		out = append(out, say.S("sure.kit_cannot_tell"))
	case strings.HasPrefix(f.Rule, "ahead_"):
		out = append(out, say.S("sure.ahead"))
	case isReading || f.Calc != nil:
		out = append(out, say.S("sure.read"))
	case believed.ID == nothingID:
		out = append(out, say.S("sure.eye"))
	case believed.ID != "" && believed.Own < clearly:
		out = append(out, say.S("sure.cause_open", say.Word("cause", "cause."+believed.ID)))
	case believed.ID != "":
		out = append(out, say.S("sure.cause", say.Word("cause", "cause."+believed.ID), say.Num("share", believed.Own*100, q.Percent, 0)))
	default:
		out = append(out, say.S("sure.eye"))
	}
	if on, ok := v.heldSince(f, kind, isReading); ok {
		out = append(out, say.S("since", say.Day("day", on)))
	}
	switch {
	case isReading && f.Calc.Limit.OK && f.State == High:
		out = append(out, say.S("change.below", say.Text("what", titleOf(kind)), say.Reading("limit", kind, f.Calc.Limit.V)))
	case isReading && f.Calc.Limit.OK && f.State == Low:
		out = append(out, say.S("change.above", say.Text("what", titleOf(kind)), say.Reading("limit", kind, f.Calc.Limit.V)))
	case believed.ID != "":
		for _, s := range seps {
			if s.For == believed.ID || s.Against == believed.ID {
				return append(out, s.Say)
			}
		}
	}
	return out
}

func titleOf(k q.Kind) string {
	m, _ := q.MeasureOf(k)
	return m.Title
}

// readingOf is the reading that a finding holds against its limit.
func readingOf(f *Finding) (q.Kind, bool) {
	if f.Calc == nil || f.Calc.Name != "reading" || len(f.Calc.Args) == 0 {
		return "", false
	}
	return q.Kind(f.Calc.Args[0].Name), true
}

// heldSince is the first of the visits in a row, up to this one, that show the same:
// the reading beyond the limit, or one of the signs.
func (v *View) heldSince(f *Finding, kind q.Kind, isReading bool) (q.Date, bool) {
	same := func(r *visit.Record) (holds, told bool) {
		if isReading && f.Calc.Limit.OK {
			x, ok := readOf(r, kind, visit.Late, visit.Before, visit.Morning)
			if !ok {
				return false, false
			}
			if f.State == Low {
				return x.Value < f.Calc.Limit.V, true
			}
			return x.Value > f.Calc.Limit.V, true
		}
		for _, e := range f.For {
			if r.Has(e.What) {
				return true, true
			}
		}
		return false, len(f.For) > 0 && len(r.Looks) > 0
	}
	on, found := v.Now.Day, false
	for i := len(v.History) - 1; i >= 0; i-- {
		holds, told := same(&v.History[i])
		if !told {
			continue
		}
		if !holds {
			break
		}
		on, found = v.History[i].Day, true
	}
	return on, found
}

// lastLooked is the day of the last visit that says anything of a system.
func (v *View) lastLooked(s System) (q.Date, bool) {
	for i := len(v.History) - 1; i >= 0; i-- {
		if lookedAt(&v.History[i], s) {
			return v.History[i].Day, true
		}
	}
	return 0, false
}

// readForSystem reports whether the system was read, not only looked at.
func (v *View) readForSystem(s System) bool {
	switch s {
	case Light, CO2, Nutrients:
		return true
	case Water:
		return v.readAny(q.Temperature, q.KH, q.GH, q.TAN, q.Nitrite, q.EC)
	case Filter:
		return v.readAny(q.Flow, q.FlowShare) || len(v.Now.Buckets) > 0
	}
	return false
}
