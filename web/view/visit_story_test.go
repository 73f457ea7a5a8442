package view_test

import (
	"net/url"
	"strings"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// visitForm is a form with one of everything that it can ask.
func visitForm(f view.Form, label string) view.VisitForm {
	meter := view.VisitWay{Name: "no kit named", Type: "meter", Unit: "mg/L", Sign: "mg/L"}
	card := view.VisitWay{Lot: "l1", Name: label, Type: "classes", Unit: "class", Sign: "mg/L", Note: "Past its date since Wed 3 Jun 2026.",
		Classes: []view.Option{{Value: "0", Label: "0"}, {Value: "0..5", Label: "0–5", Hint: "between 0 and 5"}, {Value: "5", Label: "5"}}}
	drops := view.VisitWay{Lot: "l2", Name: "KH drops", Type: "drops", Unit: "drops", Sign: "°dKH", Drop: "1 °dKH", PerDrop: "1"}
	return view.VisitForm{
		Form: f, Action: "/tanks/t/visits", Preview: "/tanks/t/preview", Done: "/visits/VISIT", Zone: "Europe/Dublin", Decimal: ".",
		Tank: "t", TankName: label, Kind: "routine", KindWord: "Routine visit", Kinds: []view.VisitKind{{ID: "routine", Link: view.Link{Label: "Routine visit", Href: "?kind=routine", Here: true}}, {ID: "gear_only", Link: view.Link{Label: "Gear only", Href: "?kind=gear_only"}}},
		Hidden:   []view.Pair{{Name: "visit", Value: "v"}, {Name: "revision", Value: "r"}, {Name: "base", Value: f.Values.Get("base")}},
		Amends:   f.Values.Get("base") != "",
		Sections: []view.VisitSection{{ID: "arrive", Title: "Arrived"}, {ID: "since", Title: "Since last time"}, {ID: "looks", Title: "Four looks"}, {ID: "samples", Title: "Samples drawn"}, {ID: "work", Title: "Work"}, {ID: "read", Title: "Read the tubes"}, {ID: "moved", Title: "Plants and animals"}, {ID: "leave", Title: "Before you go"}, {ID: "sheet", Title: "Sheet and notes"}, {ID: "left", Title: "Left"}},
		Others:   []view.Link{{Label: label, Href: "/tanks/o/visits/new"}}, Pinned: []string{label}, Photo: &view.VisitPicture{Href: "/photos/1", Says: "Cabinet of the tank"},
		Since: []view.Option{{Value: "nothing_new", Label: "Nothing new"}, {Value: "died", Label: "Something died"}}, History: []view.VisitSign{{ID: "doses_missed", Label: "Doses were missed", Plain: true}},
		Between: view.VisitBetween{Plan: []string{label}, Choice: []view.Option{{Value: "as_planned", Label: "As planned"}, {Value: "some_missed", Label: "Some missed"}}},
		Looks: []view.VisitLook{{ID: "animals", Title: "Animals", Fine: "Well", Trouble: "Not well", Common: []view.VisitSign{{ID: "fish_thin", Label: label}}, Rest: []view.VisitSign{{ID: "fins_torn", Label: "Ragged fins"}}},
			{ID: "algae", Title: "Algae", Fine: "None, or as usual", Trouble: "More than usual"}},
		Clocks: []view.VisitClock{{Name: "no3.before", Label: "NO3"}}, Tasks: []view.VisitTask{{ID: "k1", Text: label, Why: label, Amount: "1.39 g KNO3"}},
		Work: []view.VisitWork{{Kind: "water_change", Label: "Water change", Water: true, First: true, CanLitres: "12", Line: "To the third screw", LineLitres: "48", Last: "50", LastSays: "last time 50 L"},
			{Kind: "cylinder_swap", Label: "Cylinder swapped", Ask: []string{"full", "note", "pays"}}, {Kind: "part_fitted", Label: "Part fitted", Ask: []string{"part", "pays", "minutes", "grams", "ml", "note"}, Last: label}},
		Doses: []view.VisitDose{{Solute: "no3", Says: label, Ml: "5"}}, Solutes: []view.Option{{Value: "no3", Label: "NO3"}},
		Due: []view.VisitReading{{Name: "no3.before", Label: "NO3", Why: "least sure of it", Last: "8 mg/L, Tue 10 Nov 2026", Ways: []view.VisitWay{card, meter}},
			{Name: "kh.before", Label: "KH", Ways: []view.VisitWay{drops, {Name: "no kit named", Type: "meter", Unit: "dKH", Sign: "°dKH"}}}, {Name: "ph.late", Label: "pH", When: "late in the light", Ways: []view.VisitWay{{Name: "no kit named", Type: "meter", Unit: "pH"}}}},
		Folded: []view.VisitReadingGroup{{Title: label, Readings: []view.VisitReading{{Name: "gh.before", Label: "GH", Ways: []view.VisitWay{{Name: "no kit named", Type: "meter", Unit: "dGH", Sign: "°dGH"}}}}}},
		Clean:  "This filter clean: 700 L/h.", EyeLast: "last time well", Moved: view.VisitMoved{Plants: []view.Option{{Value: "moss", Label: "Mosses"}}, Animals: []view.Option{{Value: "tetras", Label: "Tetras"}}, Reasons: []view.Option{{Value: "died", Label: "Died"}}},
		Leave: []view.Option{{Value: "floor_dry", Label: "Floor dry"}, {Value: "key", Label: "Key"}}, Phone: "+353 1 555 0100",
	}
}

// visitStories are the pages of visits, stops, my round and care sheets.
func visitStories() []story {
	long := strings.Repeat("Unbreakablylongname", 12)
	text := strings.Repeat("They said that the water is as clear as it ever was. ", 30) + "<b>not bold</b>"
	full := view.Form{Values: url.Values{
		"base": {"r0"}, "since": {"died"}, "since.died.note": {text}, "dosed": {"some_missed"}, "look.animals": {"trouble"}, "sign.fish_thin": {"seen"}, "sign.fish_thin.extent": {"many"}, "work.water_change": {"on"}, "work.water_change.cans": {"4"},
		"work.part_fitted": {"on"}, "reading.no3.before": {"0..5"}, "kit.no3.before": {"l1"}, "reading.gh.before": {"5,5"}, "ppfd.7.umol": {"84"}, "ui.rows.ppfd": {"8"}, "moved.1.n": {"-2"}, "task.k1": {"declined"}, "task.k1.words": {text}, "task.k1.who": {"the manager"}, "leave.floor_dry": {"left_open"},
		"note.customer": {text}, "note.inside": {text}, "confirm": {"reading.kh.before=38"}, "flow.eye": {"little"},
	}}
	wrong := view.Form{Values: full.Values}
	for _, name := range []string{"arrived", "performed", "since", "dosed", "look.animals", "sign.fish_thin", "work.water_change", "work.water_change.cans", "reading.no3.before", "reading.gh.before", "leave.all", "leave.key", "task.k1.reason", "task.k1.who", "task.k1.words", "moved.1.group", "note.customer", "left", "reason", ""} {
		wrong.Faults.Add(name, fault.Impossible, "%s cannot be.", "This")
	}
	wrong.Faults = append(wrong.Faults, fault.Field{Name: "reading.kh.before", Kind: fault.Unlikely, Text: "KH of 38 °dKH is unusual. Is that what you read?", Confirm: "38"})
	sheet := view.Sheet{
		Shop: long, Phone: "+353 1 555 0100", Dial: "+35315550100", Tank: long, Day: "Tue 24 Nov 2026", By: long, Top: text, Calls: true, Done: []string{"48 L of water changed", long}, Note: []string{text, text},
		NextText: "We come again on Tuesday 8 December.", Donts: []string{text, long}, Figures: strips, Replaces: "Mon 23 Nov 2026", Newer: true, Link: "https://sheets.fernweir.example/s/" + long, QR: view.QR{Path: "M4 4h7v1h-7z", Size: 45},
		Earlier: []view.Link{{Label: "Tue 24 Nov 2026 (the newest)", Href: "/s/x", Here: true}, {Label: "Tue 10 Nov 2026", Href: "/s/x?sheet=1"}},
	}
	for _, icon := range []string{"feed", "dose", "top-up", "change", "light", "note", "dont"} {
		sheet.Lines = append(sheet.Lines, view.SheetLine{Icon: icon, Day: "Monday", Text: text})
	}
	visit := view.Visit{
		Href: "/visits/v", Kind: "Routine visit", By: long, When: "Tue 24 Nov 2026, 14:30", Stop: "/stops/s", Top: text, HeldFor: "an animal died", Given: "Given on Tue 24 Nov 2026, 15:10", Stale: true, Flags: []string{text},
		Acted: &view.VisitActed{Here: true, Record: "Sat 14 Nov 2026, 16:10", Why: []string{"A visit by " + long + " on Sun 15 Nov 2026, 10:00.", text}, Added: []view.VisitActedLine{{Part: "Now", Is: long}},
			Changed: []view.VisitActedLine{{Part: "At this visit", WasPart: "Next time", Was: text, Is: long}}, Gone: []view.VisitActedLine{{Part: "For the customer", Was: text}}},
		Tasks: []view.VisitPageTask{{Text: long, Amount: "1.39 g KNO3", Who: "us", When: "today", Look: "look again on Tue 1 Dec 2026", Urgent: true, Cautions: []string{"heater off"}, Why: []view.VisitWhy{{Text: text, Arithmetic: "A and B give C", Source: long}}}},
		Pour:  []string{"Change 48 L."}, Check: []view.VisitCheck{{Text: text, Word: "high", Urgent: true, Inside: true, Arithmetic: "1 and 1 give 2", Source: long}, {Text: "CO2 and water", Word: "fine"}}, Strips: strips,
		Customer: []string{text}, Next: text, Tests: []string{"NO3: least sure of it"}, Bring: []string{long}, Since: []string{text}, Seen: []string{"Animals: well"}, Work: []string{long}, Raw: []view.VisitRaw{{Label: "KH", Typed: "4 drops", Means: "3 to 4 °dKH"}},
		NoteCustomer: []string{text}, NoteInside: []string{text}, Revisions: []string{"Tue 24 Nov 2026, 15:20, " + long + ": " + text, "Tue 24 Nov 2026, 15:00, " + long}, Move: []view.Option{{Value: "o", Label: long}},
	}
	stop := view.Stop{
		Action: "/stops/s", Site: "/sites/s", Address: long, Arrived: "10:30", Access: []string{text}, Keys: []string{"Key 14, with " + long}, People: []string{"Ilo Vance", long}, Open: true,
		Form:  view.Form{Values: url.Values{"outcome": {"could_not_get_in"}}, Faults: fault.Fields{{Name: "why", Kind: fault.Missing, Text: "Say why, in a few words."}, {Name: "outcome", Kind: fault.NotChoice, Text: "Say how the stop ended."}}},
		Tanks: []view.StopTank{{Name: long, Href: "/tanks/t/visits/new", Tank: "/tanks/t", Tasks: "3 tasks", Apart: true}, {Name: "Bar tank", Href: "/visits/v", Done: "written down at 11:20"}},
	}
	due := view.RoundSite{Site: "s", Name: long, Customer: long, Action: "/sites/s/stops", Minutes: 95, Late: true, Bring: []string{long, "hose and cans"}, Keys: []string{"key 14, with you"},
		Tanks: []view.RoundTank{{Name: long, Href: "/tanks/t", Due: "due for 9 days", Last: "last Tue 10 Nov 2026", Tasks: "3 tasks", Late: true, Apart: true}, {Name: "Nano", Href: "/tanks/n", Due: "due today", Last: "not visited yet"}}}
	return []story{
		{"visit-form-empty", titled("Window tank", "By the weir"), view.VisitFormBody(visitForm(view.Form{Values: url.Values{}}, "Window tank"))},
		{"visit-form-full", titled("Window tank: change the visit", ""), view.VisitFormBody(visitForm(full, long))},
		{"visit-form-faults", titled("Window tank", ""), view.VisitFormBody(visitForm(wrong, long))},
		{"visit-empty", titled("Window tank", ""), view.VisitBody(view.Visit{Href: "/visits/v", Kind: "Advice by phone", By: "Ilo Vance", When: "Tue 24 Nov 2026, 14:30"})},
		{"visit-full", titled(long, ""), view.VisitBody(visit)},
		{"visit-acted", titled("Window tank", ""), view.VisitBody(view.Visit{Href: "/visits/v", Kind: "Routine visit", By: "Ilo Vance", When: "Tue 24 Nov 2026, 14:30", Acted: &view.VisitActed{Gone: []view.VisitActedLine{{Part: "Now", Was: "Air on."}}}})},
		{"stop-empty", titled("By the weir", ""), view.StopBody(view.Stop{Action: "/stops/s", Site: "/sites/s", Outcome: "could not get in", Why: "Nobody there", MayReopen: true})},
		{"stop-full", titled(long, ""), view.StopBody(stop)},
		{"round-empty", titled("My round", "Tue 24 Nov 2026"), view.RoundBody(view.Round{})},
		{"round-full", titled("My round", "Tue 24 Nov 2026"), view.RoundBody(view.Round{CanSearch: true, Mine: []view.RoundSite{due}, Others: []view.RoundSite{due}, Stops: []view.RoundStop{{Href: "/stops/s", Site: long, Customer: long, Address: long, Time: "09:05", Word: "under way", Open: true}}})},
		{"sheet-empty", titled("The sheet", ""), view.SheetAheadBody(view.SheetAhead{Action: "/visits/v/sheet", Evaluation: "e", Fresh: true, MayGive: true, Sheet: view.Sheet{Tank: "Window tank", Day: "Tue 24 Nov 2026", Top: "All is well."}})},
		{"sheet-full", titled("The sheet", ""), view.SheetAheadBody(view.SheetAhead{Action: "/visits/v/sheet", Evaluation: "e", Given: true, GivenOn: "Tue 24 Nov 2026, 15:10", Fresh: true, HeldFor: "an animal died", MayGive: true, Link: "https://sheets.fernweir.example/s/x", Sheet: sheet})},
	}
}
