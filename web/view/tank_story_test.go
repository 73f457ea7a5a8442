package view_test

import (
	"net/url"
	"strings"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

var (
	long  = strings.Repeat("Aquascape over the stairs ", 6) + "withoutanybreakwhatsoeverinthisverylongname"
	hrefs = view.TankPage{PinsHref: "/tanks/t/pins", CardHref: "/tanks/t/card", HistoryHref: "/tanks/t/history", SetupHref: "/tanks/t/setup", StockHref: "/tanks/t/stock",
		DosingHref: "/tanks/t/dosing", WaterHref: "/tanks/t/water", ProfileHref: "/tanks/t/profile", AgreementHref: "/tanks/t/agreement", ShareHref: "/tanks/t/share", GearHref: "/tanks/t/gear"}
	choices = []view.Option{{Value: "a", Label: "Rich soil"}, {Value: "b", Label: "Sand or gravel"}, {Value: "c", Label: "Not known"}}
	lengths = map[string][]view.Option{"length": {{Value: "cm", Label: "cm"}, {Value: "in", Label: "in"}}}
)

// secondEditor is a form of which somebody else kept another version meanwhile.
func secondEditor(typed, theirs url.Values) view.RecordForm {
	return view.RecordForm{
		Form:   view.Form{Values: typed, Faults: fault.Fields{{Kind: fault.Conflict.String(), Text: "Somebody else has changed this since you opened it."}}},
		Action: "/tanks/t/setup", Version: 4, Theirs: theirs, Units: lengths, Cancel: view.Link{Label: "Leave as it is", Href: "/tanks/t"},
	}
}

func faultyForm(names ...string) view.RecordForm {
	f := view.RecordForm{Form: view.Form{Values: url.Values{}}, Action: "/tanks/t/setup", Version: 1, Units: lengths, Cancel: view.Link{Label: "Leave as it is", Href: "/tanks/t"}}
	for _, n := range names {
		f.Form.Values.Set(n, "much <too> much")
		f.Form.Faults.Add(n, fault.NotNumber, "“much <too> much” is not a number.")
	}
	return f
}

func tankStories() []story {
	empty := hrefs
	empty.State, empty.Does = "Starting", "Nothing"
	full := hrefs
	full.State, full.Age, full.KeptApart, full.CanDecide, full.FallsDue = "Running", "14 months old", "since Mon 2 Nov 2026", true, true
	full.Ways = []view.Link{{Label: long, Href: "/sites/s"}, {Label: "The Alder Table", Href: "/customers/c"}}
	full.Visit, full.Arrive = "/tanks/t/visits/new", "/tanks/t/arrive"
	full.Pinned = []string{"The valve weeps", long, "Owner hates snails <really>"}
	full.Readings = []view.ReadDay{{Day: "Tue 24 Nov 2026", Strips: strips}, {Day: "Tue 10 Nov 2026", Strips: strips[:2]}}
	full.Problems = []view.TankProblem{{Title: "Black tufts on the anubias", Belief: "CO2 swings", Next: "New diffuser", Since: "Mon 5 Oct 2026", Href: "/tanks/t/problems"}}
	full.Tasks = []view.TankTask{{Text: "Change 60 L", Why: "NO3 is high", When: "next visit"}}
	full.Visits = []view.TankVisit{{When: "Tue 24 Nov 2026", Kind: "routine visit", Who: "Ilo Vance", Says: "All is well", Href: "/visits/v"}}
	full.Sheets = []view.GivenLine{{Given: "Tue 24 Nov 2026", By: "Ilo Vance", Href: "/visits/v/sheet", Newer: true}, {Given: "Tue 10 Nov 2026", By: "Ilo Vance"}}
	full.Volume = view.TankVolume{Gross: "172 L", Net: "159 L", Share: "93 %", Basis: "reckoned with 40 % of the substrate being water", Why: "Net is seldom this far from gross."}
	full.Facts, full.SetupSince = []view.Fact{{Name: "Light", Text: long}, {Name: "CO2", Text: "none"}}, "Mon 2 Nov 2026"
	full.Animals = []view.LivingLine{{Count: "12", Group: "Tetras", Species: "ember", Since: "Mon 2 Nov 2026"}, {Count: "1", Group: "Snails"}}
	full.Plants = []view.LivingLine{{Count: "24", Group: long}}
	full.Dosing = []string{"NO3 120 mg (2 strokes), Mon, Wed and Fri, pump strokes, by the customer"}
	full.Weekly = []view.WeeklyDose{{Solute: "NO3", Mg: "360 mg", PerLitre: "2.26 mg/L"}, {Solute: "Fe", Mg: "7.0 mg"}}
	full.Water, full.SourceHref, full.Profile, full.ProfilePage = "Kitchen tap, KH 8.5 °dKH", "/sources/s", "CO2, medium light", "/profiles/p"
	full.Agreement, full.Does = "Every 2 weeks, give or take 3 days; 45 minutes", "Feeds and Tops up"

	dosing := view.TankDosing{RecordForm: faultyForm("line.0.mg"), Solutes: choices, Hows: choices, By: choices, Days: choices,
		Lines: []view.DosingLine{{No: 0, Prefix: "line.0.", Says: "NO3 120 mg", Open: true}, {No: 1, Prefix: "line.1.", Says: "Add a line"}}}
	bands := view.ProfileForm{RecordForm: faultyForm("no3.lo"), New: true, Rows: []view.BandRow{{Kind: "NO3", Unit: "mg/L",
		Ends: []view.BandEnd{{Name: "no3.hard_lo", Kind: "NO3", Label: "Harm under"}, {Name: "no3.lo", Kind: "NO3", Label: "From"}}}}}
	setup := secondEditor(url.Values{"length": {"60"}, "substrate": {"a"}, "co2": {"1"}}, url.Values{"length": {"90"}, "substrate": {"b"}})
	stories := []story{
		{"tank-list-empty", titled("Tanks", ""), view.TankListBody(view.TankList{New: view.Link{Label: "New tank", Href: "/tanks/new"}})},
		{"tank-list-none", titled("Tanks", ""), view.TankListBody(view.TankList{Search: "zzz", Any: true, New: view.Link{Label: "New tank", Href: "/tanks/new"}})},
		{"tank-list", titled("Tanks", ""), view.TankListBody(view.TankList{States: choices, Orders: choices, New: view.Link{Label: "New tank", Href: "/tanks/new"}, Tanks: []view.TankLine{
			{Name: long, Href: "/tanks/t", Where: long, State: "Starting", Tasks: "5 open tasks", Last: "Tue 24 Nov 2026", Next: "Tue 1 Dec 2026", KeptApart: true}, {Name: "New", Href: "/tanks/u"}}})},
		{"tank-new-nowhere", titled("New tank", ""), view.TankNewBody(view.TankNew{Customers: view.Link{Label: "To the customers", Href: "/customers"}})},
		{"tank-empty", titled("Window tank", ""), view.TankPageBody(empty)},
		{"tank-full", titled(long, long), view.TankPageBody(full)},
		{"tank-setup-second", titled("Set-up", ""), view.TankSetupBody(view.TankSetup{RecordForm: setup, Substrates: choices, Plantings: choices, Topoffs: choices, Volume: view.TankVolume{Why: "Length is needed."}})},
		{"tank-dosing-faults", titled("Dosing plan", ""), view.TankDosingBody(dosing)},
		{"tank-water-none", titled("Change water", ""), view.TankWaterBody(view.TankWater{New: view.Link{Label: "New source water", Href: "/sources/new"}})},
		{"tank-target-none", titled("Target profile", ""), view.TankTargetBody(view.TankTarget{All: view.Link{Label: "All target profiles", Href: "/profiles"}})},
		{"tank-stock-faults", titled("Planting and stock", ""), view.TankStockBody(view.TankStock{Form: faultyForm("n").Form, Action: "/tanks/t/stock", Groups: []view.OptionGroup{{Label: "Animals", Options: choices}}, Reasons: choices, Pays: choices, Tanks: choices})},
		{"tank-gear-faults", titled("Gear", ""), view.TankGearBody(view.TankGear{RecordForm: faultyForm("gross"), Action: "/tanks/t/gear", Gears: choices, Acts: choices,
			Events: []view.GearLine{{When: "Tue 24 Nov 2026, 10:30", What: "CO2 cylinder · Swapped", Weight: "9.42 kg", Number: "K7", Tested: "Sat 1 Jun 2024", Note: long, Author: "Ilo Vance"}}})},
		{"tank-history-empty", titled("History", ""), view.TankHistoryBody(view.TankHistory{})},
		{"profile-form-faults", titled("New target profile", ""), view.ProfileFormBody(bands)},
		{"profile-list-empty", titled("Target profiles", ""), view.ProfileListBody(view.ProfileList{})},
		{"profile-empty", titled("Own", ""), view.ProfileBody(view.ProfilePage{Archived: true})},
		{"kit-list-empty", titled("Kits and meters", ""), view.KitListBody(view.KitList{New: view.Link{Label: "New kit or meter", Href: "/kits/new"}})},
		{"kit-faults", titled("NO3 card", ""), view.KitBody(view.KitPage{Form: faultyForm("check_l_read").Form, Unit: "mg/L", LotAction: "/kits/k/lots", People: choices, Lots: []view.LotBlock{
			{Lot: long, Keeper: "Ilo Vance", Expires: "Sun 1 Nov 2026", Word: "has expired", Urgent: true, CheckAction: "/lots/l/checks?kit=k", Against: "check_l_against", Read: "check_l_read", Calibrated: "check_l_calibrated", Retire: view.Post{Label: "Used up", Action: "/lots/l/retire"},
				Checks: []view.CheckLine{{When: "Tue 24 Nov 2026", Against: "20.0 mg/L", Read: "22.5 mg/L", Off: "+2.5", Author: "Ilo Vance", Calibrated: true}}}}})},
		{"source-list-empty", titled("Source waters", ""), view.SourceListBody(view.SourceList{New: view.Link{Label: "New source water", Href: "/sources/new"}})},
		{"source-empty", titled("Kitchen tap", ""), view.SourceBody(view.SourcePage{EditHref: "/sources/s/edit"})},
	}
	return stories
}
