package web_test

import (
	"net/http"
	"strings"
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/web/webtest"
)

// dayFrom is a day counted from the shop's today, as a form takes it.
func dayFrom(t *testing.T, n int) string {
	t.Helper()
	d, ok := q.ParseDate(today(t))
	if !ok {
		t.Fatal(today(t))
	}
	return d.Add(n).String()
}

const scripted = `<script>alert(1)</script>"'&amp;`

// Each bad absence: the sentence stands beside its field, and nothing is lost.
func TestABadAbsenceIsSaidBesideItsField(t *testing.T) {
	w := withTank(t)
	path := "/sites/" + w.place + "/away"
	long := strings.Repeat("ä", 10000)
	for _, c := range []struct{ name, from, to, standIn, field, says string }{
		{"nothing", "", "", "", "from", "first day"},
		{"no last day", dayFrom(t, 5), "", "Bo", "to", "last day"},
		{"the end first", dayFrom(t, 9), dayFrom(t, 5), "Bo", "to", "before the first"},
		{"no date", "31.12.", dayFrom(t, 5), "Bo", "from", "is not a date"},
		{"a day that is none", "2027-02-20", "2027-02-30", "Bo", "to", "is not a date"},
		{"the year of a slip", "20266-12-20", "2027-01-03", "Bo", "from", "is not a date"},
		{"long ago", "1026-12-20", "2027-01-03", "Bo", "from", "cannot be right"},
		{"last year", dayFrom(t, -370), dayFrom(t, -360), "Bo", "to", "over already"},
		{"three years on", dayFrom(t, 1100), dayFrom(t, 1110), "Bo", "from", "more than a year ahead"},
		{"half a year", dayFrom(t, 5), dayFrom(t, 200), "Bo", "to", "four months"},
		{"a novel", dayFrom(t, 5), dayFrom(t, 9), long, "stand_in", "at most 200"},
	} {
		page := w.tech.Post(path, "from", c.from, "to", c.to, "stand_in", c.standIn, "why", scripted).Wants(http.StatusUnprocessableEntity)
		if got := page.Text("#f-" + c.field + "-fault"); !strings.Contains(got, c.says) {
			t.Errorf("%s: beside %s stands %q", c.name, c.field, got)
		}
		if page.Attr("#f-from", "value") != c.from || page.Attr("#f-to", "value") != c.to || page.Attr("#f-stand_in", "value") != c.standIn || page.Attr("#f-why", "value") != scripted {
			t.Errorf("%s: what was typed is lost", c.name)
		}
	}
	w.tech.Post("/sites/0190f7a0-0000-7000-8000-000000000000/away", "from", dayFrom(t, 5), "to", dayFrom(t, 9)).Wants(http.StatusNotFound)
	w.tech.Post("/sites/x/away", "from", dayFrom(t, 5), "to", dayFrom(t, 9)).Wants(http.StatusNotFound)
	// What was asked and is meant is kept.
	w.tech.Post(path, "from", dayFrom(t, 5), "to", dayFrom(t, 200), "confirm", "to="+dayFrom(t, 200), "why", scripted).Wants(http.StatusSeeOther)
	if body := string(w.tech.Get("/sites/" + w.place).Wants(http.StatusOK).Body); strings.Contains(body, "<script>alert") {
		t.Error("what was typed runs")
	}
}

