package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// farOut is what no planted freshwater tank with animals keeps for long: beyond it
// the reading, the unit or the meter is wrong, or something has gone wrong at once.
var farOut = []struct {
	kind   q.Kind
	lo, hi float64 // in the kind's canonical unit
	meter  bool
}{
	{q.Acidity, 5.0, 8.8, true},
	{q.EC, 0, 2500, true},
	{q.TDS, 0, 1600, true},
	{q.Chloride, 0, 400, false},
	{q.Sodium, 0, 250, false},
	{q.Iron, 0, 3, false},
	{q.Potassium, 0, 120, false},
}

var ruleFarOut = Rule{
	Meta: Meta{
		ID: "far_out", Title: "A reading far from anything such a tank keeps", System: Water, Evidence: "C",
		Why:    "Before anything is done about an absurd number it is read again by other means; the animals say whether there is time for that. Where the pH stands far out, ammonia is read as well.",
		Source: "Practice",
	},
	Applies: func(v *View) Answer {
		for _, x := range farOut {
			if v.readAny(x.kind) {
				return Judged
			}
		}
		return Unmeasured
	},
	Decide: func(v *View) []Finding {
		var out []Finding
		for _, x := range farOut {
			r, ok := v.Read(x.kind, visit.Late, visit.Before, visit.Morning, visit.Night, visit.After)
			if !ok || r.Value >= x.lo && r.Value <= x.hi || v.Doubtful(x.kind) {
				continue
			}
			m, _ := q.MeasureOf(x.kind)
			f := Finding{Subject: string(x.kind), State: Retest, Urgency: ThisVisit, Audience: ForShop,
				Say: say.S("find.far_out", say.Text("what", m.Title), say.Reading("read", x.kind, r.Value))}
			f.Wishes = all(do(RankAnimals, "retest"), when(x.meter, do(RankAnimals, "check_meter")), when(x.kind == q.Acidity && v.Animals, v.testNitrogen()))
			out = append(out, f)
		}
		return out
	},
}
