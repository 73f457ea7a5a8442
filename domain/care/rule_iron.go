package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleIron = Rule{
	Meta: Meta{
		ID: "iron", Title: "Plants short of iron", System: Nutrients, Evidence: "A",
		Why:    "Iron does not move: the youngest leaves pale between green veins. Never from a number alone. At high pH an EDTA chelate lets go of it; DTPA or EDDHA hold.",
		Source: "Marschner; Norvell and Lucena for chelates",
	},
	Applies: looks("plants", groups(visit.SignPlants), q.Iron),
	Decide: func(v *View) []Finding {
		if !v.shown("fe_def") {
			return nil
		}
		return v.caused("fe_def", Finding{State: Low, Say: say.S("find.iron"), Wishes: all(
			[]Wish{{Action: "dose_fe", Rank: RankPlants, Say: v.ironWords()}},
			when(v.rootFeeders(), do(RankPlants, "feed_roots")),
			ban(RankPlants, "why.one_at_a_time", "more_of_all"),
			ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4"), ban(RankAnimals, "why.copper_kills_shrimp", "dose_copper"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"),
			ban(RankAnimals, "why.acid_for_animals", "acid", "kh_up_fast"),
		)})
	},
}

// ironWords names the chelate that holds at this pH.
func (v *View) ironWords() say.Sentence {
	switch {
	case v.Fact("ph_high"):
		return say.S("do.iron.high_ph")
	case v.Fact("ph_below_7"):
		return say.S("do.iron.any")
	}
	return say.S("do.iron.dtpa")
}

func (v *View) rootFeeders() bool {
	for _, p := range v.Setup.Plants {
		if p.Group == "swords" || p.Group == "cryptocoryne" || p.Group == "lily_bulbs" {
			return true
		}
	}
	return false
}
