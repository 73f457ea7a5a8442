package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleStartUp = Rule{
	Meta: Meta{
		ID: "start_up", Title: "The first twelve weeks and the animal gate", System: Water, Evidence: "A",
		Why:    "Fresh soil gives off ammonium, the filter takes weeks. Animals come when ammonia and nitrite were below the first class at two visits at least five days apart, and few at first. Until then large changes do the filter's work.",
		Source: "Ponnamperuma 1972 for soils; Losordo and DeLong for the start of a filter; practice for the gate",
	},
	Applies: func(v *View) Answer {
		if !v.Age.OK || v.Age.V >= newTankWeeks {
			return NotApplicable
		}
		_, a := v.Tank(q.TAN)
		_, b := v.Tank(q.Nitrite)
		if !a && !b && !v.Animals && len(v.Now.Signs) == 0 {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		tan, tanRead := v.Tank(q.TAN)
		no2, _ := v.Tank(q.Nitrite)
		bans := all(noMoreLoad(), ban(RankAnimals, "why.one_at_a_time", "more_of_all"))
		if v.Animals {
			f := Finding{State: Seen, Audience: ForShop, Say: say.S("find.start_up.animals")}
			f.Wishes = all(v.testNitrogen(), do(RankAnimals, "no_new_animals"), bans)
			if v.nitrogenKnown() && v.Fact("tan_zero") && v.Fact("no2_zero") {
				return nil
			}
			return found(f)
		}
		if v.gatePassed() {
			return found(Finding{State: InBand, Say: say.S("find.start_up.gate"), Wishes: ban(RankAnimals, "why.few_first", "more_of_all", "dose_nh4")})
		}
		f := Finding{State: Seen, Say: say.S("find.start_up")}
		f.Wishes = all(do(RankAnimals, "no_new_animals"), v.testNitrogen(), bans)
		worst := max(tan.Value, no2.Value/2)
		switch {
		case tanRead && worst >= 1 || no2.Value >= 2:
			f.State, f.Urgency = High, ThisVisit
			f.Wishes = all(f.Wishes, do(RankPlants, "wc_50_repeat"), do(RankAnimals, "test_nh3_no2"), do(RankPlants, "extra_visit"))
		case worst >= tanFirstClass:
			f.State, f.Urgency = High, ThisVisit
			f.Wishes = all(f.Wishes, do(RankPlants, "wc_30_50"), do(RankAnimals, "test_nh3_no2"))
		case v.Fact("fresh_soil") && v.Age.V <= firstWeeks && !tanRead:
			f.Urgency = ThisVisit
			f.Wishes = all(f.Wishes, told(RankPlants, "wc_50_repeat", "instead.soil_weeks"))
		}
		return found(f)
	},
}

// firstWeeks is for how many weeks rich soil gives off what is to be changed away.
const firstWeeks = 3

// water is a share of the net volume as an amount.
func (v *View) water(share float64) []Amount {
	if !v.Net.OK {
		return nil
	}
	return []Amount{{"water", share * float64(v.Net.V), q.L}}
}

// gated reports whether the tank waits for its first animals.
func (v *View) gated() bool {
	return !v.Animals && v.Age.OK && v.Age.V < newTankWeeks && !v.gatePassed()
}

// gatePassed reports whether TAN and nitrite were below the first class now and
// at a visit at least five days ago.
func (v *View) gatePassed() bool {
	low := func(r *visit.Record) bool {
		t, ok1 := readOf(r, q.TAN, visit.Before, visit.Late, visit.Morning)
		n, ok2 := readOf(r, q.Nitrite, visit.Before, visit.Late, visit.Morning)
		return ok1 && ok2 && t.Value < 0.1 && n.Value < nitriteAct
	}
	if !low(&v.Now) {
		return false
	}
	for i := len(v.History) - 1; i >= 0; i-- {
		h := &v.History[i]
		_, t := readOf(h, q.TAN, visit.Before, visit.Late, visit.Morning)
		if !t {
			continue
		}
		if !low(h) {
			return false
		}
		if v.Now.Day-h.Day >= 5 {
			return true
		}
	}
	return false
}
