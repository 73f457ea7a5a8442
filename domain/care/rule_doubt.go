package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleDoubt = Rule{
	Meta: Meta{
		ID: "doubt", Title: "A reading in doubt", System: Water, Evidence: "A",
		Why:    "A reading that contradicts conductivity, the last ones or the date on its kit is taken again before anything is done about it.",
		Source: "Ionic conductivities (CRC): 1 mg/L NO3 adds at least 1.15 µS/cm",
	},
	Applies: func(v *View) Answer {
		if len(v.Now.Readings) == 0 && len(v.Aside) == 0 && !v.Has("kit_expired", "meter_not_calibrated") {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		if len(v.Doubts) == 0 && !v.believed("test_error") && !v.Has("kit_expired", "meter_not_calibrated") {
			return nil
		}
		each := v.doubted()
		f := Finding{State: Retest, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.doubt")}
		switch {
		case len(each) > 0:
			f = each[0]
		case v.Has("kit_expired"):
			f.Say = say.S("find.doubt.kit")
		case v.Has("meter_not_calibrated"):
			f.Say = say.S("find.doubt.meter")
		}
		again := do(RankAnimals, "retest")
		if len(v.Doubts) == 1 {
			m, _ := q.MeasureOf(v.Doubts[0].Kind)
			again[0].Say = say.S("instead.retest", say.Text("what", m.Title))
		}
		f.Wishes = all(again, when(v.ecContradicts() || v.gasContradicts() || v.Has("meter_not_calibrated"), do(RankAnimals, "check_meter")),
			do(RankConvenience, "do_nothing_else"),
			ban(RankAnimals, "why.no_act_on_doubt", "wc_large_once", "media_replace_all", "dose_nh4", "more_of_all"),
			when(v.Doubtful(q.Nitrate) || v.believed("test_error"), ban(RankPlants, "why.no_act_on_doubt", "wc_30_50", "wc_50_repeat", "dose_no3", "dose_po4", "dose_k", "light_up", "light_down")),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde"))
		out := v.caused("test_error", f)
		if len(each) > 1 {
			out = append(out, each[1:]...)
		}
		return out
	},
}

// doubted names each reading that is taken again, and why.
func (v *View) doubted() []Finding {
	var out []Finding
	for _, d := range v.Doubts {
		m, _ := q.MeasureOf(d.Kind)
		f := Finding{Subject: string(d.Kind), State: Retest, Urgency: ThisVisit, Audience: ForShop, Say: say.S("find.doubt."+d.Why, say.Text("what", m.Title))}
		if r, ok := v.asideOf(d.Kind); ok {
			was, _ := v.usually(d.Kind, 1)
			f.Say.Args = append(f.Say.Args, say.Reading("read", d.Kind, r.Value), say.Reading("was", d.Kind, was))
		}
		out = append(out, f)
	}
	return out
}
