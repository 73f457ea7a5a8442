package calc

import (
	"scaperound/domain/light"
	"scaperound/domain/quantity"
)

func micromols(v []float64) []quantity.Micromol {
	out := make([]quantity.Micromol, len(v))
	for i, x := range v {
		out[i] = quantity.Micromol(x)
	}
	return out
}

func lightDefs() []Def {
	inPPFD := in("PPFD", "PPFD at the leaves", quantity.Umol, "ppfd", "par")
	points := in("PPFD", "PPFD of the points", quantity.Umol, "ppfd", "par", "points").many()
	inHours := in("hours", "hours of light", hour, "h")
	const kirk Ref = "Kirk, Light and Photosynthesis in Aquatic Ecosystems"
	ofMap := func(name string, aliases []string, title string, u quantity.Unit, formula string, pick func(light.Map) float64) Def {
		return Def{
			Name: name, Aliases: aliases, Title: title, Topic: TopicLight, Find: "PAR map light points spread",
			In: []Input{points}, Out: u, Source: "definition; EN 12464-1 for uniformity",
			Eval: func(a Args) (Answer, error) {
				m, err := light.Measure(micromols(a.List("PPFD")))
				if err != nil {
					return Answer{}, err
				}
				v := pick(m)
				return one(v, step("mean", "Σ/{n}", float64(m.Mean), quantity.Umol, "n", m.Points), Step{Name: "minimum", Value: float64(m.Min), Unit: quantity.Umol},
					Step{Name: "maximum", Value: float64(m.Max), Unit: quantity.Umol}, step(name, formula, v, u)).warn(!m.Enough, "calc.few_points"), nil
			},
		}
	}
	return []Def{
		{
			Name: "DLI", Sentence: "{PPFD} for {hours} a day make", Aliases: []string{"daily_light"}, Title: "Daily light from PPFD and hours", Topic: TopicLight, Find: "photoperiod integral", In: []Input{inPPFD, inHours}, Out: molM2D, Source: "definition",
			Eval: func(a Args) (Answer, error) {
				v, err := light.DLI(quantity.Micromol(a.F("PPFD")), quantity.Hours(a.F("hours")))
				return one(float64(v), step("DLI", "{PPFD} · {h} · 3600/1e6", float64(v), molM2D, "PPFD", a.F("PPFD"), "h", a.F("hours"))), err
			},
		},
		{
			Name: "hours_for_DLI", Sentence: "{DLI} by {PPFD} take", Title: "Hours of light for a wanted daily light", Topic: TopicLight, Find: "photoperiod", In: []Input{in("DLI", "wanted daily light", molM2D), inPPFD}, Out: hour, Source: "definition",
			Eval: func(a Args) (Answer, error) {
				v, err := light.HoursForDLI(quantity.MolPerDay(a.F("DLI")), quantity.Micromol(a.F("PPFD")))
				return one(float64(v), step("hours", "{DLI} · 1e6/({PPFD} · 3600)", float64(v), hour, "PPFD", a.F("PPFD"), "DLI", a.F("DLI"))).warn(v > 10, "calc.long_day"), err
			},
		},
		ofMap("mean", []string{"light_mean", "PPFD_mean"}, "Mean PPFD of a light map", quantity.Umol, "", func(m light.Map) float64 { return float64(m.Mean) }),
		ofMap("uniformity_min_over_mean", []string{"light_uniformity"}, "Evenness of a light map", plain, "minimum/mean", func(m light.Map) float64 { return float64(m.Uniformity) }),
		ofMap("light_cv", nil, "Variation of a light map", plain, "standard deviation/mean", func(m light.Map) float64 { return float64(m.CV) }),
		{
			Name: "light_share_below", Share: true, Title: "Share of a light map below what the plants need", Topic: TopicLight, Find: "shaded corner", In: []Input{points, in("need", "PPFD needed, one or one for each point", quantity.Umol).many()}, Out: plain, Source: "definition",
			Eval: func(a Args) (Answer, error) {
				m, err := light.Measure(micromols(a.List("PPFD")), micromols(a.List("need"))...)
				return one(float64(m.Below.V), step("share below", "~points below their need/{n}", float64(m.Below.V), plain, "n", m.Points)).warn(!m.Enough, "calc.few_points"), err
			},
		},
		{
			Name: "PPFD_at_depth", Title: "PPFD under a depth of water", Topic: TopicLight, Find: "water depth attenuation", In: []Input{in("PPFD_surface", "PPFD below the surface", quantity.Umol), in("Kd_per_m", "attenuation of the water", perMetre), in("depth_m", "depth", quantity.M)}, Out: quantity.Umol, Source: kirk, Valid: "water only; beam spread and plants outweigh it in a tank",
			Eval: func(a Args) (Answer, error) {
				v, err := light.AtDepth(quantity.Micromol(a.F("PPFD_surface")), a.F("Kd_per_m"), quantity.Metre(a.F("depth_m")))
				return one(float64(v), step("PPFD", "{E0} · e^(−{Kd}·{z})", float64(v), quantity.Umol, "E0", a.F("PPFD_surface"), "Kd", a.F("Kd_per_m"), "z", a.F("depth_m"))).warn(true, "calc.measure_the_map"), err
			},
		},
		{
			Name: "PPFD_dimmed", Title: "PPFD after dimming", Topic: TopicLight, Find: "dimmer power percent lamp", In: []Input{inPPFD, in("from_percent", "dimmer now", quantity.Percent, "from"), in("to_percent", "dimmer then", quantity.Percent, "to")}, Out: quantity.Umol, Source: "proportion", Valid: "many lamps are not linear below a third",
			Eval: func(a Args) (Answer, error) {
				v, err := light.Dimmed(quantity.Micromol(a.F("PPFD")), a.F("from_percent"), a.F("to_percent"))
				return one(float64(v), step("PPFD", "{PPFD} · {to}/{from}", float64(v), quantity.Umol, "PPFD", a.F("PPFD"), "to", a.F("to_percent"), "from", a.F("from_percent"))).warn(a.F("to_percent") < 33, "calc.dimmer_not_linear"), err
			},
		},
		{
			Name: "PPFD_raised", Title: "PPFD after hanging the lamp higher or lower", Topic: TopicLight, Find: "height distance", In: []Input{inPPFD, in("from_cm", "height over the leaves now", quantity.CM, "from"), in("to_cm", "height then", quantity.CM, "to")}, Out: quantity.Umol, Source: "inverse-square law and its limit for a line",
			Eval: func(a Args) (Answer, error) {
				v, err := light.Raised(quantity.Micromol(a.F("PPFD")), quantity.Centimetre(a.F("from_cm")), quantity.Centimetre(a.F("to_cm")))
				return one(v.Value, step("PPFD", "{PPFD} · ({from}/{to})^1.5", v.Value, quantity.Umol, "PPFD", a.F("PPFD"), "to", a.F("to_cm"), "from", a.F("from_cm"))).between(v.Lo, v.Hi).warn(true, "calc.measure_the_map"), err
			},
		},
	}
}
