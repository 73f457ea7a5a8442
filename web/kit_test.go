package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/tank"
)

func TestKitsLotsAndChecks(t *testing.T) {
	w := withTank(t)
	if got := len(w.tech.Get("/kits").Wants(http.StatusOK).Find("a.row")); got != len(tank.StandardKits()) {
		t.Errorf("%d kits are listed", got)
	}
	made := w.owner.Post("/kits", "name", "Our NO3 card", "measures", "no3", "type", "classes", "classes", "0 5 10 25 50", "sample", "10").Wants(http.StatusSeeOther)
	path := made.Header.Get("Location")
	w.tech.Post("/kits", "name", "Mine", "measures", "no3", "type", "meter").Wants(http.StatusForbidden)
	w.tech.Post(path+"/lots", "lot", "B-204", "opened", "2025-01-10", "expires", "2025-06-01", "keeper", w.site.Technician.ID).Wants(http.StatusSeeOther)
	page := w.tech.Get(path).Wants(http.StatusOK)
	for _, want := range []string{"0 · 5 · 10 · 25 · 50 mg/L", "Lot B-204", "Ilo Vance", "has expired"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	check := page.Attr("details form", "action")
	lot := strings.Split(strings.TrimPrefix(check, "/lots/"), "/")[0]
	w.tech.Post(check, "check_"+lot+"_against", "20", "check_"+lot+"_read", "22,5", "check_"+lot+"_calibrated", "1").Wants(http.StatusSeeOther)
	if got := w.tech.Get(path).Text("table"); !strings.Contains(got, "+2.5") || !strings.Contains(got, "yes") {
		t.Errorf("the check is shown as %q", got)
	}
	bad := w.tech.Post(check, "check_"+lot+"_against", "lots").Wants(http.StatusUnprocessableEntity)
	if len(bad.Find(".faults a")) != 2 || len(bad.Find("details[open]")) != 1 {
		t.Error("both faults are named and the form is open")
	}
	w.tech.Post("/lots/"+lot+"/retire", "kit", strings.TrimPrefix(path, "/kits/")).Wants(http.StatusSeeOther)
	s, _, _ := w.now(t)
	for _, k := range s.Kits {
		if k.Lot == lot {
			t.Error("a lot that is used up is still offered")
		}
	}
	w.tech.Post("/lots/"+lot+"/bring-back", "kit", strings.TrimPrefix(path, "/kits/")).Wants(http.StatusSeeOther)
	badLot := w.tech.Post(path+"/lots", "lot", "", "opened", "2025-06-02", "expires", "2025-06-01").Wants(http.StatusUnprocessableEntity)
	if badLot.Text("#f-lot-fault") == "" || badLot.Text("#f-expires-fault") == "" {
		t.Error("both faults of a lot are named")
	}
}

func TestNewKitNamesEveryFault(t *testing.T) {
	w := withTank(t)
	for field, pairs := range map[string][]string{
		"name": {"measures", "kh", "type", "drops", "step", "1"}, "measures": {"name", "x", "measures", "luck", "type", "meter"},
		"type": {"name", "x", "measures", "kh"}, "step": {"name", "x", "measures", "kh", "type", "drops"},
		"classes": {"name", "x", "measures", "no3", "type", "classes", "classes", "0 5 5"}, "unit": {"name", "x", "measures", "kh", "type", "meter", "unit", "C"},
	} {
		page := w.owner.Post("/kits", pairs...).Wants(http.StatusUnprocessableEntity)
		if page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("%v: nothing stands beside %s", pairs, field)
		}
	}
}

func TestSourceWaterOverTime(t *testing.T) {
	w := withTank(t)
	made := w.tech.Post("/sources", "name", "Shop tap", "kind", "tap", "since", "2025-01-01", "source_kh", "8", "disinfectant", "chlorine", "source_total_chlorine", "0.3").Wants(http.StatusSeeOther)
	path := made.Header.Get("Location")
	form := w.tech.Get(path + "/edit").Wants(http.StatusOK)
	if form.Attr("#f-source_kh", "value") != "8" || form.Attr("#f-source_total_chlorine", "value") != "0.3" {
		t.Error("the form does not open with the newest values")
	}
	w.tech.Post(path+"/edit", "version", "1", "since", "2025-06-01", "source_kh", "10", "source_kh.unit", "dKH", "disinfectant", "chloramine", "softener", "1").Wants(http.StatusSeeOther)
	page := w.tech.Get(path).Wants(http.StatusOK)
	for _, want := range []string{"10.0 °dKH", "8.0 °dKH", "Chloramine", "behind a softener", "Ilo Vance"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	second := w.owner.Post(path+"/edit", "version", "1", "since", "2025-06-01", "source_kh", "9").Wants(http.StatusConflict)
	if got := second.Text("#f-source_kh-beside"); !strings.Contains(got, "10") {
		t.Errorf("theirs is not shown: %q", got)
	}
	bad := w.tech.Post("/sources", "name", "", "kind", "rain", "since", "2025-01-01", "source_ph", "45", "source_kh", "much").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"name", "kind", "source_ph", "source_kh"} {
		if bad.Text("#f-"+field+"-fault") == "" {
			t.Errorf("nothing stands beside %s", field)
		}
	}
	hard := w.tech.Post("/sources", "name", "Odd", "kind", "well", "since", "2025-01-01", "source_gh", "2", "source_ca", "100", "source_mg", "10").Wants(http.StatusUnprocessableEntity)
	// (100/40.078 + 10/24.305)/0.178326 = 16.3 °d, worked by hand.
	if got := hard.Text("#f-source_gh-fault"); !strings.Contains(got, "16.3") {
		t.Errorf("a GH that its own ions contradict: %q", got)
	}
}
