package calc

import (
	"scaperound/domain/fault"
	"scaperound/domain/flow"
	"scaperound/domain/quantity"
)

func flowDefs() []Def {
	inFlow := in("flow_Lph", "flow", quantity.LH, "flow")
	return []Def{
		{
			Name: "flow_Lph_from_bucket", Sentence: "A bucket of {litres} filled in {seconds} is a flow of", Aliases: []string{"bucket"}, Title: "Flow from a timed bucket", Topic: TopicFlow, Find: "pump filter litres per hour return", In: []Input{in("litres", "bucket", quantity.L), in("seconds", "times to fill it", second).many()}, Out: quantity.LH, Source: "ISO 4185; JCGM 100:2008 for the interval",
			Eval: func(a Args) (Answer, error) {
				runs := make([]flow.Run, 0, len(a.List("seconds")))
				for _, s := range a.List("seconds") {
					runs = append(runs, flow.Run{Volume: quantity.Litre(a.F("litres")), Time: quantity.Seconds(s)})
				}
				m, err := flow.FromBucket(runs...)
				mean := a.F("litres") * 3600 / float64(m.Flow)
				return one(float64(m.Flow), step("flow", "3600 · {L}/{s}", float64(m.Flow), quantity.LH, "L", a.F("litres"), "s", mean)).between(float64(m.Lo), float64(m.Hi)).warn(len(runs) < 3, "calc.few_runs"), err
			},
		},
		{
			Name: "turnover_per_h", Aliases: []string{"turnover"}, Title: "Turnover of a filter", Topic: TopicFlow, Find: "filter pump flow times per hour", In: []Input{inFlow, in("V_L", "net volume", quantity.L, "net_volume_L", "net")}, Out: perHour, Source: "definition", Valid: "for choosing a filter; one that runs is judged by its own clean flow",
			Eval: func(a Args) (Answer, error) {
				v, err := flow.Turnover(quantity.LitrePerHour(a.F("flow_Lph")), quantity.Litre(a.F("V_L")))
				return one(float64(v), step("turnover", "{q}/{V}", float64(v), perHour, "q", a.F("flow_Lph"), "V", a.F("V_L"))), err
			},
		},
		{
			Name: "flow_share_of_clean", Aliases: []string{"share_of_clean_flow"}, Share: true, Sentence: "{flow_Lph} of a clean flow of {clean_Lph} is", Title: "Flow against the filter's own clean flow", Topic: TopicFlow, Find: "clogged clean filter due", In: []Input{inFlow, in("clean_Lph", "flow after the last cleaning", quantity.LH, "clean")}, Out: plain, Source: "definition; cleaning below 0.6 is practice",
			Eval: func(a Args) (Answer, error) {
				v, err := flow.ShareOfClean(quantity.LitrePerHour(a.F("flow_Lph")), quantity.LitrePerHour(a.F("clean_Lph")))
				return one(float64(v), step("share", "{q}/{clean}", float64(v), plain, "q", a.F("flow_Lph"), "clean", a.F("clean_Lph"))).warn(v < flow.CleanBelow, "calc.clean_the_filter"), err
			},
		},
		{
			Name: "days_to_fraction", Title: "Days until a filter is down to a share of its clean flow", Topic: TopicFlow, Find: "filter clog cleaning interval", In: []Input{in("decay_per_day", "decay", perDay), in("fraction", "share of the clean flow", plain).share()}, Out: quantity.Day, Source: "exponential clogging",
			Eval: func(a Args) (Answer, error) {
				v, err := flow.DaysToFraction(a.F("decay_per_day"), quantity.Share(a.F("fraction")))
				return one(float64(v), step("days", "−ln {f}/{λ}", float64(v), quantity.Day, "f", a.F("fraction"), "λ", a.F("decay_per_day"))), err
			},
		},
		{
			Name: "date_flow_reaches", Aliases: []string{"date_flow_reaches_400"}, Title: "Day since the cleaning on which the flow reaches a limit", Topic: TopicFlow, Find: "filter due clog decay forecast", In: []Input{in("days", "days since the cleaning", quantity.Day).many(), in("flow_Lph", "flows on those days", quantity.LH, "flow").many(), in("threshold", "limit", quantity.LH, "limit")}, Out: quantity.Day, Source: "least squares of ln flow within a cleaning cycle",
			Eval: evalDecay,
		},
	}
}

func evalDecay(a Args) (Answer, error) {
	days, flows := a.List("days"), a.List("flow_Lph")
	if len(days) != len(flows) {
		return Answer{}, fault.New(fault.Invalid, "There are %d days for %d flows.", len(days), len(flows))
	}
	pts := make([]flow.Point, len(days))
	for i := range days {
		pts[i] = flow.Point{Since: quantity.Days(days[i]), Flow: quantity.LitrePerHour(flows[i])}
	}
	d, err := flow.Fit(pts)
	if err != nil {
		return Answer{}, err
	}
	v, ok := d.Reaches(quantity.LitrePerHour(a.F("threshold")))
	if !ok {
		return Answer{}, fault.New(fault.Invalid, "By these flows the filter does not come down to %s L/h within ten years.", figure(a.F("threshold")))
	}
	return one(float64(v), step("decay", "", d.Rate, perDay), step("clean flow", "", float64(d.Start), quantity.LH),
		step("day", "ln({q0}/{limit})/{λ}", float64(v), quantity.Day, "q0", float64(d.Start), "limit", a.F("threshold"), "λ", d.Rate)), nil
}
