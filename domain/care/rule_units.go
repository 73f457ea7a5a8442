package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleUnits = Rule{
	Meta: Meta{
		ID: "units", Title: "Two units taken for one", System: Nutrients, Evidence: "A",
		Why:    "Reports give nitrate as nitrogen, kits as the ion: 4.43 times as much.",
		Source: "Molar masses",
	},
	Applies: func(v *View) Answer {
		if !v.readAny(q.NitrateN, q.Nitrate) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("unit_confusion") {
			return nil
		}
		return v.caused("unit_confusion", Finding{
			State: Fine, Say: say.S("find.units"),
			Wishes: all(do(RankConvenience, "report_units", "explain_normal"), ban(RankAnimals, "why.no_act_on_doubt", "wc_large_once", "wc_50_repeat", "more_of_all")),
		})
	},
}
