package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleNeglect = Rule{
	Meta: Meta{
		ID: "neglect", Title: "Long without water changes", System: Water, Evidence: "C",
		Why:    "Animals in a neglected tank have grown used to its salts and its low pH; good water at once kills them. A tenth every day or two for a week, a fifth twice a week for a fortnight, then as usual, and ammonia is read before each step.",
		Source: "Practice; Emerson et al. 1975 for the ammonia",
	},
	Applies: looks("animals", groups(visit.SignHistory)),
	Decide: func(v *View) []Finding {
		if !v.Has("changes_stopped", "changes_small_and_rare") {
			return nil
		}
		// The step follows from the changes of the last four weeks.
		step, changes := "1", 0
		for i := len(v.History) - 1; i >= 0 && v.Now.Day-v.History[i].Day <= 28; i-- {
			if _, ok := v.History[i].Did(visit.WaterChange); ok {
				changes++
			}
		}
		switch {
		case changes >= 7:
			return nil // back to the usual
		case changes >= 3:
			step = "2"
		}
		change := Wish{Action: "wc_many_small", Rank: RankAnimals, Say: say.S("do.neglect." + step)}
		if step == "2" {
			change = Wish{Action: "wc_20", Rank: RankAnimals, Say: say.S("do.neglect.2")}
		}
		urgency := ThisVisit
		if v.believed("evap_hardening") && !v.distressed() {
			urgency = Routine // it has built up for months and goes down as slowly
		}
		return found(Finding{State: Seen, Urgency: urgency, Audience: ForShop, Say: say.S("find.neglect." + step), Wishes: all(
			[]Wish{change}, do(RankAnimals, "gh_change_slow"), v.testNitrogen(),
			when(!v.Source(q.GH).OK, do(RankAnimals, "test_source")),
			ban(RankAnimals, "why.small_steps", "wc_large_once", "wc_50_repeat", "wc_30_50"))})
	},
}
