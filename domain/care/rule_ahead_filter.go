package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAheadFilter = Rule{
	Meta: Meta{
		ID: "ahead_filter", Title: "Filter by its own pace", System: Filter, Evidence: "B",
		Why:    "Flow falls by about the same share each week between cleanings. A filter that will pass below 60 % of its clean flow before the visit after next is cleaned at the next one. One that will surely be below 40 % well before that is cleaned today; where that was done and does not last, the owner is asked for a visit in between.",
		Source: "First-order clogging fitted to the tank's own readings; practice for the 60 and 40 %",
	},
	Applies: func(v *View) Answer {
		if !v.Flow.Clean.OK {
			return NotApplicable
		}
		if !v.knows(q.Flow) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if v.Fact("flow_low") {
			return nil // said by what was read
		}
		every := int(v.everyDays())
		if e, ok := v.wellBefore(q.Flow, forecast.Below, criticalFlow*v.Flow.Clean.V); ok && e.Hi < criticalFlow*v.Flow.Clean.V {
			return v.flowGoesBefore(e)
		}
		r, ok := v.crosses(q.Flow, 0.6*v.Flow.Clean.V, 2*every)
		if !ok {
			return nil
		}
		return found(Finding{State: Due, Audience: ForShop,
			Say:    say.S("find.ahead.filter", say.Num("limit", 60, q.Percent, 0), say.Day("day", v.Now.Day.Add(r.Days))),
			Wishes: []Wish{{Action: "filter_clean_gentle", Rank: RankConvenience, When: WhenNextVisit}}})
	},
}

// criticalFlow is the share of the clean flow below which bacteria and far corners
// go short (practice).
const criticalFlow = 0.4

// flowGoesBefore speaks of a filter that will surely be clogged well before the
// agreed visit.
func (v *View) flowGoesBefore(e forecast.Expected) []Finding {
	limit := criticalFlow * v.Flow.Clean.V
	f := Finding{State: Due, Urgency: ThisVisit, Audience: ForShop, Say: aheadOn("find.ahead.filter.before", e, limit)}
	rank := RankPlants
	if v.Animals {
		rank = RankAnimals
	}
	if _, cleaned := v.Now.Did(visit.FilterClean); cleaned {
		f.Say.ID = "find.ahead.filter.again"
		f.Wishes = v.visitBefore(q.Flow, forecast.Below, limit, rank)
		return found(f)
	}
	f.Wishes = []Wish{{Action: "filter_clean_gentle", Rank: rank, When: WhenThisVisit}}
	return found(f)
}
