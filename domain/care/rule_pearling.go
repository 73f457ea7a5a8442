package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var rulePearling = Rule{
	Meta: Meta{
		ID: "pearling", Title: "Oxygen above saturation by plants", System: Plants, Evidence: "A",
		Why:    "Plants in good light lift oxygen above 100 %; harm comes from the total of all gases beyond about 110 %, not from oxygen.",
		Source: "Colt 2006; Benson and Krause 1984",
	},
	Applies: looks("", groups(visit.SignPlants), q.OxygenShare),
	Decide: func(v *View) []Finding {
		if !v.believed("supersat_normal") {
			return nil
		}
		return v.caused("supersat_normal", Finding{
			State: Fine, Say: say.S("find.pearling"),
			Wishes: all(do(RankConvenience, "explain_normal", "do_nothing_else"), ban(RankPlants, "why.nothing_lacks", "light_down", "co2_down", "aerate_now", "light_up", "co2_up", "blackout")),
		})
	},
}
