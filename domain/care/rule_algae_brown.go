package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAlgaeBrown = Rule{
	Meta: Meta{
		ID: "algae_brown", Title: "Brown film", System: Plants, Evidence: "B",
		Why:    "Diatoms take new surfaces in weeks two to six and go by themselves. Wipe and wait; grazers only once animals may come at all.",
		Source: "Wehr and Sheath; practice for the weeks",
	},
	Applies: looks("", groups(visit.SignAlgae)),
	Decide: func(v *View) []Finding {
		if !v.believed("new_tank_diatoms") {
			return nil
		}
		return v.caused("new_tank_diatoms", Finding{
			State: Seen, Say: say.S("find.algae_brown"),
			Wishes: all(do(RankLooks, "explain_normal", "manual_removal", "wait"), ban(RankAnimals, "why.animals_first", "add_animals"),
				ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide", "dose_copper"), ban(RankAnimals, "why.dark_rots", "blackout"), ban(RankPlants, "why.passes", "light_up")),
		})
	},
}
