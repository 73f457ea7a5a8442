package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleHardness = Rule{
	Meta: Meta{
		ID: "hardness", Title: "Hardness against the animals", System: Water, Evidence: "C",
		Why:    "Hardness outside the animals' range is a talk with the owner, not a shock correction.",
		Source: "Ranges per group are practice",
	},
	Applies: func(v *View) Answer {
		// Before the first animals the profile speaks for them.
		if g, k := v.bandOf(q.GH), v.bandOf(q.KH); g == (Band{}) && k == (Band{}) {
			return NotApplicable
		}
		if !v.readAny(q.GH, q.KH, q.Acidity) {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		var out []Finding
		for _, k := range []q.Kind{q.GH, q.KH, q.Acidity} {
			r, ok := v.Tank(k)
			if !ok || v.Doubtful(k) || k == q.Acidity && v.Injected {
				continue
			}
			b := v.bandOf(k)
			if st := b.within(r.Interval); st == High || st == Low {
				m, _ := q.MeasureOf(k)
				f := Finding{Subject: string(k), State: st, Audience: ForShop, Calc: v.held(r, limitOf(b, st), "usual range of the animals, practice"), Say: say.S("find.hardness."+string(st), say.Text("what", m.Title), say.Reading("value", k, r.Value))}
				if !v.Animals {
					f.Say.ID = "find.hardness.early." + string(st)
					out = append(out, f)
					continue
				}
				f.Wishes = ban(RankAnimals, "why.small_steps", "kh_up_fast", "wc_large_once", "acid")
				out = append(out, f)
			}
		}
		return out
	},
}

// limitOf is the end of the band that a reading is beyond.
func limitOf(b Band, st State) float64 {
	if st == High {
		return b.Hi.V
	}
	return b.Lo.V
}
