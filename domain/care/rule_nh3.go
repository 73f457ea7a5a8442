package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleNH3 = Rule{
	Meta: Meta{
		ID: "nh3", Title: "Free ammonia", System: Water, Evidence: "A",
		Why:    "Of the total ammonia only the free part poisons, and it grows tenfold with one unit of pH: it is judged at the day's highest pH.",
		Source: "Emerson et al. 1975; EIFAC 1970 (0.02 mg/L NH3-N); gill damage from about 0.05 mg/L in aquaculture texts",
	},
	Applies: tanApplies,
	Decide: func(v *View) []Finding {
		if !v.Fact("nh3_guide") {
			return nil
		}
		distress, _ := v.breathless()
		f := Finding{State: High, Urgency: Today, Calc: v.nh3Calc(),
			Say: say.S("find.nh3", say.Num("value", v.NH3.N.Value, q.MgL, 3), say.Num("limit", nh3Guide, q.MgL, 2))}
		if v.NH3.Guessed {
			f.Say.ID = "find.nh3.quiet"
		}
		big := "wc_30_50"
		if v.Fact("nh3_harm") {
			big = "wc_50_repeat"
			if !v.NH3.Guessed || distress {
				f.Urgency = Now
			}
		}
		f.Wishes = all(
			v.changeWishes(v.changeUnderAmmonia(big), "why.ph_up_frees_ammonia"),
			do(RankAnimals, "test_nh3_no2", "no_feed", "no_new_animals", "seed_biofilter", "extra_visit", "tell_owner_urgent"),
			when(distress, do(RankAnimals, "aerate_now")),
			when(v.Has("smell_of_decay", "mulm_in_corners", "fish_missing", "dead_animal_found_recently"), do(RankAnimals, "remove_debris")),
			ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast", "kh_up_slow"),
			noMoreLoad(),
		)
		return found(f)
	},
}
