package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// expectFlow is what a cleaning ought to bring back, where the clean flow is known.
func (v *View) expectFlow() *Expectation {
	if !v.Flow.Clean.OK {
		return nil
	}
	return &Expectation{Kind: q.Flow, Lo: 0.6 * v.Flow.Clean.V, Hi: 1.1 * v.Flow.Clean.V, Days: 1}
}

// flowRestored reports whether the filter was cleaned at this visit and runs well
// since.
func (v *View) flowRestored() bool {
	after, ok := v.flowAfter()
	return ok && v.Flow.Clean.OK && after >= 0.75*v.Flow.Clean.V
}

var ruleFlow = Rule{
	Meta: Meta{
		ID: "flow", Title: "Flow against the filter's own", System: Filter, Evidence: "C",
		Why:    "A filter is judged by its own clean flow, and by whether the plants at the far end move; litres an hour per litre are for choosing one. Below 60 % a part of it is cleaned in tank water.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if !v.Flow.Share.OK && v.Now.EyeMark == "" && !v.Looked(visit.SignWater) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		low := v.Fact("flow_low") && !v.flowRestored()
		still := v.Has("far_plants_not_moving") || v.Fact("eye_not")
		if !low && !still && !v.believed("poor_flow") {
			return nil
		}
		f := Finding{State: Low, Urgency: ThisVisit, Say: say.S("find.flow.still")}
		if low {
			f.Say = say.S("find.flow", say.Num("share", v.Flow.Share.V*100, q.Percent, 0), say.Num("limit", 60, q.Percent, 0))
		}
		if low && v.Flow.Now.OK && v.Flow.Clean.OK {
			f.Calc = &Calc{Name: "share_of_clean_flow", Args: []Arg{{"flow", v.Flow.Now.V, q.LH}, {"clean", v.Flow.Clean.V, q.LH}},
				Value: v.Flow.Share.V, Lo: v.Flow.Share.V, Hi: v.Flow.Share.V, Unit: q.ShareUnit, Limit: q.Some(0.6), Source: "practice"}
		}
		f.Wishes = all(
			when(low, []Wish{{Action: "filter_clean_gentle", Rank: RankPlants, Expect: v.expectFlow()}}),
			when(still || !low, do(RankPlants, "improve_flow")),
			ban(RankAnimals, "why.bacteria_live_there", "media_replace_all", "media_rinse_tap", "filter_and_substrate_same_day"),
		)
		return found(f)
	},
}
