package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleFilterDue = Rule{
	Meta: Meta{
		ID: "filter_due", Title: "Filter due for cleaning", System: Filter, Evidence: "C",
		Why:    "Without a bucket the calendar helps: a part of the media about every two months, in tank water.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if v.Flow.Share.OK {
			return NotApplicable // the flow itself was read
		}
		if !v.filterCleaned().OK {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		days := int(v.Now.Day - v.filterCleaned().V)
		if days < filterEvery {
			return nil
		}
		// What the filter holds is needed while animals die or ammonia is about.
		if v.died() || v.Fact("tan_present") || v.Fact("no2_present") || v.Fact("disturbed") {
			return found(Finding{State: Due, Audience: ForShop, Say: say.S("find.filter_due.waits", say.Num("days", float64(days), q.Day, 0)),
				Wishes: ban(RankPlants, "why.filter_waits", "filter_clean_gentle")})
		}
		return found(Finding{State: Due, Audience: ForShop, Say: say.S("find.filter_due", say.Num("days", float64(days), q.Day, 0)), Wishes: do(RankConvenience, "filter_clean_gentle")})
	},
}

// filterEvery is how many days a filter runs before a part of it is cleaned
// where nobody measures its flow.
const filterEvery = 60

// filterCleaned is the day of the last cleaning that is known.
func (v *View) filterCleaned() q.Opt[q.Date] {
	if _, ok := v.Now.Did(visit.FilterClean); ok {
		return q.Some(v.Now.Day)
	}
	for i := len(v.History) - 1; i >= 0; i-- {
		if _, ok := v.History[i].Did(visit.FilterClean); ok {
			return q.Some(v.History[i].Day)
		}
	}
	if c := v.Setup.Filter.Cleaned; c.OK {
		return q.Some(q.DateOf(c.V))
	}
	return q.Opt[q.Date]{}
}
