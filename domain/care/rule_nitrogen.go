package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleNitrogen = Rule{
	Meta: Meta{
		ID: "nitrogen", Title: "Plants short of nitrogen", System: Nutrients, Evidence: "A",
		Why:    "Nitrogen is mobile: the oldest leaves pay first. Only with the sign: water may read zero without hunger.",
		Source: "Marschner; Gerloff and Krombholz 1966",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Nitrate),
	Decide: func(v *View) []Finding {
		if !v.shown("n_def") {
			return nil
		}
		return v.caused("n_def", Finding{State: Low, Say: say.S("find.nitrogen"), Wishes: all(
			[]Wish{{Action: "dose_no3", Rank: RankPlants, Amount: v.saltFor("KNO3", "salt.kno3", q.Nitrate, v.riseAhead(q.Nitrate, 8)), Expect: &Expectation{Kind: q.Nitrate, Lo: 5, Hi: 15, Days: 14}}},
			when(v.doserInQuestion(), do(RankPlants, "check_doser")),
			when(v.Has("old_leaves_drop"), do(RankLooks, "trim_old")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankPlants, "why.food_before_light", "light_up", "co2_up"),
		)})
	},
}

// doserInQuestion: nitrate alone is gone while the rest that is dosed is there,
// or doses are known to have failed.
func (v *View) doserInQuestion() bool {
	if v.Fact("dosing_none") || v.Has("nothing_dosed") {
		return false
	}
	return v.Fact("no3_alone_low") || v.Fact("dosing_doser") || v.Has("doses_missed", "fertiliser_changed_recently") || v.Weight("doser_fault") >= 0.15
}