func TestAbsencesOverlapAndAreSentTwice(t *testing.T) {
	w := withTank(t)
	place := "/sites/" + w.place
	form := w.tech.Get(place + "/away/new").Wants(http.StatusOK)
	fields := []string{"once", form.Attr("input[name=once]", "value"), "from", dayFrom(t, 5), "to", dayFrom(t, 12), "stand_in", "Bo next door"}
	for range 2 {
		w.tech.Post(place+"/away", fields...).Wants(http.StatusSeeOther)
	}
	shown := w.tech.Get(place).Find(`a[href^="/away/"]`)
	if len(shown) != 1 {
		t.Fatalf("two taps make %d absences", len(shown))
	}
	away := w.tech.Get(place).Attr(`a[href^="/away/"]`, "href")
	bad := w.tech.Post(place+"/away", "from", dayFrom(t, 12), "to", dayFrom(t, 14), "why", "a wedding").Wants(http.StatusUnprocessableEntity)
	if bad.Text("#f-from-fault") == "" || bad.Attr("#f-why", "value") != "a wedding" {
		t.Errorf("the overlap is not said, or what was typed is lost: %q", bad.Text("main"))
	}
	bad.One(`main a[href="` + away + `"]`)
	// The same change twice is one change, and the second tap no quarrel.
	form = w.tech.Get(away).Wants(http.StatusOK)
	change := []string{"once", form.Attr("input[name=once]", "value"), "version", form.Attr("input[name=version]", "value"), "from", dayFrom(t, 5), "to", dayFrom(t, 13)}
	for range 2 {
		w.tech.Post(away, change...).Wants(http.StatusSeeOther)
	}
	// Called off, it says so, has no sheet, and leaves its days to another.
	for range 2 {
		w.tech.Post(away + "/call-off").Wants(http.StatusSeeOther)
	}
	off := w.tech.Get(away).Wants(http.StatusOK)
	if !strings.Contains(off.Text(".apart"), "Called off") || len(off.Find(`a[href$="/sheet"]`)) != 0 {
		t.Errorf("called off it says %q", off.Text("main"))
	}
	for _, page := range []string{"/sheet", "/packets"} {
		if got := w.tech.Get(away + page).Wants(http.StatusSeeOther).Header.Get("Location"); got != away {
			t.Errorf("%s of what is called off leads to %q", page, got)
		}
	}
	w.tech.Post(place+"/away", "from", dayFrom(t, 12), "to", dayFrom(t, 14)).Wants(http.StatusSeeOther)
	if back := w.tech.Post(away + "/bring-back").Wants(http.StatusUnprocessableEntity); !strings.Contains(back.Text("main"), "Another absence") {
		t.Errorf("brought back onto another: %q", back.Text("main"))
	}
	for _, to := range []string{"/away/x", "/away/0190f7a0-0000-7000-8000-000000000000"} {
		for _, page := range []string{"", "/packets", "/sheet"} {
			w.tech.Get(to + page).Wants(http.StatusNotFound)
		}
		w.tech.Post(to, "from", dayFrom(t, 5), "to", dayFrom(t, 9)).Wants(http.StatusNotFound)
		w.tech.Post(to + "/packets").Wants(http.StatusNotFound)
		w.tech.Post(to + "/call-off").Wants(http.StatusNotFound)
	}
	stranger := w.site.Visitor(t)
	for _, page := range []string{away, away + "/packets", away + "/sheet"} {
		stranger.Get(page).Wants(http.StatusSeeOther)
	}
}

