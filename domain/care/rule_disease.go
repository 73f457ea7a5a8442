package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleDisease = Rule{
	Meta: Meta{
		ID: "disease", Title: "Signs of disease", System: Animals, Evidence: "B",
		Why:    "What a fish has is for a vet to say, and so are medicine and dose. Ours is water, keeping apart, and clean tools.",
		Source: "Practice; prescription law",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.believed("disease") {
			return nil
		}
		urgency := ThisVisit // one death now and then, and nothing to be seen
		for _, s := range v.Now.Signs {
			if g := groupOf(s.ID); distress[g] && g != "death" {
				urgency = Today
			}
		}
		return v.caused("disease", Finding{
			State: Seen, Urgency: urgency, Audience: ForShop, Say: say.S("find.disease"),
			Wishes: all(when(v.askVet(), do(RankAnimals, "vet")), do(RankAnimals, "disinfect_tools", "quarantine_new_animals", "no_new_animals"), v.testNitrogen(),
				ban(RankAnimals, "why.vets_only", "antibiotic", "dose_copper"), ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide"),
				ban(RankAnimals, "why.animals_first", "add_animals")),
		})
	},
}

// askVet reports whether what is seen is for a vet now: spots or patches, a death,
// more than one sign, or any once ammonia and nitrite are ruled out. One fish that
// rubs has the water read first.
func (v *View) askVet() bool {
	if v.nitrogenKnown() || v.died() || v.Has("white_spots_on_fish", "cottony_patches_on_fish") {
		return true
	}
	n := 0
	for _, s := range v.Now.Signs {
		if distress[groupOf(s.ID)] {
			n++
		}
	}
	return n > 1
}
