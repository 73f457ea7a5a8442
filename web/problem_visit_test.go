package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// While a problem is open the visit begins with what is believed, and each sheet
// says what the customer is told of it, whoever came.
func TestAnOpenProblemIsOneStoryOnVisitAndSheet(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	const told = "The dark tufts come from unsteady CO2; we are on it until Christmas."
	problem := v.Post("/tanks/"+p.tank+"/problems", "title", "Black tufts", "belief", "CO2 swings at dawn", "next", "new diffuser", "told", told).Wants(http.StatusSeeOther).Header.Get("Location")
	v.Post(problem+"/tries", "tried", "opened the valve", "result", "no change").Wants(http.StatusSeeOther)
	form := v.Get("/tanks/" + p.tank + "/visits/new").Wants(http.StatusOK).Text("#visit .open-problem")
	for _, want := range []string{"Black tufts", "CO2 swings at dawn", "opened the valve: no change", "new diffuser", told} {
		if !strings.Contains(form, want) {
			t.Errorf("the visit's form lacks %q: %q", want, form)
		}
	}
	if n := len(v.Get("/tanks/" + p.other + "/visits/new").Find(".open-problem")); n != 0 {
		t.Error("another tank tells of it")
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	if got := v.Get("/visits/" + id(1)).Text(".open-problem"); !strings.Contains(got, "CO2 swings at dawn") {
		t.Errorf("the visit says %q", got)
	}
	sheet := v.Get("/visits/" + id(1) + "/sheet").Wants(http.StatusOK)
	if got := sheet.Text(".care-note"); !strings.Contains(got, told) || !strings.Contains(got, "Leave the lid open.") || strings.Index(got, told) > strings.Index(got, "Leave the lid") {
		t.Errorf("the sheet's note is %q", got)
	}
	if got := sheet.Text(".care"); strings.Contains(got, "at dawn") || strings.Contains(got, "new diffuser") {
		t.Errorf("the customer reads what is believed inside: %q", got)
	}
	v.Post("/visits/"+id(1)+"/sheet", "evaluation", sheet.Attr("input[name=evaluation]", "value")).Wants(http.StatusSeeOther)
	if got := v.Get("/visits/" + id(1) + "/sheet/print").Wants(http.StatusOK).Text(".care-note"); !strings.Contains(got, told) {
		t.Errorf("the given sheet's note is %q", got)
	}
	v.Post(problem + "/close").Wants(http.StatusSeeOther)
	if page := v.Get("/visits/" + id(1) + "/sheet"); len(page.Find(".open-problem")) != 0 || strings.Contains(page.Text(".care-note"), told) {
		t.Error("closed, and the next sheet still tells of it")
	}
	if bad := v.Post("/tanks/"+p.tank+"/problems", "title", "x", "told", strings.Repeat("y", 301)).Wants(http.StatusUnprocessableEntity); bad.Text("#f-told-fault") == "" {
		t.Error("a text too long for a sheet is taken")
	}
}

// Each record of a bad moment: nothing typed, too much, the second tap, and a
// tank that is not there.
func TestRecordsOfTroubleHoldOnToWhatWasTyped(t *testing.T) {
	w := withTank(t)
	long := strings.Repeat("x", 5000)
	incidents := "/sites/" + w.place + "/incidents"
	for _, c := range []struct {
		path, list, rows string
		good             []string
		tooLong          string
		noTank           string
	}{
		{w.path + "/deaths", w.path + "/deaths", ".said > li", []string{"day", today(t), "at", "00:00", "group", "snails", "n", "1"}, "words", "/tanks/0190f7a0-0000-7000-8000-000000000000/deaths"},
		{w.path + "/stopped", w.path + "/stopped", ".said > li", []string{"stood", "under_2h", "timers", "on"}, "words", "/tanks/0190f7a0-0000-7000-8000-000000000000/stopped"},
		{w.path + "/problems", w.path + "/problems", ".rows > li", []string{"title", "Black tufts"}, "belief", "/tanks/0190f7a0-0000-7000-8000-000000000000/problems"},
		{incidents, incidents, ".said > li", []string{"kind", "leak", "what", "a drip"}, "done", "/sites/0190f7a0-0000-7000-8000-000000000000/incidents"},
		{w.path + "/trouble/cloudy", w.path + "/trouble", `.rows a[href^="/trouble/"]`, []string{"q.green", "yes"}, "words", "/tanks/0190f7a0-0000-7000-8000-000000000000/trouble/cloudy"},
	} {
		if !strings.Contains(c.path, "/trouble/") { // a call may be kept with nothing said
			w.tech.Post(c.path).Wants(http.StatusUnprocessableEntity)
		}
		bad := w.tech.Post(c.path, append([]string{c.tooLong, long}, c.good...)...).Wants(http.StatusUnprocessableEntity)
		if bad.Text("#f-"+c.tooLong+"-fault") == "" || bad.Text("#f-"+c.tooLong) != long {
			t.Errorf("%s: nothing stands beside what is too long, or it is lost", c.path)
		}
		twice := append([]string{"once", bad.Attr("input[name=once]", "value")}, c.good...)
		first := w.tech.Post(c.path, twice...).Wants(http.StatusSeeOther).Header.Get("Location")
		if again := w.tech.Post(c.path, twice...).Wants(http.StatusSeeOther).Header.Get("Location"); again != first {
			t.Errorf("%s: the second tap leads to %q, not %q", c.path, again, first)
		}
		if n := len(w.tech.Get(c.list).Find(c.rows)); n != 1 {
			t.Errorf("%s: two taps make %d records", c.path, n)
		}
		w.tech.Post(c.noTank, c.good...).Wants(http.StatusNotFound)
	}
}

// rawInside is what no person should read: a key, an instant, a word of the
// program's, an optional value as it is stored.
var rawInside = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f]{4}-|\dT\d\d:\d\d:|[a-z]+_[a-z]+|\bOk\b (yes|no)`)

// What changed is told by the names of things, and by no raw id.
func TestChangesNameThings(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/problems", "title", "Black tufts").Wants(http.StatusSeeOther)
	w.tech.Post("/sites/"+w.place+"/incidents", "kind", "leak", "what", "a drip", "tank", w.id).Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/deaths", "day", today(t), "at", "00:00", "group", "snails", "n", "1").Wants(http.StatusSeeOther)
	w.owner.Post(w.path+"/agreement", "since", today(t), "every", "14", "minutes", "45", "preferred", w.site.Technician.ID).Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/apart", "version", w.tech.Get(w.path+"/apart").Attr("input[name=version]", "value"), "keep_apart_since", today(t)).Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/stopped", "stood", "over_4h").Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/trouble/gasping", "q.all", "yes").Wants(http.StatusSeeOther)
	awayOf(t, w, today(t), today(t))
	page := w.owner.Get("/changes").Wants(http.StatusOK)
	got := page.Text(".said")
	for _, want := range []string{"Black tufts, Window tank", "Window tank"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not named: %q", want, got)
		}
	}
	if raw := rawInside.FindAllString(got, -1); len(raw) > 0 {
		t.Errorf("shown raw: %q", raw)
	}
	page.One(`.said a[href="` + w.path + `/deaths"]`)
	page.One(`.said a[href="/sites/` + w.place + `/incidents"]`)
}
