package care

import (
	"scaperound/domain/forecast"
	"scaperound/domain/gear"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleAheadCylinder = Rule{
	Meta: Meta{
		ID: "ahead_cylinder", Title: "CO2 cylinder by its own use", System: CO2, Evidence: "B",
		Why:    "Weighed at several visits, a cylinder tells how much it loses; so a full one is brought before it is needed, and not a visit too late. What was learnt is a range: the early end decides what to bring.",
		Source: "Balance of mass; practice for the fifth",
	},
	Applies: func(v *View) Answer {
		if !v.Injected || !v.Setup.CO2.Cylinder.OK {
			return NotApplicable
		}
		if !v.knows(q.CylinderGross) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if c := v.cylinder(); c.Low || v.believed("cylinder_nearly_empty") {
			return nil // said by what was read
		}
		every := int(v.everyDays())
		r, ok := v.crosses(q.CylinderGross, float64(v.Setup.CO2.Cylinder.V)*float64(gear.SwapShare), 3*every)
		switch {
		case ok && r.Days <= every && v.runsOut(every):
			// Nobody would be there to swap it: a visit of its own, or now where a full
			// one is at hand.
			on := q.Some(v.Now.Day.Add(max(1, r.Lo-1)))
			return found(Finding{State: Due, Urgency: ThisVisit, Audience: ForShop, Say: cylinderSentence("find.ahead.cylinder.before", v, r), Wishes: []Wish{
				{Action: "swap_cylinder", Rank: RankPlants, When: WhenOnDay, Day: on},
				{Action: "extra_visit", Rank: RankPlants, When: WhenOnDay, Day: on},
			}})
		case ok && r.Days <= every:
			// A full one that is at hand goes on now; without one it waits for the visit.
			return found(Finding{State: Due, Audience: ForShop, Say: cylinderSentence("find.ahead.cylinder.before", v, r),
				Wishes: []Wish{{Action: "swap_cylinder", Rank: RankPlants, When: WhenThisVisit}}})
		case ok && r.Lo <= 2*every:
			return found(Finding{State: Due, Audience: ForShop, Say: cylinderSentence("find.ahead.cylinder", v, r),
				Wishes: []Wish{{Action: "swap_cylinder", Rank: RankPlants, When: WhenNextVisit}}})
		case r.Verdict == forecast.Already:
			return found(Finding{State: Due, Audience: ForShop, Say: say.S("find.ahead.cylinder.weigh"), Wishes: do(RankPlants, "weigh_cylinder")})
		}
		return nil
	},
}

// cylinderSentence says between which days the cylinder is down to a fifth.
func cylinderSentence(id string, v *View, r forecast.Range) say.Sentence {
	if r.Hi.OK {
		return say.S(id, say.Day("from", v.Now.Day.Add(r.Lo)), say.Day("to", v.Now.Day.Add(r.Hi.V)))
	}
	return say.S(id+".open", say.Day("from", v.Now.Day.Add(r.Lo)))
}

// leastLeft is the share of the charge below which a regulator may let more through
// than was set: the fifth at which a cylinder is swapped, less what a few days take.
const leastLeft = 0.15

// runsOut reports whether a cylinder is as likely as not below leastLeft at the next
// visit; a fifth alone can wait for that.
func (v *View) runsOut(every int) bool {
	r, ok := v.crosses(q.CylinderGross, float64(v.Setup.CO2.Cylinder.V)*leastLeft, every)
	return ok && r.Days <= every
}