func TestPacketsForTheStandIn(t *testing.T) {
	w := withTank(t)
	if _, err := w.site.DB.Pool().Exec(t.Context(), `UPDATE shop SET phone = '+353 1 555 0100'`); err != nil {
		t.Fatal(err)
	}
	away := awayOf(t, w, dayFrom(t, 10), dayFrom(t, 15))
	field := func(name string) string { return "tank." + w.id + "." + name }
	beside := func(a *webtest.Answer, name string) string { return a.Text(`[id="f-` + field(name) + `-fault"]`) }
	form := w.tech.Get(away + "/packets").Wants(http.StatusOK)
	once, version := form.Attr("input[name=once]", "value"), form.Attr("input[name=version]", "value")
	long := strings.Repeat("n", 10000)
	for _, c := range []struct{ name, value, says string }{
		{"every", "5", "how often"}, {"grams", "a pinch", "not a number"}, {"grams", "-1", ""}, {"grams", "900", ""}, {"grams", "80", ""}, {"grams", "1e99", ""}, {"tried", "soon", "not a date"}, {"tried", dayFrom(t, 1), "future"}, {"note", long, "at most"},
	} {
		pairs := []string{field("every"), "2", field("feeder"), "on", field("note"), "lid sticks", "version", version}
		kept := false
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == field(c.name) {
				pairs[i+1], kept = c.value, true
			}
		}
		if !kept {
			pairs = append(pairs, field(c.name), c.value)
		}
		page := w.tech.Post(away+"/packets", pairs...).Wants(http.StatusUnprocessableEntity)
		if got := beside(page, c.name); got == "" || !strings.Contains(got, c.says) {
			t.Errorf("%s %.20q: beside it stands %q", c.name, c.value, got)
		}
		if c.name != "every" && page.Attr(`[id="f-`+field(c.name)+`"]`, "value") != c.value || c.name != "note" && page.Attr(`[id="f-`+field("note")+`"]`, "value") != "lid sticks" {
			t.Errorf("%s %.20q: what was typed is lost", c.name, c.value)
		}
	}
	// A comma for a point; the second tap is the first; another's tank is nobody's here.
	fields := []string{"once", once, "version", version, field("every"), "2", field("grams"), "0,5", field("note"), scripted, "tank.0190f7a0-0000-7000-8000-000000000000.every", "1"}
	for range 2 {
		w.tech.Post(away+"/packets", fields...).Wants(http.StatusSeeOther)
	}
	sheet := w.tech.Get(away + "/sheet").Wants(http.StatusOK)
	if got := sheet.Text(".away-sheet"); !strings.Contains(got, "A packet every second day, 0.5 g in it") || !strings.Contains(got, "+353 1 555 0100") || !strings.Contains(got, "Bo next door") {
		t.Errorf("the sheet says %q", got)
	}
	if n := len(sheet.Find(".packets li")); n != 3 { // six days, each second one
		t.Errorf("%d packets", n)
	}
	if strings.Contains(string(sheet.Body), "<script>alert") || sheet.Attr(`.away-sheet a[href^="tel:"]`, "href") != "tel:+35315550100" {
		t.Errorf("what was typed runs, or the number cannot be rung")
	}
	// Who opened the form before that sees what it says now, and loses nothing.
	late := w.owner.Post(away+"/packets", "version", version, field("every"), "3", field("note"), "by the door").Wants(http.StatusConflict)
	if got := late.Text(`[id="f-` + field("every") + `-beside"]`); !strings.Contains(got, "2") || late.Attr(`[id="f-`+field("note")+`"]`, "value") != "by the door" {
		t.Errorf("the second editor sees %q", got)
	}
	w.owner.Post(away+"/packets", "version", late.Attr("input[name=version]", "value"), field("every"), "3").Wants(http.StatusSeeOther)
	// A feeder or no food, not both.
	version = w.tech.Get(away+"/packets").Attr("input[name=version]", "value")
	if page := w.tech.Post(away+"/packets", "version", version, field("every"), "0", field("feeder"), "on").Wants(http.StatusUnprocessableEntity); beside(page, "feeder") == "" {
		t.Error("a feeder that feeds nothing is taken")
	}
	w.tech.Post(away+"/packets", "version", version, field("feeder"), "on").Wants(http.StatusSeeOther)
	if got := w.tech.Get(away + "/sheet").Text(".no-print"); !strings.Contains(got, "has not been tried") {
		t.Errorf("the shop is not warned: %q", got)
	}
	// No number at all: the shop is told, and the sheet names no empty one.
	if _, err := w.site.DB.Pool().Exec(t.Context(), `UPDATE shop SET phone = ''`); err != nil {
		t.Fatal(err)
	}
	sheet = w.tech.Get(away + "/sheet").Wants(http.StatusOK)
	if !strings.Contains(sheet.Text(".no-print"), "no telephone number") || len(sheet.Find(`.away-sheet a[href^="tel:"]`)) != 0 {
		t.Error("a sheet without a number says nothing of it")
	}
}

// awayOf notes an absence at the tank's site and returns its page.
func awayOf(t *testing.T, w tanked, from, to string) string {
	t.Helper()
	w.tech.Post("/sites/"+w.place+"/away", "from", from, "to", to, "stand_in", "Bo next door").Wants(http.StatusSeeOther)
	return w.tech.Get("/sites/"+w.place).Attr(`a[href^="/away/"]`, "href")
}

