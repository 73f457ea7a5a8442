package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/web/webtest"
)

// Whatever is typed into the round's forms, a sentence stands beside the field,
// what was typed is still there, and nothing is written.
func TestWhatIsWrongInTheRoundsFormsIsSaidBesideTheField(t *testing.T) {
	p := newRound(t)
	v := p.SignIn(t, p.Owner)
	p.planned(t, v)
	van, err := p.DB.AddVan(t.Context(), p.Owner.ID, due.Van{Name: "the white one"})
	if err != nil {
		t.Fatal(err)
	}
	draft := p.draft(t).Draft
	hours, leave, promise := "/people/"+p.Technician.ID+"/hours", "/people/"+p.Technician.ID+"/leave", "/sites/"+p.site+"/promises"
	move, ill := roundWeek+"/jobs/"+p.jobOf()+"/move", "/round-book/days/"+draft.Routes[0].Day.String()+"/ill"
	version := v.Get(hours).Attr("input[name=version]", "value")
	vanVersion := v.Get("/vans/"+van).Attr("input[name=version]", "value")
	roads := v.Get("/round-book/roads").Attr("input[name=version]", "value")
	for _, c := range []struct {
		what, path string
		values     []string // name and value by turns; the last pair is the wrong one
		field      string   // where the sentence stands; empty: that of the last pair
		says       string   // part of it
	}{
		{"hours that end before they begin", hours, []string{"version", version, "hours.1", "16-8"}, "", "ends before it begins"},
		{"hours with a comma", hours, []string{"version", version, "hours.2", "7,30-16"}, "", "is not a time span"},
		{"hours after midnight", hours, []string{"version", version, "hours.3", "20-25"}, "", "is not a time span"},
		{"two spans a day", hours, []string{"version", version, "hours.3", "8-12, 13-17"}, "", "One span a day"},
		{"a break with a comma", hours, []string{"version", version, "break_from", "12:00", "break_to", "13:00", "break", "22,5"}, "", "whole number"},
		{"a break of a day", hours, []string{"version", version, "break_from", "12:00", "break_to", "13:00", "break", "1440"}, "", ""},
		{"a break without its times", hours, []string{"version", version, "break", "30"}, "break_from", "From when"},
		{"a break's times without the break", hours, []string{"version", version, "break_from", "12:00"}, "break", "How long is the break"},
		{"a break that ends first", hours, []string{"version", version, "break", "30", "break_from", "13:00", "break_to", "12:00"}, "", "do not fit between"},
		{"a break too long for its times", hours, []string{"version", version, "break", "90", "break_from", "12:00", "break_to", "13:00"}, "", "do not fit between"},
		{"a break at no time", hours, []string{"version", version, "break", "30", "break_from", "noon"}, "", ""},
		{"no position", hours, []string{"version", version, "start", "at home"}, "", ""},
		{"an unknown van", hours, []string{"version", version, "van", "the blue one"}, "", ""},
		{"a van that was never there", hours, []string{"version", version, "van", p.site}, "", ""},
		{"leave without a day", leave, []string{"why", "a wedding", "from", ""}, "", "first day off"},
		{"leave on no day", leave, []string{"from", "tomorrow"}, "", "is not a date"},
		{"leave that ends first", leave, []string{"from", "2026-12-04", "to", "2026-12-03"}, "", "before the first"},
		{"leave that is over", leave, []string{"from", "2026-11-02", "to", "2026-11-06"}, "", "over"},
		{"a day of leave that is over", leave, []string{"from", "2026-11-02"}, "", "over"},
		{"leave of a year", leave, []string{"from", "2026-12-01", "to", "2027-12-01"}, "", "more than two months"},
		{"a promise for no day", promise, []string{"time", "9-11", "day", ""}, "", "Which day"},
		{"a promise for yesterday", promise, []string{"time", "9-11", "day", "2026-11-23"}, "", "is over"},
		{"a promise for another year", promise, []string{"time", "9-11", "day", "2027-11-26"}, "", "Is the day right"},
		{"a promise at no time", promise, []string{"day", "2026-11-26", "time", ""}, "", "Between when"},
		{"a promise in words", promise, []string{"day", "2026-11-26", "time", "in the morning"}, "", "is not a time span"},
		{"a promise that ends first", promise, []string{"day", "2026-11-26", "time", "11-9"}, "", "ends before it begins"},
		{"two promises", promise, []string{"day", "2026-11-26", "time", "9-10, 14-15"}, "", "One time span"},
		{"a van without a name", "/vans", []string{"water", "300", "water.unit", "L", "name", " "}, "", "Type what you call"},
		{"a van with less than nothing", "/vans", []string{"name", "the red one", "water.unit", "L", "water", "-5"}, "", ""},
		{"a van with words", "/vans", []string{"name", "the red one", "water.unit", "L", "water", "plenty"}, "", ""},
		{"half a cylinder", "/vans/" + van, []string{"version", vanVersion, "name", "the white one", "cylinders", "1,5"}, "", "whole number"},
		{"a van renamed to nothing", "/vans/" + van, []string{"version", vanVersion, "cylinders", "2", "name", ""}, "", "Type what you call"},
		{"a road shorter than the straight line", "/round-book/roads", []string{"version", roads, "shop", "53.41, -6.33", "factor", "0,9"}, "", ""},
		{"a shop at sea", "/round-book/roads", []string{"version", roads, "factor", "1.3", "shop", "91, 200"}, "", ""},
		{"traffic in words", "/round-book/roads", []string{"version", roads, "pace.3", "slow"}, "", ""},
		{"no traffic said", "/round-book/roads", []string{"version", roads, "pace.3", ""}, "", "in percent of a quiet hour"},
		{"a move to no place", move, []string{"draft", draft.ID, "day", "2026-11-27", "place", ""}, "", "Choose a place"},
		{"a move to a word", move, []string{"draft", draft.ID, "day", "2026-11-27", "place", "anywhere"}, "", "Choose a place"},
		{"a move to nobody", move, []string{"draft", draft.ID, "day", "2026-11-27", "place", p.site + "  "}, "", "not there any more"},
		{"a move behind a stop that is gone", move, []string{"draft", draft.ID, "day", "2026-11-27", "place", p.Technician.ID + "  nowhere"}, "", "not there any more"},
		{"a move to a day that is over", move, []string{"draft", draft.ID, "place", p.Technician.ID + "  ", "day", "2026-11-23"}, "place", "not there any more"},
		{"a move to no day", move, []string{"draft", draft.ID, "place", p.Technician.ID + "  ", "day", "Friday"}, "place", "Choose a place"},
		{"nobody ill", ill, []string{"person", ""}, "", "Choose who"},
		{"somebody ill who is not there", ill, []string{"person", p.site}, "", "Choose who"},
		{"a word ill", ill, []string{"person", "Ilo"}, "", "Choose who"},
	} {
		field := c.field
		last := c.values[len(c.values)-2:]
		if field == "" {
			field = last[0]
		}
		a := v.Post(c.path, c.values...)
		if a.Status != http.StatusUnprocessableEntity {
			t.Errorf("%s: answered with %d", c.what, a.Status)
			continue
		}
		id := "#f-" + strings.ReplaceAll(field, ".", `\.`)
		if text := a.Text(id + "-fault"); text == "" || !strings.Contains(text, c.says) {
			t.Errorf("%s: beside %s it says %q", c.what, field, text)
		}
		for i := 0; i < len(c.values); i += 2 {
			for _, in := range a.Find(`main input[name="` + c.values[i] + `"]`) {
				if kind := webtest.AttrOf(in, "type"); kind == "hidden" || kind == "radio" {
					continue
				}
				if left := webtest.AttrOf(in, "value"); left != c.values[i+1] {
					t.Errorf("%s: of %s is left %q, typed was %q", c.what, c.values[i], left, c.values[i+1])
				}
			}
		}
	}
	if p.draft(t).Draft.ID != draft.ID {
		t.Error("the week changed")
	}
	if text := v.Get(hours).Text("main"); strings.Contains(text, "Call off") {
		t.Error("a leave was noted")
	}
	if text := v.Get("/vans").Text("main"); strings.Contains(text, "the red one") {
		t.Error("a van was added")
	}
	// What is asked about twice is taken when it is meant.
	v.Post(leave, "from", "2026-12-01", "to", "2027-12-01", "confirm", "to=2027-12-01").Wants(http.StatusSeeOther)
	// A day in an address that is none is told, and so is a week.
	for _, path := range []string{"/round-book/weeks/soon", "/round-book/days/2026-02-30", "/round-book/days/soon/print"} {
		if text := v.Get(path).Wants(http.StatusNotFound).Text("main"); !strings.Contains(text, "ends in a date") {
			t.Errorf("%s: %q", path, text)
		}
	}
}

