package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleBiofilterLost = Rule{
	Meta: Meta{
		ID: "biofilter_lost", Title: "Filter bacteria lost", System: Filter, Evidence: "A",
		Why:    "Hot or chlorinated water, medicine or hours without flow kill the bacteria; ammonia and nitrite follow within days.",
		Source: "Nitrification as above; practice for the causes",
	},
	Applies: looks("", groups(visit.SignHistory, visit.SignGear), q.TAN, q.Nitrite),
	Decide: func(v *View) []Finding {
		if !v.believed("biofilter_lost") {
			return nil
		}
		f := Finding{State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.biofilter_lost")}
		if v.Animals && (v.Fact("tan_present") || v.Fact("no2_present") || !v.nitrogenKnown()) {
			f.Urgency = Today
		}
		if !v.Fact("tan_present") && !v.Fact("no2_present") {
			f.Say = say.S("find.biofilter_lost.maybe")
			if !v.Has("media_washed_hot_tap") && !v.distressed() {
				// Only a hint: a test tells, and nothing else is done before it.
				f.Urgency = ThisVisit
				f.Wishes = all(do(RankAnimals, "test_nh3_no2"), when(v.Animals, do(RankAnimals, "feed_less", "no_new_animals")),
					ban(RankAnimals, "why.bacteria_live_there", "media_replace_all", "media_rinse_tap", "filter_clean_gentle", "filter_and_substrate_same_day"), noMoreLoad())
				return v.caused("biofilter_lost", f)
			}
		}
		f.Wishes = all(
			do(RankAnimals, "test_nh3_no2", "seed_biofilter"),
			when(v.Animals, do(RankAnimals, "feed_less", "no_new_animals", "extra_visit")),
			when(v.Animals && v.Fact("tan_present"), v.changeWishes(v.changeUnderAmmonia("wc_50_repeat"), "why.ph_up_frees_ammonia")),
			ban(RankAnimals, "why.bacteria_live_there", "media_replace_all", "media_rinse_tap", "filter_clean_gentle", "filter_and_substrate_same_day"),
			noMoreLoad(),
		)
		return v.caused("biofilter_lost", f)
	},
}
