package view_test

import (
	"bytes"
	"context"
	"flag"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// The storybook: pages made of literal structs. Each is rendered and looked at
// by the tests here; with -story DIR they are also written down, to be opened in
// a browser beside the files of static.
var storyDir = flag.String("story", "", "write the storybook's pages into this folder")

var storyFrame = view.Frame{
	Shop: "Fernweir Aquascapes", Lang: "en-IE",
	Person: &view.Person{ID: "p1", Name: "Maren Tolland", Role: "Owner"},
	Nav: []view.Link{{Label: "Counter", Href: "/counter"}, {Label: "My round", Href: "/"}, {Label: "Tanks", Href: "/tanks", Here: true},
		{Label: "Search", Href: "/search"}, {Label: "Customers", Href: "/customers"}, {Label: "Round book", Href: "/round-book"},
		{Label: "Profiles", Href: "/profiles"}, {Label: "Kits", Href: "/kits"}, {Label: "Shop", Href: "/shop"}},
	Assets: view.Assets{Style: "/static/house.css", Script: "/static/app.js", Icon: "/static/icon.svg"},
}

type story struct {
	name  string
	frame view.Frame
	body  templ.Component
}

func titled(title, lead string) view.Frame {
	f := storyFrame
	f.Title, f.Lead = title, lead
	return f
}

var strips = []view.Strip{
	{Label: "NO3", Unit: "mg/L", Word: "in band", State: view.InBand, Lo: num(6), Hi: num(12), HardLo: num(1), HardHi: num(25), Value: num(9), From: num(7), To: num(11), Last: num(11)},
	{Label: "PO4", Unit: "mg/L", Word: "low", State: view.Low, Lo: num(0.5), Hi: num(1.5), Value: num(0.1), From: num(0), To: num(0.25), Last: num(0.5), Digits: 2},
	{Label: "KH", Unit: "°d", Word: "high", State: view.High, Lo: num(3), Hi: num(5), HardLo: num(0.5), Value: num(9), From: num(8.5), To: num(9.5), Last: num(4), Digits: 1},
	{Label: "TAN", Unit: "mg/L", Word: "high, today", State: view.High, Urgent: true, Hi: num(0.05), HardHi: num(0.5), Value: num(1), From: num(0.5), To: num(1.5), Last: num(0), Digits: 2},
	{Label: "CO2", Unit: "mg/L", Word: "retest", State: view.Retest, Lo: num(15), Hi: num(25), HardHi: num(30), Value: num(28), From: num(18), To: nil, Digits: 0},
	{Label: "pH", Word: "not judged", State: view.NotJudged, Value: num(6.6), From: num(6.5), To: num(6.7), Digits: 1},
	{Label: "Fe", Unit: "mg/L", Word: "not due", State: view.NotDue, Lo: num(0.05), Hi: num(0.2), Last: num(0.1), Digits: 2},
	{Label: "Temperature", Unit: "°C", Word: "in band", State: view.InBand, Lo: num(22), Hi: num(26), HardLo: num(18), HardHi: num(30), Value: num(24.5), Last: num(24.5), Digits: 1},
}

func num(v float64) *float64 { return &v }

func allFields(f view.Form) templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) error {
		if _, err := io.WriteString(w, `<form class="form" method="post" novalidate>`); err != nil {
			return err
		}
		for _, c := range []templ.Component{
			view.FaultSummary(f),
			view.Text(f.Field("name", "Name of the tank").Hint("As it is called on the phone.")),
			view.Number(f.Field("reading.kh.before", "Carbonate hardness").Units("unit.kh.before", "dKH", view.Option{Value: "dKH", Label: "°d"}, view.Option{Value: "mg/L", Label: "mg/L CaCO3"}).Beside("Last visit 4.5 °d, Tue 10 Nov")),
			view.Number(f.Field("litres", "Changed").Unit("L").Optional()),
			view.Choice(f.Field("flow", "Far-end plants").Hint("The eye mark of the flow."), []view.Option{{Value: "well", Label: "Move well"}, {Value: "little", Label: "Move a little"}, {Value: "not", Label: "Do not move"}}),
			view.Ticks(f.Field("look", "Four looks"), []view.Option{{Value: "animals", Label: "Animals well"}, {Value: "plants", Label: "Plants well"}, {Value: "algae", Label: "Algae none", Hint: "or as usual"}, {Value: "gear", Label: "Gear fine"}}, func(v string) bool { return v == "animals" || v == "gear" }),
			view.Taps(f.Field("drops", "Drops until the colour turned").Unit("drops"), "One drop"),
			view.Tick(f.Field("leave", "Filter primed and running").Hint("Looked at, not remembered"), "1", true),
			view.Day(f.Field("day", "Set up on")),
			view.Clock(f.Field("at", "Arrived")),
			view.Select(f.Field("kit", "Kit"), []view.Option{{Value: "a", Label: "Drop test, lot 14"}, {Value: "b", Label: "Colour card, lot 3"}}),
			view.Area(f.Field("note", "To the customer").Optional()),
			view.Submit("Keep", &view.Link{Label: "Leave it", Href: "/"}),
		} {
			if err := c.Render(ctx, w); err != nil {
				return err
			}
		}
		_, err := io.WriteString(w, `</form>`)
		return err
	})
}

