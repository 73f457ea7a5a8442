package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleOldSoil = Rule{
	Meta: Meta{
		ID: "old_soil", Title: "Soil at the end of its life", System: Nutrients, Evidence: "C",
		Why:    "After a year and a half a rich soil no longer feeds roots, holds no KH back and lets mud gather. Roots are fed in the ground; the soil is renewed in thirds, some weeks apart, never on one day with the filter, and ammonia is read after each.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		switch {
		case !v.Fact("rich_soil"):
			return NotApplicable
		case !v.Age.OK:
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if v.Age.V < oldSoilWeeks {
			return nil
		}
		// Said once a quarter, not at each visit.
		if n := len(v.History); n > 0 {
			if past := v.Age.V - float64(v.Now.Day-v.History[n-1].Day)/7; past >= oldSoilWeeks && int(past/13) == int(v.Age.V/13) {
				return nil
			}
		}
		return found(Finding{State: Due, Audience: ForShop, Say: say.S("find.old_soil", say.Num("months", v.Age.V*7/30.4, q.Unit("months"), 0)), Wishes: all(
			when(v.rootFeeders(), do(RankConvenience, "feed_roots")),
			ban(RankAnimals, "why.not_on_one_day", "filter_and_substrate_same_day"))})
	},
}

// oldSoilWeeks is the age at which a rich soil is spent (practice: 18 months).
const oldSoilWeeks = 78
