package view_test

import "scaperound/web/view"

var nitrateCurve = view.Curve{
	ID: "curve-no3", Label: "NO3", Unit: "mg/L", Digits: 1, Days: 105, Now: 91, Lo: num(6), Hi: num(12),
	Ticks: []view.CurveTick{{Day: 8, Label: "Sep 2026"}, {Day: 38, Label: "Oct"}, {Day: 69, Label: "Nov"}, {Day: 99, Label: "Dec"}},
	Points: []view.CurvePoint{
		{Day: 0, Value: 10, From: num(7), To: num(13), State: view.InBand, When: "Mon 24 Aug 2026", Word: "in band", Href: "/visits/1"},
		{Day: 14, Value: 2, From: num(1), To: num(5), State: view.Low, When: "Mon 7 Sep 2026", Word: "low", Href: "/visits/2"},
		{Day: 29, Value: 25, From: num(18), State: view.High, When: "Tue 22 Sep 2026", Word: "high", Odd: true, Href: "/visits/3"},
		{Day: 43, Value: 9, State: view.Retest, When: "Tue 6 Oct 2026", Word: "cannot tell", Href: "/visits/4"},
		{Day: 91, Value: 11, From: num(8), To: num(14), State: view.InBand, When: "Mon 23 Nov 2026", Word: "in band", Href: "/visits/5"},
	},
	Marks: []view.CurveMark{
		{Day: 0, Kind: view.MarkChange, When: "Mon 24 Aug 2026", Said: "Water change, 60 L"}, {Day: 14, Kind: view.MarkDose, When: "Mon 7 Sep 2026", Said: "Dose of NO3, 1.4 g"},
		{Day: 29, Kind: view.MarkClean, When: "Tue 22 Sep 2026", Said: "Filter cleaned"}, {Day: 43, Kind: view.MarkOther, When: "Tue 6 Oct 2026", Said: "Trimmed, " + long},
	},
	Ahead: []view.CurveAhead{{Day: 91, Value: 11, Lo: 9, Hi: 13, When: "Mon 23 Nov 2026"}, {Day: 98, Value: 9, Lo: 6, Hi: 12, When: "Mon 30 Nov 2026"}, {Day: 105, Value: 7, Lo: 3, Hi: 11, When: "Mon 7 Dec 2026"}},
	Sums:  []string{"Takes about 1.3 mg/L a week."},
}

func curveStories() []story {
	flat := view.Curve{ID: "curve-kh", Label: "KH", Unit: "°dKH", Digits: 1, Comma: true, Days: 91, Now: 91, Lo: num(3),
		Points: []view.CurvePoint{{Day: 40, Value: 4, State: view.NotJudged, When: "Sat 3 Oct 2026", Word: "no band"}}}
	spans := []view.CurveSpan{{Label: "A quarter", Href: "?weeks=13", Here: true}, {Label: "A year", Href: "?weeks=52"}}
	return []story{
		{"curves", titled("Curves", "The long one at the window"), view.CurvesBody(view.CurvesPage{Spans: spans, Says: []string{"The cylinder will be empty between Thu 3 Dec and Mon 14 Dec 2026."},
			Curves: []view.Curve{nitrateCurve, flat}})},
		{"curves-none", titled("Curves", "A new tank"), view.CurvesBody(view.CurvesPage{Spans: spans})},
	}
}
