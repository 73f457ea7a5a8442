package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleRoomSpray = Rule{
	Meta: Meta{
		ID: "room_spray", Title: "Spray, paint or smoke in the room", System: Animals, Evidence: "B",
		Why:    "An air pump draws the room into the water: air the room first, then carbon and a change.",
		Source: "Practice",
	},
	Applies: looks("animals", groups(visit.SignRoom, visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("room_spray") {
			return nil
		}
		return v.caused("room_spray", Finding{
			State: Seen, Urgency: Today, Say: say.S("find.room_spray"),
			Wishes: all(do(RankAnimals, "carbon", "wc_30_50", "wc_matched"), v.testNitrogen(),
				ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_copper")),
		})
	},
}
