package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleYoungFilter = Rule{
	Meta: Meta{
		ID: "young_filter", Title: "A filter that is not mature", System: Filter, Evidence: "A",
		Why:    "Nitrifiers take weeks; mature media from a clean tank shorten it to one or two.",
		Source: "FAO glossary (start of a biofilter 1 to 6 weeks); practice",
	},
	Applies: func(v *View) Answer {
		if !v.Fact("young_tank") {
			return NotApplicable
		}
		if !v.readAny(q.TAN, q.Nitrite) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("immature_biofilter") {
			return nil
		}
		f := Finding{State: Seen, Urgency: Routine, Say: say.S("find.young_filter")}
		if v.Animals && (v.Fact("tan_present") || v.Fact("no2_present")) {
			f.Urgency = ThisVisit
		}
		f.Wishes = all(do(RankAnimals, "test_nh3_no2", "seed_biofilter", "no_new_animals"), when(v.Animals, do(RankAnimals, "feed_less", "extra_visit")), noMoreLoad())
		return v.caused("immature_biofilter", f)
	},
}
