package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// lookedWell reports whether somebody looked at the animals, or at the plants where
// there are none, and saw no suffering: nobody is told that all is well on the
// strength of a question.
func (v *View) lookedWell() bool {
	if v.Animals {
		return v.Looked(visit.SignAnimals) && !v.distressed()
	}
	return v.Looked(visit.SignPlants)
}

var ruleAllWell = Rule{
	Meta: Meta{
		ID: "all_well", Title: "Nothing wrong", System: Plants, Evidence: "B",
		Why:    "No fault is an answer. What is asked for is explained, and nothing is changed for the sake of change.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if len(v.Now.Signs) == 0 && len(v.Now.Looks) == 0 {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if len(v.Causes) == 0 || v.Causes[0].ID != nothingID || !v.Looked(visit.SignOwner) {
			return nil
		}
		if !v.lookedWell() {
			return v.caused(nothingID, Finding{State: Fine, Audience: ForShop, Say: say.S("find.all_well.asked"), Wishes: do(RankConvenience, "explain_normal")})
		}
		return v.caused(nothingID, Finding{State: Fine, Say: say.S("find.all_well"), Wishes: all(
			do(RankConvenience, "explain_normal"), ban(RankPlants, "why.nothing_lacks", "more_of_all", "blackout"))})
	},
}
