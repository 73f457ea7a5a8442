package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"scaperound/domain/visit"
	"scaperound/store"
)

// readNitrate writes a visit with one reading and a change, some days ago.
func (w tanked) readNitrate(t *testing.T, daysAgo int, mgL string) {
	t.Helper()
	at := time.Now().AddDate(0, 0, -daysAgo).UTC().Format(time.RFC3339)
	w.tech.Post(w.path+"/visits", "visit", store.NewID(), "revision", store.NewID(), "wire", "1", "kind", string(visit.Routine), "performed", at,
		"reading.no3.before", mgL, "unit.no3.before", "mg/L", "work.water_change", "on", "work.water_change.litres", "40").Wants(http.StatusSeeOther)
}

func TestCurvesOfATank(t *testing.T) {
	w := withTank(t)
	empty := w.tech.Get(w.path + "/curves").Wants(http.StatusOK)
	if got := empty.Text(".empty"); !strings.Contains(got, "No reading in this time") {
		t.Errorf("a tank without readings says %q", got)
	}
	w.readNitrate(t, 120, "31")
	w.readNitrate(t, 20, "12")
	w.readNitrate(t, 6, "9")
	page := w.tech.Get(w.path + "/curves").Wants(http.StatusOK)
	if n := len(page.Find("#curve-no3 .curve-point")); n != 2 {
		t.Errorf("a quarter shows %d nitrate readings, want 2", n)
	}
	if got := page.Text("#curve-no3 table"); !strings.Contains(got, "9.0 mg/L") || !strings.Contains(got, "12.0 mg/L") || !strings.Contains(got, "Water change, 40 L") || strings.Contains(got, "31") {
		t.Errorf("the table says %q", got)
	}
	if n := len(w.tech.Get(w.path + "/curves?weeks=26").Wants(http.StatusOK).Find("#curve-no3 .curve-point")); n != 3 {
		t.Errorf("half a year shows %d readings, want 3", n)
	}
	w.tech.Get(w.path + "/curves?weeks=soon").Wants(http.StatusOK)
	w.tech.Get("/tanks/nothing/curves").Wants(http.StatusNotFound)
}

// After some visits the page says what is ahead, as a range; before, that it
// cannot say.
func TestCurvesSayWhatIsAhead(t *testing.T) {
	w := withTank(t)
	w.readNitrate(t, 62, "14")
	if got := w.tech.Get(w.path + "/curves").Wants(http.StatusOK); !strings.Contains(got.Text("main"), "Not enough to say") || len(got.Find(".curve-fan")) != 0 {
		t.Errorf("after one visit it says %q", got.Text(".says"))
	}
	for i, no3 := range []string{"13", "14", "12", "13"} {
		w.readNitrate(t, 48-14*i, no3)
	}
	page := w.tech.Get(w.path + "/curves").Wants(http.StatusOK)
	if len(page.Find("#curve-no3 .curve-fan")) != 1 || len(page.Find("#curve-no3 .curve-future")) < 7 {
		t.Error("no fan is drawn after five visits")
	}
	fan := func(query string) string {
		p := w.tech.Get(w.path + "/curves?" + query).Wants(http.StatusOK)
		return p.Attr("#curve-no3 .curve-middle", "d") + p.Text(".if-said")
	}
	if half := fan("change=50&every=7"); half == fan("") || !strings.Contains(half, "a change of 50 % at each visit and a visit every 7 days. Nothing has been changed") {
		t.Errorf("another course is drawn as %q", half)
	}
	if got := w.tech.Get(w.path + "/curves?change=150&every=half").Wants(http.StatusOK); len(got.Find(".fault")) < 2 || got.Attr("#f-change", "value") != "150" {
		t.Error("a change of 150 % and an interval of half are not said to be wrong, or what was typed is lost")
	}
	if got := page.Text("#curve-no3 figcaption"); !strings.Contains(got, "At the next visit") || !strings.Contains(got, "likely") {
		t.Errorf("of nitrate it says %q", got)
	}
}

// Where little is known the page says what is missing, and draws no fan.
func TestCurvesSayWhyNothingIsAhead(t *testing.T) {
	says := func(w tanked, want string) {
		t.Helper()
		page := w.tech.Get(w.path + "/curves").Wants(http.StatusOK)
		if got := page.Text("main"); !strings.Contains(got, want) || len(page.Find(".curve-fan")) != 0 {
			t.Errorf("want %q: %q", want, got)
		}
	}
	w := withTank(t)
	says(w, "this one has had none")
	w.readNitrate(t, 450, "14")
	says(w, "this one has had 1 visit.")
	for i := range 4 {
		w.readNitrate(t, 436-14*i, "13")
	}
	says(w, "is too long ago")
	for i := range 4 {
		w.readNitrate(t, 62-14*i, "13")
	}
	if page := w.tech.Get(w.path + "/curves").Wants(http.StatusOK); len(page.Find(".curve-fan")) == 0 {
		t.Errorf("four visits after a year without: %q", page.Text(".says"))
	}
	card := w.tech.Get(w.path + "/card").Wants(http.StatusOK)
	w.tech.Post(w.path+"/card", "version", card.Attr("input[name=version]", "value"), "name", "Window tank", "state", "running", "since", today(t), "set_up_on", today(t)).Wants(http.StatusSeeOther)
	says(w, "was set up anew on")
}
