package view_test

import (
	"net/url"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

func benchStories() []story {
	rows := []view.BenchRow{
		{Title: "Salt for a wanted rise", Href: "/bench/dose", Quiet: "From 6 mg/L to 12 mg/L NO3 in 142 L net: 1.39 g KNO3"},
		{Title: long, Href: "/bench/long"},
	}
	of := &view.BenchTank{ID: "t", Name: long, Href: "/tanks/t", Without: "/bench"}

	open := view.Form{}
	wrong := view.Form{
		Values: url.Values{"from": {"six <or so>"}, "litres": {"1,250"}, "points": {"40 55\n61 x"}, "salts": {"KNO3"}, "confirm": {"litres=1250"}},
		Faults: fault.Fields{
			{Name: "from", Kind: fault.NotNumber, Text: "“six <or so>” is not a number."},
			{Name: "litres", Kind: fault.Ambiguous, Text: "1,250 can be read as 1250 or as 1.25. Which is meant?", Confirm: "1250"},
			{Name: "points", Kind: fault.NotNumber, Text: "“x” is not a number."},
			{Name: "salts", Kind: fault.Missing, Text: "Choose at least two."},
		},
	}
	sentence := func(f view.Form) []view.BenchPiece {
		litres := view.Blank{Kind: view.BlankNumber, Span: "1 to 5000 L", Note: "from the tank's set-up of Mon 2 Nov 2026",
			Field: f.Field("litres", "Net volume").Units("litres.unit", "L", view.Option{Value: "L", Label: "L"}, view.Option{Value: "galUS", Label: "US gal"})}
		return []view.BenchPiece{
			{Words: "From"}, {Blank: &view.Blank{Kind: view.BlankNumber, Span: "0 to 200 mg/L", Field: f.Field("from", "Now").Unit("mg/L")}},
			{Words: "with"}, {Blank: &view.Blank{Kind: view.BlankWord, Options: choices, Field: f.Field("salt", "Salt")}},
			{Words: "in"}, {Blank: &litres},
			{Words: "measured at"}, {Blank: &view.Blank{Kind: view.BlankNumbers, Field: f.Field("points", "Points").Unit("µmol/(m²·s)")}},
			{Words: "from"}, {Blank: &view.Blank{Kind: view.BlankWords, Options: choices, Chosen: []string{"a"}, Field: f.Field("salts", "Salts at hand")}},
		}
	}
	more := []view.Blank{{Kind: view.BlankChoice, Options: choices, Field: open.Field("cold", "Stored")}}
	answer := view.BenchAnswer{
		Said: "From 6 mg/L to 12 mg/L NO3 in 142 L net with " + long, Figure: "1.39", Unit: "g KNO3", Between: "between 1.25 g and 1.53 g", With: "a bottle stored at 5 °C",
		Also:     []view.BenchAlso{{Label: "K brought along", Value: "3.8 mg/L"}, {Label: long, Value: "0.000001 mol/L"}},
		Heed:     []string{"Outside 0 to 40 °C: carried on beyond what was measured.", long},
		Handling: []string{"Keep it away from acids and from flames."},
		Steps:    []view.BenchStep{{Name: "rise", Formula: "wanted - now", Numbers: "12 mg/L - 6 mg/L", Value: "6 mg/L"}, {Name: long, Value: "1.39 g"}},
		Source:   "molar masses, IUPAC 2021", Labels: []view.Link{{Label: "Label to print", Href: "/bench/dose/label"}},
	}
	return []story{
		{"bench", titled("Bench", ""), view.BenchBody(view.Bench{Tank: of, Daily: rows, Fields: []view.BenchField{{Title: "Salts", Rows: rows}, {Title: "Light", Rows: rows[1:]}}})},
		{"bench-found", titled("Bench", ""), view.BenchBody(view.Bench{Text: "nitrate " + long, Nearly: true, Found: rows})},
		{"bench-nothing", titled("Bench", ""), view.BenchBody(view.Bench{Text: "<xyzzy>"})},
		{"bench-blank", titled("Salt for a wanted rise", ""), view.BenchCalcBody(view.BenchCalc{Action: "/bench/dose", Form: open, Pieces: sentence(open), More: more, Example: "/bench/dose?from=6",
			Valid: "0 to 40 °C", Answer: view.BenchAnswer{Open: "Still to be filled in: now and net volume."}})},
		{"bench-wrong", titled("Salt for a wanted rise", ""), view.BenchCalcBody(view.BenchCalc{Action: "/bench/dose", Tank: of, Form: wrong, Pieces: sentence(wrong), More: more, Opened: true,
			Answer: view.BenchAnswer{Fault: "Nothing was worked out: see the marked blanks."}})},
		{"bench-answer", titled("Salt for a wanted rise", ""), view.BenchCalcBody(view.BenchCalc{Action: "/bench/dose", Tank: of, Form: open, Pieces: sentence(open), Answer: answer})},
	}
}
