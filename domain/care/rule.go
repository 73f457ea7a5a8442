package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Answer of a rule that was asked whether it applies.
type Answer uint8

// Answers.
const (
	NotApplicable Answer = iota // this tank has no such thing
	Unmeasured                  // it would apply, had somebody measured or looked
	Judged                      // decide
)

// Meta describes a rule to people.
type Meta struct {
	ID       string
	Title    string
	Why      string
	Source   string
	Evidence string // A primary science or regulation, B science and judgement, C trade practice
	System   System
}

// Rule is data and two small functions. A Decide that returns nothing found
// all fine.
type Rule struct {
	Meta
	Always  bool // also on moving day and at a tank that is resting or ended: people's safety
	Applies func(*View) Answer
	Decide  func(*View) []Finding
}

// Rules lists all rules in the order in which they are asked. The caller must
// not change the slice.
func Rules() []Rule { return rules }

// ordinary reports whether ordinary rules hold: not for a half-full tank on
// moving day, nor for one that rests or has ended.
func (v *View) ordinary() bool {
	if v.Now.Kind == visit.Move {
		return false
	}
	return v.Setup.State != tank.Ended && v.Setup.State != tank.Resting
}

// do wishes an action for those of the rank.
func do(rank Rank, actions ...string) []Wish {
	out := make([]Wish, len(actions))
	for i, a := range actions {
		out[i] = Wish{Action: a, Rank: rank}
	}
	return out
}

// told wishes one action in words of its own.
func told(rank Rank, action, words string) []Wish {
	return []Wish{{Action: action, Rank: rank, Say: say.S(words)}}
}

// ban rules actions out for those of the rank, for the reason of the sentence.
func ban(rank Rank, why string, actions ...string) []Wish {
	w := Wish{Rank: rank}
	for _, a := range actions {
		f := Forbid{a, say.S(why)}
		if a == "antibiotic" {
			f.Why.ID = "why.vets_only" // whatever else speaks against it
		}
		w.Forbids = append(w.Forbids, f)
	}
	return []Wish{w}
}

