package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleLeak = Rule{
	Meta: Meta{
		ID: "leak", Title: "Water below the filter", System: Gear, Evidence: "A",
		Why:    "Water and plugs meet in the cabinet: people and power first, then the leak. Nothing is promised on cost or fault; the owner releases what the customer is told.",
		Source: "IEC 60364-7-702; practice",
	},
	Always:  true,
	Applies: looks("", groups(visit.SignGear)),
	Decide: func(v *View) []Finding {
		if !v.Has("filter_leaks") {
			return nil
		}
		return found(Finding{State: Seen, Urgency: Now, Hold: "leak", Say: say.S("find.leak"), Wishes: all(
			do(RankPeople, "isolate_power", "tell_owner_urgent"), ban(RankPeople, "why.dry_first", "touch_water"))})
	},
}
