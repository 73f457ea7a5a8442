package care

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// top is the one sentence that opens the sheet.
func top(v *View, a *Assessment) (Status, say.Sentence) {
	// Today is for what is due today; the rest begins now and lasts.
	asks, today := false, false
	for _, l := range a.Customer {
		asks = asks || !ActionOf(l.Action).Told
		for i := range a.Tasks {
			today = today || !a.Tasks[i].Renewed && a.Tasks[i].Action == l.Action && !ActionOf(l.Action).Told && a.Tasks[i].Urgency.Level() <= Today.Level()
		}
	}
	switch {
	case today:
		return PleaseDo, say.S("top.please_do")
	case asks:
		return PleaseDo, say.S("top.please_keep")
	}
	watched := a.watched(ThisVisit)
	if a.Urgency.Level() <= Today.Level() || v.died() {
		if len(watched) == 0 {
			watched = []say.Arg{say.Word("", "watch.tank")}
		}
		return Watching, say.S("top.seeing_to", say.List("what", watched...))
	}
	if len(watched) == 0 && v.distressed() {
		watched = []say.Arg{say.Word("", "watch.animals")}
	}
	if len(watched) > 0 {
		return Watching, say.S("top.watching", say.List("what", watched...))
	}
	if slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.State == Retest }) {
		return Watching, say.S("top.reading_again")
	}
	// Nobody may be told that all is well where nobody looked.
	small := a.watched(Routine)
	if len(small) == 0 {
		small = a.outOfBand()
	}
	if v.Setup.HasAnimals() && v.Now.Looks[visit.LookAnimals] != visit.Fine && !v.Has("animals_normal") {
		if len(small) > 0 {
			return Watching, say.S("top.looking_after", say.List("what", small...))
		}
		return Watching, say.S("top.not_looked")
	}
	if len(small) > 0 {
		return Watching, say.S("top.tending", say.List("what", small...))
	}
	return AllWell, say.S("top.all_well")
}

// outOfBand are the systems of which the sheet shows a figure beside its target.
func (a *Assessment) outOfBand() (out []say.Arg) {
	seen := map[System]bool{}
	for _, s := range a.Strips {
		if sys := systemRead(s.Kind); (s.State == Low || s.State == High) && !seen[sys] {
			seen[sys] = true
			out = append(out, say.Word("", "watch."+string(sys)))
		}
	}
	return out
}

// systemRead is the system of which a reading speaks.
func systemRead(k q.Kind) System {
	switch k {
	case q.Nitrate, q.Phosphate, q.Potassium, q.Iron:
		return Nutrients
	case q.PPFD:
		return Light
	case q.CO2:
		return CO2
	case q.Flow:
		return Filter
	}
	return Water
}

// watched are the systems about which the customer is told of trouble at least so
// urgent, as words.
func (a *Assessment) watched(least Urgency) (out []say.Arg) {
	for _, sys := range a.Systems {
		if slices.ContainsFunc(a.Findings, func(f Finding) bool {
			return f.System == sys.System && f.Audience == ForCustomer && f.State.Trouble() && f.Urgency.Level() <= least.Level()
		}) {
			out = append(out, say.Word("", "watch."+string(sys.System)))
		}
	}
	return out
}