// all joins wishes.
func all(parts ...[]Wish) []Wish {
	n := 0
	for _, p := range parts {
		n += len(p)
	}
	out := make([]Wish, 0, n)
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// when keeps wishes on a condition.
func when(on bool, ws []Wish) []Wish {
	if !on {
		return nil
	}
	return ws
}

// One finding is what most rules return.
func found(f Finding) []Finding { return []Finding{f} }

// believed reports whether a cause carries enough weight to act on, among those
// that speak of the same: three tenths, or the first place with two.
func (v *View) believed(cause string) bool {
	for _, c := range v.Causes {
		if c.ID == cause {
			return c.Own >= 0.3 || c.Own >= 0.2 && c.Leads
		}
	}
	return false
}

// shown reports a believed cause that a sign speaks for: a number alone never
// says that plants go hungry.
func (v *View) shown(cause string) bool {
	if !v.believed(cause) {
		return false
	}
	for _, c := range v.Causes {
		if c.ID != cause {
			continue
		}
		for _, e := range c.For {
			if _, sign := visit.SignOf(e.What); sign {
				return true
			}
		}
	}
	return false
}

// caused makes the finding of a believed cause, with its evidence.
func (v *View) caused(cause string, f Finding) []Finding {
	for _, c := range v.Causes {
		if c.ID == cause {
			f.For, f.Against = c.For, c.Against
			for i := range f.Wishes {
				f.Wishes[i].Cause, f.Wishes[i].Weight = c.ID, c.Weight
			}
			expectSigns(f.Wishes, c.For)
		}
	}
	if f.State == "" {
		f.State = Seen
	}
	if f.Audience == "" && v.died() {
		f.Audience = ForShop // what animals died of is told by the owner
	}
	return []Finding{f}
}

// newGrowth is after how many days new leaves, or algae that stay away, show
// whether a step helped; leaves already damaged do not heal.
const newGrowth = 14

// oldAlgae is after how many days algae that no longer grow are grazed, cut away
// or turn red; until then that they are still seen says nothing.
const oldAlgae = 35

// expectSigns lets the steps against a cause that nothing can be read for be
// judged by the signs that spoke for it.
func expectSigns(ws []Wish, pro []Evidence) {
	var signs []string
	days := newGrowth
	for _, e := range pro {
		if d, ok := visit.SignOf(e.What); ok && seenAgain[d.Group] {
			signs = append(signs, e.What)
			if d.Group == visit.SignAlgae {
				days = oldAlgae
			}
		}
	}
	if signs == nil {
		return
	}
	for i := range ws {
		if w := &ws[i]; w.Expect == nil && ActionOf(w.Action).Helps {
			w.Expect = &Expectation{Signs: signs, Days: days}
		}
	}
}

// seenAgain are the groups whose signs somebody sees at every visit, as against
// what happened once.
var seenAgain = map[visit.SignGroup]bool{visit.SignPlants: true, visit.SignAlgae: true, visit.SignWater: true}

// looks is the Applies of a rule over a cause: not applicable without the fact,
// not measured where nobody looked and nothing of the kinds was read.
func looks(needs string, groups []visit.SignGroup, kinds ...q.Kind) func(*View) Answer {
	return func(v *View) Answer {
		if needs != "" && !v.facts[needs] {
			return NotApplicable
		}
		if v.Looked(groups...) || v.readAny(kinds...) {
			return Judged
		}
		return Unmeasured
	}
}

func (v *View) readAny(kinds ...q.Kind) bool {
	for i := range v.Now.Readings {
		for _, k := range kinds {
			if v.Now.Readings[i].Kind == k {
				return true
			}
		}
	}
	return false
}

func groups(gs ...visit.SignGroup) []visit.SignGroup { return gs }

// breathless reports signs of short breath, and whether they were seen only
// before the light came on.
func (v *View) breathless() (distress, onlyBefore bool) {
	late := v.Has("fish_at_surface", "fish_at_surface_late", "fish_at_surface_all_day", "fish_at_inlet", "fish_rapid_gill_beat")
	before := v.Has("fish_at_surface_before_lights")
	return late || before || v.Has("shrimp_climb_out") && v.Has("snails_climb_out", "fish_darting"), before && !v.Has("fish_at_surface_late", "fish_at_surface_all_day", "fish_at_surface")
}

// dyingShrimp reports shrimp that are poisoned as one looks: what is in the water
// has to go before anything else is done.
func (v *View) dyingShrimp() bool {
	return v.Has("shrimp_twitching", "shrimp_climb_out") || v.Has("shrimp_deaths") && v.Shrimp
}

// died reports any death of late.
func (v *View) died() bool {
	return v.Fact("since_died") || v.Has("dead_animal_found_recently", "deaths_one_by_one", "deaths_of_new_arrivals", "deaths_after_each_change",
		"deaths_within_an_hour_of_change", "deaths_within_a_day_of_change", "shrimp_deaths")
}

// nitrogenKnown reports whether both TAN and nitrite were read now.
func (v *View) nitrogenKnown() bool {
	_, a := v.Tank(q.TAN)
	_, b := v.Tank(q.Nitrite)
	return a && b
}

// testNitrogen wishes the two tests that are missing.
func (v *View) testNitrogen() []Wish {
	return when(!v.nitrogenKnown(), do(RankAnimals, "test_nh3_no2"))
}

// algae reports whether any nuisance algae were seen.
func (v *View) algae() bool {
	for _, s := range v.Now.Signs {
		if d, ok := visit.SignOf(s.ID); ok && d.Group == visit.SignAlgae && s.ID != "white_fluff_on_new_wood" {
			return true
		}
	}
	return v.Has("water_green")
}