// Keeping apart: what is refused stands beside its field, the second tap is the
// first, and whoever writes a pinned line meanwhile is no quarrel.
func TestKeepingApartWithBadDays(t *testing.T) {
	w := withTank(t)
	path := w.path + "/apart"
	for _, c := range []struct{ since, until, field, says string }{
		{"", "", "since", "Since when?"},
		{"", dayFrom(t, 9), "since", "since when"},
		{dayFrom(t, 1), "", "since", "future"},
		{dayFrom(t, -9), dayFrom(t, -10), "until", "before it begins"},
		{dayFrom(t, -9), dayFrom(t, -1), "until", "is over"},
		{"yesterday", "", "since", "is not a date"},
		{dayFrom(t, 0), "9999-01-01", "until", "cannot be right"},
		{dayFrom(t, 0), strings.Repeat("9", 10000), "until", "is not a date"},
		{scripted, "", "since", "is not a date"},
	} {
		version := w.tech.Get(path).Attr("input[name=version]", "value")
		page := w.tech.Post(path, "version", version, "keep_apart_since", c.since, "keep_apart_until", c.until).Wants(http.StatusUnprocessableEntity)
		if got := page.Text("#f-keep_apart_" + c.field + "-fault"); !strings.Contains(got, c.says) {
			t.Errorf("since %.20q until %.20q: beside %s stands %q", c.since, c.until, c.field, got)
		}
		if page.Attr("#f-keep_apart_since", "value") != c.since || page.Attr("#f-keep_apart_until", "value") != c.until {
			t.Errorf("since %.20q until %.20q: what was typed is lost", c.since, c.until)
		}
		if strings.Contains(string(page.Body), "<script>alert") {
			t.Error("what was typed runs")
		}
	}
	if n := len(w.tech.Get(w.path).Find(".apart")); n != 0 {
		t.Error("refused, and kept apart")
	}
	form := w.tech.Get(path).Wants(http.StatusOK)
	fields := []string{"once", form.Attr("input[name=once]", "value"), "version", form.Attr("input[name=version]", "value"), "keep_apart_since", dayFrom(t, -2), "keep_apart_until", dayFrom(t, 20)}
	for _, name := range []string{"keep_apart_since", "keep_apart_until"} {
		fields = append(fields, "was."+name, form.Attr(`input[name="was.`+name+`"]`, "value"))
	}
	pins := w.owner.Get(w.path + "/pins")
	w.owner.Post(w.path+"/pins", "version", pins.Attr("input[name=version]", "value"), "pinned", "owner hates snails").Wants(http.StatusSeeOther)
	for range 2 {
		w.tech.Post(path, fields...).Wants(http.StatusSeeOther)
	}
	page := w.tech.Get(w.path)
	if !strings.Contains(page.Text(".apart"), "Kept apart since") || !strings.Contains(page.Text(".pins"), "snails") {
		t.Errorf("the tank says %q", page.Text("main"))
	}
	// Somebody else with another day meanwhile is told, with theirs beside.
	late := w.owner.Post(path, "version", form.Attr("input[name=version]", "value"), "keep_apart_since", dayFrom(t, 0), "was.keep_apart_since", "", "was.keep_apart_until", "").Wants(http.StatusConflict)
	if got := late.Text("#f-keep_apart_since-beside"); !strings.Contains(got, dayFrom(t, -2)) {
		t.Errorf("theirs is not shown: %q", got)
	}
	// Over, twice; and taken back.
	first := w.tech.Follow(w.tech.Post(path + "/over").Wants(http.StatusSeeOther))
	undo := first.Attr(".notice form", "action")
	var back []string
	for _, name := range []string{"keep_apart_since", "keep_apart_until", "version"} {
		back = append(back, name, first.Attr(`.notice input[name="`+name+`"]`, "value"))
	}
	w.tech.Post(path + "/over").Wants(http.StatusSeeOther)
	if n := len(w.tech.Get(w.path).Find(".apart")); n != 0 {
		t.Error("over, and still kept apart")
	}
	w.tech.Post(undo, back...).Wants(http.StatusSeeOther)
	if got := w.tech.Get(w.path).Text(".apart"); !strings.Contains(got, "Kept apart since") {
		t.Errorf("undone, and not kept apart: %q", got)
	}
	for _, no := range []string{"/tanks/x/apart", "/tanks/0190f7a0-0000-7000-8000-000000000000/apart"} {
		w.tech.Get(no).Wants(http.StatusNotFound)
		w.tech.Post(no, "keep_apart_since", today(t)).Wants(http.StatusNotFound)
		w.tech.Post(no + "/over").Wants(http.StatusNotFound)
	}
	w.site.Visitor(t).Post(path, "keep_apart_since", today(t)).Wants(http.StatusUnauthorized)
}
