package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
)

var ruleAheadNitrate = Rule{
	Meta: Meta{
		ID: "ahead_nitrate", Title: "Nitrate above the animals' guide before the next visit", System: Water, Evidence: "B",
		Why:    "Where a tank makes more nitrate than plants and changes take, the guide of its animals is passed on a day that can be told. An extra visit is asked for only where even the low end of the range is above the guide well before the agreed visit; days above it harm nobody, weeks may. What is measured now is another rule's.",
		Source: "Balance of mass with the tank's own rates; Camargo et al. 2005; the guides per group are practice",
	},
	Applies: func(v *View) Answer {
		if !v.Animals || !v.nitrateGuide().OK {
			return NotApplicable
		}
		if !v.knows(q.Nitrate) || v.Doubtful(q.Nitrate) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if v.Fact("no3_over") {
			return nil // said by what was read
		}
		guide := v.nitrateGuide().V
		e, ok := v.wellBefore(q.Nitrate, forecast.Above, guide)
		if !ok || !(e.Lo > guide) {
			return nil
		}
		return found(Finding{State: Due, Urgency: ThisVisit, Audience: ForShop, Say: aheadOn("find.ahead.nitrate", e, guide),
			Wishes: v.visitBefore(q.Nitrate, forecast.Above, guide, RankAnimals)})
	},
}
