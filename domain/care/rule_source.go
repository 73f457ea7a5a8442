package care

import (
	"math"

	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

var ruleSource = Rule{
	Meta: Meta{
		ID: "source", Title: "What the source brings", System: Water, Evidence: "B",
		Why:    "The supply changes with season and supplier. What it brings at each change is read there, not guessed in the tank.",
		Source: "Practice; suppliers' reports",
	},
	Applies: func(v *View) Answer {
		if v.Setup.Source.OK && v.Setup.Source.V.Kind == tank.RO {
			return NotApplicable
		}
		if !v.Looked(visit.SignHistory) && !v.readAny(q.Nitrate, q.NitrateN, q.TAN, q.Nitrite, q.EC, q.GH, q.KH) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("source_change") && !v.Fact("source_no3_high") && !v.Fact("source_tan") && !v.Fact("source_no2") && !v.Fact("source_moved") {
			return nil
		}
		if v.believed("unit_confusion") {
			return nil
		}
		f := Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.source")}
		if was, is, moved := v.sourceMoved(); moved {
			m, _ := q.MeasureOf(is.Kind)
			f.Say = say.S("find.source.moved", say.Text("what", m.Title), say.Reading("was", is.Kind, was.Value), say.Reading("is", is.Kind, is.Value))
		}
		f.Wishes = all(
			when(v.Fact("source_moved") && v.Animals, all(do(RankAnimals, "wc_many_small", "gh_change_slow", "tell_owner_urgent"), ban(RankAnimals, "why.small_steps", "wc_50_repeat", "wc_30_50", "wc_large_once", "kh_up_fast", "acid"))),
			do(RankAnimals, "test_source"), when(v.Fact("source_no3_high"), do(RankAnimals, "ro_blend")),
			when(v.Has("utility_announced_chloramine"), do(RankAnimals, "dechlorinate")),
			when(v.Fact("source_no3_high"), ban(RankAnimals, "why.same_water_again", "wc_large_once")))
		return v.caused("source_change", f)
	},
}

// sourceMoved are a reading of the source and its last one, where the two differ by
// three tenths and more than the kits could mean: the supply is no longer what it was.
func (v *View) sourceMoved() (was, is visit.Reading, moved bool) {
	for _, k := range [...]struct {
		kind  q.Kind
		least float64
	}{{q.EC, 80}, {q.GH, 2}, {q.KH, 2}} {
		now, ok := v.Now.Reading(k.kind, visit.FromSource)
		if !ok {
			continue
		}
		for i := len(v.History) - 1; i >= 0; i-- {
			old, ok := v.History[i].Reading(k.kind, visit.FromSource)
			if !ok {
				continue
			}
			if gap := math.Abs(now.Value - old.Value); gap >= k.least && gap >= 0.3*old.Value {
				return old, now, true
			}
			break
		}
	}
	return was, is, false
}

// sourceNitrate is the NO3 of the source in mg/L, as read, as reported in either
// unit, or as recorded.
func (v *View) sourceNitrate() q.Opt[float64] {
	if r, ok := v.Read(q.Nitrate, visit.FromSource, visit.SourceReport); ok {
		return q.Some(r.Value)
	}
	if r, ok := v.Read(q.NitrateN, visit.FromSource, visit.SourceReport); ok {
		return q.Some(r.Value * chem.MassNO3 / chem.MassN)
	}
	return v.Setup.Change(q.Nitrate)
}
