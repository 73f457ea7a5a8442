package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleDoser = Rule{
	Meta: Meta{
		ID: "doser", Title: "Doses that did not arrive", System: Nutrients, Evidence: "C",
		Why:    "What was really dosed is the least known figure: bottle level, tube, and millilitres a minute are looked at before a plan is changed.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if v.Fact("dosing_none") {
			return NotApplicable
		}
		if !v.Looked(visit.SignGear) && v.Now.Doses.How == "" && !v.readAny(q.Nitrate) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("doser_fault") && !v.Has("doser_tube_empty", "doser_bottle_full") {
			return nil
		}
		return v.caused("doser_fault", Finding{State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.doser"), Wishes: all(
			do(RankPlants, "check_doser"), ban(RankPlants, "why.doser_first", "more_of_all"))})
	},
}
