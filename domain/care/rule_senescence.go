package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleSenescence = Rule{
	Meta: Meta{
		ID: "senescence", Title: "Old leaves at the end of their life", System: Plants, Evidence: "B",
		Why:    "The lowest leaves in the shade go; the plant makes new ones.",
		Source: "Marschner; practice",
	},
	Applies: looks("plants", groups(visit.SignPlants)),
	Decide: func(v *View) []Finding {
		if !v.believed("senescence") {
			return nil
		}
		return v.caused("senescence", Finding{
			State: Fine, Say: say.S("find.senescence"),
			Wishes: all(do(RankLooks, "explain_normal", "trim_old"), ban(RankPlants, "why.nothing_lacks", "more_of_all", "light_up", "co2_up"), ban(RankAnimals, "why.ammonia_is_poison", "dose_nh4")),
		})
	},
}
