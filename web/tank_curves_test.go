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
