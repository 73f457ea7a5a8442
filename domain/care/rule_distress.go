package care

import (
	"slices"

	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleDistress = Rule{
	Meta: Meta{
		ID: "distress", Title: "Animals not as they should be", System: Animals, Evidence: "B",
		Why:    "An animal that rubs, darts, gasps or dies tells of something before a kit does. While nobody knows of what, ammonia, nitrite and the source are read, no animal is added, and nobody is told that all this is normal.",
		Source: "Practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.distressed() {
			return nil
		}
		f := Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.distress")}
		if breathless, _ := v.breathless(); breathless || v.died() {
			f.Audience = ForShop // said to the customer by whoever speaks of that
		}
		if v.Has("gills_brown") && !v.nitrogenKnown() {
			f.Urgency = Today // nitrite, until it is read
		}
		f.Wishes = all(
			when(f.Urgency == Today, do(RankAnimals, "aerate_now")), v.testNitrogen(),
			when(!v.explained() && (v.died() || v.unwell()), do(RankAnimals, "no_new_animals")),
			when(!v.explained() && v.nitrogenKnown(), do(RankAnimals, "test_source")),
			ban(RankAnimals, "why.distress_is_not_normal", "explain_normal", "do_nothing_else"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		return found(f)
	},
}

// distressed reports whether any sign says that animals suffer.
func (v *View) distressed() bool {
	for _, s := range v.Now.Signs {
		if distress[groupOf(s.ID)] {
			return true
		}
	}
	return v.Fact("since_died")
}

// unwell reports distress other than short breath, which has acts of its own.
func (v *View) unwell() bool {
	return slices.ContainsFunc(v.Now.Signs, func(s visit.Sign) bool {
		g := groupOf(s.ID)
		return distress[g] && g != "breath"
	})
}

// explained reports whether a cause is believed that speaks for the distress.
func (v *View) explained() bool {
	return slices.ContainsFunc(v.Causes, func(c Cause) bool {
		return v.believed(c.ID) && slices.ContainsFunc(c.For, func(e Evidence) bool { return distress[groupOf(e.What)] })
	})
}
