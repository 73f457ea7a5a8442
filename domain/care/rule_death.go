package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleDeath = Rule{
	Meta: Meta{
		ID: "death", Title: "A death", System: Animals, Evidence: "B",
		Why:    "The living come first. Half a litre of the old water is kept before any change, then temperature, ammonia, nitrite, pH and chlorine are read. Cause not known is a good answer; what we tell the customer is released by the owner.",
		Source: "Practice",
	},
	Applies: looks("animals", groups(visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		if !v.died() {
			return nil
		}
		f := Finding{State: Seen, Urgency: Today, Audience: ForShop, Hold: "death", Say: say.S("find.death")}
		if v.Has("deaths_one_by_one") && !v.Has("shrimp_deaths", "deaths_within_a_day_of_change", "deaths_within_an_hour_of_change") {
			f.Urgency = ThisVisit
		}
		f.Wishes = all(
			v.waterSample(), v.testAfterDeath(),
			when(f.Urgency == Today && v.nitrogenKnown(), do(RankAnimals, "extra_visit")),
			when(len(v.Causes) > 0 && v.Causes[0].ID == "disease", do(RankAnimals, "disinfect_tools")),
			ban(RankAnimals, "why.not_a_cure", "antibiotic", "dose_aldehyde", "dose_copper", "dose_peroxide"),
			ban(RankAnimals, "why.dark_rots", "blackout"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		return found(f)
	},
}
