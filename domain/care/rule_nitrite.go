package care

import (
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleNitrite = Rule{
	Meta: Meta{
		ID: "nitrite", Title: "Nitrite", System: Water, Evidence: "A",
		Why:    "Nitrite is taken up by the gills in place of chloride and spoils the blood. Chloride of 16 to 1 by mole keeps it out in most fish; bottom catfish bear little salt, so there it comes as calcium chloride.",
		Source: "Tomasso et al. 1979; Avilez et al. 2004 for characins",
	},
	Applies: func(v *View) Answer {
		if !v.Animals {
			return NotApplicable
		}
		if _, ok := v.Tank(q.Nitrite); !ok {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if !v.Fact("no2_present") {
			return nil
		}
		r, _ := v.Tank(q.Nitrite)
		f := Finding{State: High, Urgency: Today, Calc: v.held(r, nitriteAct, "Tomasso et al. 1979; practice for the limit"), Say: say.S("find.nitrite", say.Reading("no2", q.Nitrite, r.Value))}
		distress, _ := v.breathless()
		harm := v.Fact("no2_harm")
		if distress || v.Has("gills_brown") || r.Value >= 2 {
			f.Urgency = Now
		}
		big := "wc_30_50"
		if harm {
			big = "wc_50_repeat"
		}
		change := changeKind{Action: big}
		if v.Fact("tan_present") {
			change = v.changeUnderAmmonia(big)
		}
		f.Wishes = all(
			v.changeWishes(change, "why.ph_up_frees_ammonia"),
			do(RankAnimals, "test_nh3_no2", "no_new_animals", "extra_visit"),
			when(harm, do(RankAnimals, "aerate_now", "no_feed", "seed_biofilter", "tell_owner_urgent")),
			when(!harm, do(RankAnimals, "feed_less")),
			when(harm, v.chloride(&f, r.Value*(1-shareOf(change.Action)))),
			noMoreLoad(),
		)
		return found(f)
	},
}

// chlorideADay is the chloride, in mg/L, that comes with the calcium of a rise by
// 2 °dGH: 2 × 0.1783 mmol/L of calcium with two chlorides each.
const chlorideADay = 2 * 0.1783 * 2 * 35.45

// chloride wishes what is missing to 16 to 1 where the animals and plants bear
// it: calcium chloride for bottom catfish and loaches, common salt for
// livebearers and hardy fish alone. For others it is never automatic. no2 is what
// the change leaves, in mg/L. Calcium chloride lifts GH: no more goes in at once
// than a day's rise.
func (v *View) chloride(f *Finding, no2 float64) []Wish {
	need, err := chem.ChlorideForNitrite(q.MgPerLitre(no2))
	if err != nil {
		return nil
	}
	there := 0.0
	if r, ok := v.Read(q.Chloride, visit.Before); ok {
		there = r.Value
	}
	missing := float64(need) - there
	f.Calc = &Calc{Name: "Cl_needed_for_16_to_1_molar", Args: []Arg{{"NO2_mg_L", no2, q.MgL}, {"Cl_mg_L", there, q.MgL}},
		Value: float64(need), Lo: float64(need), Hi: float64(need), Unit: q.MgL, Source: "Tomasso et al. 1979"}
	if missing <= 0 {
		return nil
	}
	bottom, hardy := false, !v.Shrimp && !v.Snails
	for _, a := range v.Setup.Animals {
		if a.Count <= 0 {
			continue
		}
		bottom = bottom || a.Group == "catfish" || a.Group == "loaches"
		hardy = hardy && (a.Group == "livebearers" || a.Group == "hardy_fish")
	}
	for _, p := range v.Setup.Plants {
		hardy = hardy && p.Group != "moss" && p.Group != "liverworts"
	}
	switch {
	case bottom && !v.Shrimp:
		w := Wish{Action: "add_chloride_ca", Rank: RankAnimals, Say: say.S("do.chloride")}
		if missing > chlorideADay {
			missing, w.Say = chlorideADay, say.S("do.chloride.part")
		}
		w.Amount = v.saltFor("CaCl2.2H2O", "salt.cacl2", q.Chloride, missing)
		return []Wish{w}
	case hardy:
		return []Wish{{Action: "salt_nacl", Rank: RankAnimals, Say: say.S("do.chloride"), Amount: v.saltFor("NaCl", "salt.nacl", q.Chloride, missing)}}
	}
	return nil
}
