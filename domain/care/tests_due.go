package care

import (
	"cmp"
	"slices"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// A routine visit has two to four readings. Which ones follows from what is
// least sure and what would hurt most.
const (
	fewestTests = 2
	mostTests   = 4
)

// testsDue lists the readings worth taking at the next visit, the most wanted
// first.
func testsDue(v *View, a *Assessment) []TestDue {
	type wanted struct {
		TestDue
		weight float64
	}
	all := make([]wanted, 0, 16)
	lessons := v.lessons()
	add := func(k q.Kind, phase visit.Phase, harm, days float64, why say.Sentence) {
		stale := min(v.daysSince(k)/days, 3)
		if l, ok := lessonOn(lessons, k); ok && v.knows(k) {
			// The tank's own rates say better than the calendar how unsure it is.
			stale = lessonWeight * l.Worth
			if l.Doubt > openDoubt {
				m, _ := q.MeasureOf(k)
				why = say.S("due.open", say.Text("what", m.Title), say.Day("day", v.nextDay()))
			}
		}
		all = append(all, wanted{TestDue{Kind: k, Phase: string(phase), Why: why}, harm * max(stale, 0.05)})
	}
	for _, d := range v.Doubts {
		all = append(all, wanted{TestDue{Kind: d.Kind, Phase: string(visit.Before), Why: say.S("due.doubt")}, 9})
	}
	for _, k := range v.dueLooks(v.Now.Day.Add(int(v.daysToNext()))) {
		all = append(all, wanted{TestDue{Kind: k, Phase: string(visit.Before), Why: say.S("due.follow")}, 5})
	}
	if _, cleaned := v.Now.Did(visit.FilterClean); cleaned && v.Flow.Share.OK && v.Flow.Share.V < 0.6 {
		if _, after := v.flowAfter(); !after {
			all = append(all, wanted{TestDue{Kind: q.Flow, Phase: string(visit.Before), Why: say.S("due.cleaned")}, 7})
		}
	}
	for _, t := range a.Tasks {
		if t.Action == PauseDose && t.Subject != "" {
			all = append(all, wanted{TestDue{Kind: q.Kind(t.Subject), Phase: string(visit.Before), Why: say.S("due.paused")}, 6})
		}
	}
	for _, k := range v.soughtAfter(a.Findings) {
		all = append(all, wanted{TestDue{Kind: k, Phase: string(visit.Before), Why: say.S("due.follow")}, 3})
	}
	for _, s := range a.Separate {
		if s.Kind != "" {
			all = append(all, wanted{TestDue{Kind: s.Kind, Phase: string(s.Phase), Why: say.S("due.separates", say.Word("cause", "cause."+s.For), say.Word("other", "cause."+s.Against))}, 2.5})
		}
	}
	if !v.nitrogenKnown() && slices.ContainsFunc(v.Open, func(t Task) bool { return t.Action == "test_nh3_no2" }) {
		for _, k := range []q.Kind{q.TAN, q.Nitrite} {
			all = append(all, wanted{TestDue{Kind: k, Phase: string(visit.Before), Why: say.S("due.asked")}, 8.5})
		}
	}
	young := v.Age.OK && v.Age.V < newTankWeeks
	if v.Animals || young {
		harm := 1.0
		if young {
			harm = 4
		}
		if v.Fact("tan_present") {
			harm = 8
		}
		if _, read := v.Tank(q.TAN); v.khLost() && !read {
			harm = 8 // nothing may be lifted before it is known
		}
		if v.Fact("young_tank") || v.Fact("tan_present") || v.Fact("disturbed") || harm > 4 {
			add(q.TAN, visit.Before, harm, 14, say.S("due.tan"))
		} else {
			add(q.TAN, visit.Before, harm, 56, say.S("due.tan_spot"))
		}
		if v.Fact("no2_present") {
			harm = 8
		}
		if v.Fact("young_tank") || v.Fact("no2_present") || v.Fact("disturbed") {
			add(q.Nitrite, visit.Before, harm*0.95, 14, say.S("due.no2"))
		}
	}
	if _, read := v.Tank(q.KH); v.khLost() && !read {
		add(q.KH, visit.Before, 7, 14, say.S("due.kh_lost"))
	}
	if v.Injected {
		if v.neverLate() {
			add(q.Acidity, visit.Late, 2.4, 14, say.S("due.ph_late_visit"))
		} else {
			add(q.Acidity, visit.Late, 2.4, 14, say.S("due.ph_late"))
		}
		add(q.KH, visit.Before, 2.0, 28, say.S("due.kh"))
	} else {
		add(q.KH, visit.Before, 1.0, 42, say.S("due.kh_plain"))
	}
	add(q.Nitrate, visit.Before, 2.0, 28, v.dueWords(q.Nitrate))
	if v.Plants && (v.Injected || v.Setup.Planting == "dense") {
		add(q.Phosphate, visit.Before, 1.2, 42, v.dueWords(q.Phosphate))
	}
	add(q.GH, visit.Before, 0.8, 56, v.dueWords(q.GH))
	add(q.Temperature, visit.Before, 1.5, 14, say.S("due.temp"))
	num.SortStable(all, func(a, b wanted) int { return cmp.Compare(b.weight, a.weight) })
	var out []TestDue
	for _, w := range all {
		if len(out) >= mostTests || len(out) >= fewestTests && w.weight < 1 {
			break
		}
		if slices.ContainsFunc(out, func(t TestDue) bool { return t.Kind == w.Kind }) {
			continue
		}
		out = append(out, w.TestDue)
	}
	return out
}

// neverLate reports whether this visit and the last three all came before the last
// third of the light: then nobody will read pH late.
func (v *View) neverLate() bool {
	if !v.Clock.Known || len(v.History) < 3 {
		return false
	}
	for _, h := range v.History[len(v.History)-3:] {
		if v.Clock.at(h.Minute).Position >= 2.0/3 {
			return false
		}
	}
	return v.Clock.Position < 2.0/3
}

// soughtAfter are the kinds that this visit found to be out of place and that a
// wish means to put right: whether it was done now or waits, the next look shows.
func (v *View) soughtAfter(fs []Finding) []q.Kind {
	var out []q.Kind
	for i := range fs {
		for j := range fs[i].Wishes {
			e := fs[i].Wishes[j].Expect
			if e == nil || e.Kind == "" || e.Days > followedFor || slices.Contains(out, e.Kind) {
				continue
			}
			if _, read := v.Tank(e.Kind); read {
				out = append(out, e.Kind)
			}
		}
	}
	return out
}

// dueWords say why a reading that only ages is due: when it was last taken.
func (v *View) dueWords(k q.Kind) say.Sentence {
	if _, ok := v.Tank(k); ok {
		return say.S("due.moves")
	}
	for i := len(v.History) - 1; i >= 0; i-- {
		if _, ok := readOf(&v.History[i], k, visit.Late, visit.Before, visit.Morning); ok {
			return say.S("due.stale", say.Day("day", v.History[i].Day))
		}
	}
	return say.S("due.never")
}

// daysSince is how long ago the kind will have been read by the next visit.
func (v *View) daysSince(k q.Kind) float64 {
	next := 14.0
	if e := v.Setup.Agreement.EveryDays; e.OK {
		next = float64(e.V)
	}
	if _, ok := v.Tank(k); ok && !v.Doubtful(k) {
		return next
	}
	for i := len(v.History) - 1; i >= 0; i-- {
		if v.History[i].First(k, visit.Late, visit.Before, visit.Morning) != nil {
			return next + float64(v.Now.Day-v.History[i].Day)
		}
	}
	return next + 60
}
