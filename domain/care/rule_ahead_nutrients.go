package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleAheadNutrients = Rule{
	Meta: Meta{
		ID: "ahead_nutrients", Title: "Dosing for the days ahead", System: Nutrients, Evidence: "B",
		Why:    "A dosing plan is there to hold a band. Where the tank's own uptake, its changes and the plan together leave that band by the next visit whichever end of the range is true, the plan is what to correct. A single low number is not: iron is left out, and so is whatever is not dosed.",
		Source: "Balance of mass with the tank's own rates",
	},
	Applies: func(v *View) Answer {
		dosed, known := false, false
		for _, n := range aheadNutrients {
			if v.Plants && v.dosed(n.kind) {
				dosed = true
				known = known || v.knows(n.kind)
			}
		}
		switch {
		case !dosed:
			return NotApplicable
		case !known:
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		var out []Finding
		for _, n := range aheadNutrients {
			b := v.bandOf(n.kind)
			e, ok := v.ahead(n.kind, v.nextDay())
			if !ok || !v.dosed(n.kind) {
				continue
			}
			switch {
			case b.Lo.OK && e.Hi < b.Lo.V:
				out = append(out, Finding{Subject: string(n.kind), State: Due, Audience: ForShop, Say: aheadSentence("find.ahead.low", v, e, b.Lo.V),
					Wishes: []Wish{{Action: n.dose, Rank: RankPlants, Amount: v.saltFor(n.salt, n.word, n.kind, v.riseAhead(n.kind, 0)), Expect: &Expectation{Kind: n.kind, Lo: b.Lo.V, Hi: b.Hi.Or(2 * b.Lo.V), Days: int(v.everyDays())}}}})
			case b.Hi.OK && e.Lo > b.Hi.V:
				out = append(out, Finding{Subject: string(n.kind), State: Due, Audience: ForShop, Say: aheadSentence("find.ahead.high", v, e, b.Hi.V),
					Wishes: ban(RankPlants, "why.ahead_high", n.dose)})
			}
		}
		return out
	},
}

var aheadNutrients = []struct {
	kind             q.Kind
	dose, salt, word string
}{
	{q.Nitrate, "dose_no3", "KNO3", "salt.kno3"},
	{q.Phosphate, "dose_po4", "KH2PO4", "salt.kh2po4"},
	{q.Potassium, "dose_k", "K2SO4", "salt.k2so4"},
}

func aheadSentence(id string, v *View, e forecast.Expected, limit float64) say.Sentence {
	m, _ := q.MeasureOf(e.Kind)
	return say.S(id, say.Word("what", string(e.Kind)), say.Num("lo", e.Lo, "", m.DecimalsAt(e.Hi)), say.Num("hi", e.Hi, m.Unit, m.DecimalsAt(e.Hi)),
		say.Day("day", v.nextDay()), say.Num("limit", limit, m.Unit, m.DecimalsAt(limit)))
}
