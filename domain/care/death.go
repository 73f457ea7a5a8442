package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// waterSample keeps half a litre of the water in which the animals died. Where
// the change has been made, today's water is better than none and says what it is.
func (v *View) waterSample() []Wish {
	w := Wish{Action: "keep_water_sample", Rank: RankAnimals, Say: say.S("do.sample"), Cautions: []string{"body_chilled"}}
	if _, changed := v.Now.Did(visit.WaterChange); changed {
		w.Say = say.S("do.sample.after")
	}
	return []Wish{w}
}

// afterDeath is what is read before any water is changed, in the order of the
// work.
var afterDeath = []struct {
	kind q.Kind
	from visit.Phase // empty: the tank's own water
	word string
}{
	{q.Temperature, "", "death.temp"}, {q.TAN, "", "death.tan"}, {q.Nitrite, "", "death.no2"}, {q.Acidity, "", "death.ph"}, {q.KH, "", "death.kh"},
	{q.FreeChlorine, visit.FromSource, "death.chlorine"},
}

// unread lists what nobody has read after a death.
func (v *View) unread() []say.Arg {
	var out []say.Arg
	for _, x := range afterDeath {
		read := false
		if x.from == "" {
			_, read = v.Tank(x.kind)
		} else {
			_, a := v.Read(q.FreeChlorine, visit.Before, visit.After, x.from)
			_, b := v.Read(q.TotalChlorine, visit.Before, visit.After, x.from)
			read = a || b
		}
		if !read {
			out = append(out, say.Word("", x.word))
		}
	}
	return out
}

// testAfterDeath reads what is missing before the water is changed, and ammonia
// and nitrite again in a day or two: a body or a filter shows late.
func (v *View) testAfterDeath() []Wish {
	test := Wish{Action: "test_nh3_no2", Rank: RankAnimals, Say: say.S("instead.nitrogen_again")}
	if list := v.unread(); len(list) > 0 && !v.nitrogenKnown() {
		test.Say = say.S("do.death.read", say.List("what", list...))
	}
	if v.nitrogenKnown() {
		test.When, test.Day = WhenOnDay, q.Some(v.Now.Day.Add(1))
	}
	ws := []Wish{test}
	if !v.readSource() {
		ws = append(ws, Wish{Action: "test_source", Rank: RankAnimals, Say: say.S("do.death.source")})
	}
	return ws
}

// readSource reports whether the new water was tested at this visit.
func (v *View) readSource() bool {
	for i := range v.Now.Readings {
		if p := v.Now.Readings[i].Phase; p == visit.FromSource || p == visit.SourceDegassed {
			return true
		}
	}
	return false
}
