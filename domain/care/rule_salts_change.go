package care

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleSaltsChange = Rule{
	Meta: Meta{
		ID: "salts_change", Title: "Dissolved salts against the last changes", System: Water, Evidence: "C",
		Why:    "A change of dissolved salts is held against what this tank's last three changes did; the strict daily limit is for neglected or moved tanks and for shrimp.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if !v.Animals {
			return NotApplicable
		}
		if !v.readAny(q.EC) || len(v.Before(q.EC, 3)) == 0 {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		now, ok := v.Tank(q.EC)
		if !ok {
			return nil
		}
		olds := v.Before(q.EC, 4)
		step := math.Abs(now.Value - olds[0].Value)
		usual := 0.0
		for i := 1; i < len(olds); i++ {
			usual = max(usual, math.Abs(olds[i-1].Value-olds[i].Value))
		}
		limit := max(1.5*usual, 0.15*olds[0].Value)
		if v.Shrimp || v.Has("changes_stopped", "changes_small_and_rare") {
			limit = max(usual, 0.1*olds[0].Value)
		}
		if step <= max(limit, usualHalf(q.EC, now.Value)*2) {
			return nil
		}
		urgency := ThisVisit
		if v.believed("evap_hardening") && !v.distressed() {
			urgency = Routine
		}
		return found(Finding{State: High, Urgency: urgency, Audience: ForShop, Say: say.S("find.salts_change", say.Reading("step", q.EC, step), say.Reading("limit", q.EC, limit)),
			Calc:   &Calc{Name: "ec_step", Args: []Arg{{"now", now.Value, q.USCm}, {"before", olds[0].Value, q.USCm}}, Value: step, Lo: step, Hi: step, Unit: q.USCm, Limit: q.Some(limit), Source: "this tank's last three changes"},
			Wishes: all(do(RankAnimals, "gh_change_slow", "test_source"), ban(RankAnimals, "why.small_steps", "wc_large_once"))})
	},
}
