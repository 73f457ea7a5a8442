package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleCylinderFixed = Rule{
	Meta: Meta{
		ID: "cylinder_fixed", Title: "Cylinder fixed upright", System: Gear, Evidence: "A",
		Why: "A cylinder that falls can lose its valve.", Source: "HSE INDG308, transport and use of gas cylinders",
	},
	Always:  true,
	Applies: looks("injected", groups(visit.SignGear)),
	Decide: func(v *View) []Finding {
		if !v.Has("cylinder_not_fixed") {
			return nil
		}
		return found(Finding{State: Seen, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.cylinder_fixed"), Wishes: do(RankPeople, "fix_cylinder")})
	},
}
