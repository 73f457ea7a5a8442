package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleWrongDose = Rule{
	Meta: Meta{
		ID: "wrong_dose", Title: "A dose given wrongly", System: Nutrients, Evidence: "B",
		Why:    "Too much is thinned with matched water; nothing is poured on top to balance it.",
		Source: "Practice",
	},
	Applies: looks("", groups(visit.SignHistory), q.Nitrate, q.Phosphate, q.Potassium, q.Iron),
	Decide: func(v *View) []Finding {
		if !v.believed("wrong_dose_by_person") {
			return nil
		}
		f := Finding{State: High, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.wrong_dose")}
		distress, _ := v.breathless()
		if distress || v.died() {
			f.Urgency = Today
		}
		f.Wishes = all(do(RankAnimals, v.smallerFor("wc_30_50")), do(RankAnimals, "wc_matched", "retest"), when(v.Animals, v.testNitrogen()),
			ban(RankAnimals, "why.no_second_agent", "more_of_all", "dose_no3", "dose_po4", "dose_k", "dose_fe", "dose_micro", "dose_nh4", "dose_copper"))
		return v.caused("wrong_dose_by_person", f)
	},
}
