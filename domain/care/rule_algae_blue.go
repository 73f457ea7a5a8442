package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAlgaeBlue = Rule{
	Meta: Meta{
		ID: "algae_blue", Title: "Blue-green film", System: Plants, Evidence: "B",
		Why:    "A film that peels in sheets is bacteria: little nitrogen, dirt, warm still corners. Peel, flow, nitrate where there is none; an antibiotic only through a vet.",
		Source: "Smith 1983; practice",
	},
	Applies: looks("", groups(visit.SignAlgae)),
	Decide: func(v *View) []Finding {
		if !v.Has("blue_green_film", "film_peels_in_sheets") {
			return nil
		}
		return found(Finding{State: Seen, Urgency: ThisVisit, Say: say.S("find.algae_blue"), Wishes: all(
			do(RankLooks, "manual_removal"), do(RankPlants, "improve_flow", "reduce_organics"),
			when(v.Fact("no3_low"), []Wish{{Action: "dose_no3", Rank: RankPlants, Amount: v.saltFor("KNO3", "salt.kno3", q.Nitrate, 5)}}),
			ban(RankAnimals, "why.vets_only", "antibiotic"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_copper", "dose_peroxide"), ban(RankAnimals, "why.dark_rots", "blackout"))})
	},
}
