package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAsked = Rule{
	Meta: Meta{
		ID: "asked", Title: "What the owner asks for and we refuse", System: Animals, Evidence: "A",
		Why:    "Algae killers, peroxide, copper, antibiotics and ammonium hurt more than they help, or are a vet's. All new media take the filter's life with them.",
		Source: "Pereira et al. 2014; Emerson et al. 1975; EU 528/2012; prescription law",
	},
	Applies: looks("", groups(visit.SignOwner)),
	Decide: func(v *View) []Finding {
		var ws []Wish
		for _, a := range []struct{ sign, action, why string }{
			{"owner_asks_for_algicide", "dose_aldehyde", "why.not_a_cure"},
			{"owner_asks_for_peroxide", "dose_peroxide", "why.not_a_cure"},
			{"owner_asks_for_antibiotic", "antibiotic", "why.vets_only"},
			{"owner_asks_for_ammonium", "dose_nh4", "why.ammonia_is_poison"},
			{"owner_asks_for_new_media", "media_replace_all", "why.bacteria_live_there"},
			{"owner_wants_more_of_everything", "more_of_all", "why.one_at_a_time"},
			{"owner_wants_animals_now", "add_animals", "why.animals_first"},
		} {
			if v.Has(a.sign) && !(a.action == "add_animals" && v.gatePassed()) {
				ws = append(ws, ban(RankAnimals, a.why, a.action)...)
				ws = append(ws, Wish{Action: a.action, Rank: RankConvenience})
			}
		}
		if ws == nil {
			return nil
		}
		return found(Finding{State: Fine, Audience: ForShop, Say: say.S("find.asked"), Wishes: ws})
	},
}
