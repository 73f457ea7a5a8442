package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleTAN = Rule{
	Meta: Meta{
		ID: "tan", Title: "Ammonia in a tank with animals", System: Water, Evidence: "B",
		Why:    "A quarter of a milligram in a tank older than ten weeks is a filter or decay fault to find, whatever the pH: at a low pH it only waits.",
		Source: "Emerson et al. 1975; practice for the ten weeks",
	},
	Applies: tanApplies,
	Decide: func(v *View) []Finding {
		if !v.Fact("tan_present") || v.Fact("nh3_guide") {
			return nil
		}
		tan, _ := v.Tank(q.TAN)
		f := Finding{State: High, Urgency: ThisVisit, Calc: v.held(tan, tanFirstClass, "first class of usual kits"), Say: say.S("find.tan", say.Reading("tan", q.TAN, tan.Value))}
		if v.Fact("tan_old") {
			f.Say.ID = "find.tan.old"
		}
		if tan.Value >= 1 || v.Fact("kh_gone") || !v.NH3.OK {
			f.Urgency = Today
		}
		if v.NH3.OK {
			f.Calc = v.nh3Calc()
		}
		f.Wishes = all(
			v.changeWishes(v.changeUnderAmmonia("wc_30_50"), "why.ph_up_frees_ammonia"),
			do(RankAnimals, "test_nh3_no2", "feed_less", "no_new_animals"),
			when(f.Urgency == Today, do(RankAnimals, "extra_visit")),
			when(!v.NH3.OK, do(RankAnimals, "predict_nh3_before_change")),
			when(v.Fact("tan_old"), told(RankAnimals, "remove_debris", "instead.find_decay")),
			ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast", "kh_up_slow"),
			noMoreLoad(),
		)
		return found(f)
	},
}
