package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleAheadFilter = Rule{
	Meta: Meta{
		ID: "ahead_filter", Title: "Filter by its own pace", System: Filter, Evidence: "B",
		Why:    "Flow falls by about the same share each week between cleanings. A filter that will pass below 60 % of its clean flow before the visit after next is cleaned at the next one.",
		Source: "First-order clogging fitted to the tank's own readings; practice for the 60 %",
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
		r, ok := v.crosses(q.Flow, 0.6*v.Flow.Clean.V, 2*every)
		if !ok {
			return nil
		}
		return found(Finding{State: Due, Audience: ForShop,
			Say:    say.S("find.ahead.filter", say.Num("limit", 60, q.Percent, 0), say.Day("day", v.Now.Day.Add(r.Days))),
			Wishes: []Wish{{Action: "filter_clean_gentle", Rank: RankConvenience, When: WhenNextVisit}}})
	},
}
