package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleAheadKH = Rule{
	Meta: Meta{
		ID: "ahead_kh", Title: "KH used up before the next visit", System: Water, Evidence: "B",
		Why:    "Nitrification and rich soil take alkalinity day by day. Where even the high end of the range is used up well before the agreed visit, nobody would be there to see ammonia gather. A tank that is kept soft on purpose is left out.",
		Source: "Balance of mass with the tank's own rates; Brewer and Goldman 1976",
	},
	Applies: func(v *View) Answer {
		if b := v.bandOf(q.KH); !v.Animals || b.Lo.OK && b.Lo.V <= 0 {
			return NotApplicable
		}
		if !v.knows(q.KH) || v.Doubtful(q.KH) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if v.Fact("kh_gone") {
			return nil // said by what was read
		}
		e, ok := v.wellBefore(q.KH, forecast.Below, noTankKH)
		if !ok || !(e.Hi < noTankKH) {
			return nil
		}
		return found(Finding{State: Due, Urgency: ThisVisit, Audience: ForShop, Say: aheadOn("find.ahead.kh", e, noTankKH),
			Wishes: v.visitBefore(q.KH, forecast.Below, noTankKH, RankAnimals)})
	},
}

// aheadOn says what is expected on a day against a limit.
func aheadOn(id string, e forecast.Expected, limit float64) say.Sentence {
	m, _ := q.MeasureOf(e.Kind)
	return say.S(id, say.Num("lo", e.Lo, m.Unit, m.Decimals), say.Num("hi", e.Hi, m.Unit, m.Decimals), say.Day("day", e.Day), say.Num("limit", limit, m.Unit, m.Decimals))
}
