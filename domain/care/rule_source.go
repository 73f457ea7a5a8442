package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

var ruleSource = Rule{
	Meta: Meta{
		ID: "source", Title: "What the source brings", System: Water, Evidence: "B",
		Why:    "The supply changes with season and supplier. What it brings at each change is read there, not guessed in the tank.",
		Source: "Practice; suppliers' reports",
	},
	Applies: func(v *View) Answer {
		if v.Setup.Source.OK && v.Setup.Source.V.Kind == tank.RO {
			return NotApplicable
		}
		if !v.Looked(visit.SignHistory) && !v.readAny(q.Nitrate, q.TAN, q.Nitrite) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.believed("source_change") && !v.Fact("source_no3_high") && !v.Fact("source_tan") && !v.Fact("source_no2") {
			return nil
		}
		if v.believed("unit_confusion") {
			return nil
		}
		return v.caused("source_change", Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.source"), Wishes: all(
			do(RankAnimals, "test_source"), when(v.Fact("source_no3_high"), do(RankAnimals, "ro_blend")),
			when(v.Has("utility_announced_chloramine"), do(RankAnimals, "dechlorinate")),
			when(v.Fact("source_no3_high"), ban(RankAnimals, "why.same_water_again", "wc_large_once")))})
	},
}