// A site without a position, one that opens outside everybody's hours, and then
// nobody at work: each is said in words, and the rest is planned.
func TestWhatCannotBePlannedIsSaidAndTheRestIsPlanned(t *testing.T) {
	p := newRound(t)
	ctx := t.Context()
	v := p.SignIn(t, p.Owner)
	other := p.otherSite(t)
	s, err := p.DB.Site(ctx, other)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what, says string
		site       func(s *customer.Site)
	}{
		{"no position", "has no position", func(s *customer.Site) { s.Position.OK = false }},
		{"hours at night", "outside everybody’s hours", func(s *customer.Site) {
			for day := 1; day <= 7; day++ {
				s.Windows = append(s.Windows, customer.Window{Weekday: day, From: 1260, To: 1380})
			}
		}},
	} {
		now, err := p.DB.Site(ctx, other)
		if err != nil {
			t.Fatal(err)
		}
		version := now.Version
		now = s
		now.Version = version
		c.site(&now)
		if err := p.DB.EditSite(ctx, p.Owner.ID, now, true); err != nil {
			t.Fatal(err)
		}
		p.planned(t, v)
		if _, _, ok := p.draft(t).Draft.Find(p.jobOf()); !ok {
			t.Errorf("%s: the other stop is not planned", c.what)
		}
		if text := v.Get(roundWeek).Wants(http.StatusOK).Text("main"); !strings.Contains(text, c.says) || !strings.Contains(text, "Without a place") {
			t.Errorf("%s: %.900s", c.what, text)
		}
	}
	for _, who := range []string{p.Owner.ID, p.Technician.ID} {
		w, err := p.DB.Working(ctx, who)
		if err != nil {
			t.Fatal(err)
		}
		w.Hours = nil
		if err := p.DB.KeepWorking(ctx, p.Owner.ID, w); err != nil {
			t.Fatal(err)
		}
	}
	p.planned(t, v)
	text := v.Get(roundWeek).Wants(http.StatusOK).Text("main")
	if !strings.Contains(text, "Nobody is at work in these days") || !strings.Contains(text, "By the weir") {
		t.Errorf("with nobody at work: %.900s", text)
	}
	if _, _, ok := p.draft(t).Draft.Find(p.jobOf()); ok {
		t.Error("planned with nobody at work")
	}
	v.Get("/round-book/days/2026-11-26").Wants(http.StatusOK)
	v.Get(roundWeek + "/jobs/" + p.jobOf() + "/move").Wants(http.StatusOK)
}
