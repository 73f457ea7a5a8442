package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleLeaveList = Rule{
	Meta: Meta{
		ID: "leave_list", Title: "What the leave list left open", System: Gear, Evidence: "C",
		Why:    "Most disasters are our own: a filter not primed, a heater not plugged in, a tap not shut.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		if v.Now.Kind == visit.ByPhone {
			return NotApplicable
		}
		if len(v.Now.Leave) == 0 {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		var fs []Finding
		for _, l := range v.Now.Leave {
			if l.State != "left_open" {
				continue
			}
			fs = append(fs, Finding{Subject: l.Item, State: Due, Urgency: Now, Audience: ForShop, Say: say.S("find.leave_list", say.Word("item", "leave."+l.Item)),
				Wishes: []Wish{{Action: "finish_leave_list", Subject: l.Item, Rank: RankPeople, Say: say.S("task.leave_list", say.Word("item", "leave."+l.Item))}}})
		}
		return fs
	},
}