var typed = url.Values{"name": {"The long one at the window"}, "reading.kh.before": {"4,5 °dH"}, "litres": {"1,250"}, "flow": {"little"}, "drops": {"4"}, "day": {"2026-03-02"}, "at": {"09:05"}, "note": {"Two lines\nof text"}}

func storybook() []story {
	empty := view.Form{}
	faulty := view.Form{Values: typed, Faults: fault.Fields{
		{Name: "name", Kind: fault.Taken, Text: "This customer has a tank of that name already."},
		{Name: "litres", Kind: fault.Ambiguous, Text: "1,250 can be read as 1250 or as 1.25. Which is meant?", Confirm: "1250"},
		{Name: "flow", Kind: fault.Missing, Text: "Say how the far-end plants move."},
		{Name: "drops", Kind: fault.Impossible, Text: "Drops are counted in whole numbers."},
		{Name: "leave", Kind: fault.Missing, Text: "Look at the filter before you leave."},
	}}
	return append([]story{
		{"strips", titled("Systems check", "Tank at the window, Tue 24 Nov 2026"), view.Strips(strips)},
		{"fields", titled("A tank", ""), allFields(empty)},
		{"typed", titled("A tank", ""), allFields(view.Form{Values: typed})},
		{"faults", titled("A tank", "Everything that can be wrong"), allFields(faulty)},
		{"empty", titled("Tanks", ""), view.Empty("There is no tank yet. A tank belongs to a customer and stands at a site.", &view.Link{Label: "Add a customer", Href: "/customers/new"})},
		{"pager", titled("Tanks", ""), view.Pages(view.Pager{Page: 2, Pages: 4, First: 26, Last: 50, Total: 90, Noun: "tanks", Previous: "?page=1", Next: "?page=3"})},
		{"error", titled("That was our fault", ""), view.FaultBody(view.Fault{Text: "Something broke on our side.", Request: "abcd-efgh", Do: []view.Link{{Label: "To the first page", Href: "/"}}})},
		{"counter-empty", titled("Counter", "Fri 27 Nov 2026"), view.CounterBody(view.Counter{})},
		{"counter", titled("Counter", "Fri 27 Nov 2026"), view.CounterBody(view.Counter{Parts: []view.CounterPart{
			{Title: "To phone", Rows: []view.CounterRow{{Name: "The Alder Table, The bar", Href: "/customers/c1", Now: true, Side: "Thu 26 Nov 2026",
				Why: "Fish hang at the surface late in the light period and CO2 is high by any reading of the kit; CO2 was shut off and air put on.", Phones: []view.Phone{{Text: "+353 1 555 0102", Number: "+35315550102"}}}}},
			{Title: "Sheets held back", Rows: []view.CounterRow{{Name: "Day room, Bright Harbour Care Home", Href: "/visits/v1/sheet", Why: "Waits for your word: death.", Side: "Ilo Vance, Thu 26 Nov 2026"}}},
			{Title: "Keys out", Rows: []view.CounterRow{{Name: "Key 14", Href: "/keys/k1", Why: "the dentist", Side: "Bea Okafor-Lind, since Mon 9 Nov 2026"}}},
		}})},
	}, slices.Concat(placeStories(), troubleStories(), tankStories(), visitStories(), benchStories(), curveStories())...)
}

func render(t *testing.T, s story) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := view.Page(s.frame, s.body).Render(t.Context(), &b); err != nil {
		t.Fatalf("%s: %v", s.name, err)
	}
	if *storyDir != "" {
		if err := os.WriteFile(filepath.Join(*storyDir, s.name+".html"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return b.Bytes()
}
