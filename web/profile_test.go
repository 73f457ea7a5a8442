package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/tank"
)

func TestProfilesAreListedShownAndVersioned(t *testing.T) {
	w := withTank(t)
	if got := len(w.tech.Get("/profiles").Wants(http.StatusOK).Find("a.row")); got != len(tank.Standards()) {
		t.Errorf("%d profiles are listed", got)
	}
	path := "/profiles/" + w.seeded.Profiles[tank.Standards()[0].Name]
	w.tech.Get(path).Wants(http.StatusOK)
	w.tech.Get(path + "/edit").Wants(http.StatusForbidden)
	form := w.owner.Get(path + "/edit").Wants(http.StatusOK)
	if got := form.Attr(`input[name="no3.lo"]`, "value"); got != "8" {
		t.Errorf("the form opens with NO3 from %q", got)
	}
	if got := form.Attr(`label[for="f-no3.lo"]`, "class"); got != "band-label" {
		t.Errorf("the field has no label that is heard: %q", got)
	}
	w.owner.Post(path+"/edit", "version", "1", "since", today(t), "no3.lo", "12,5", "no3.hi", "20", "kh.hi", "4").Wants(http.StatusSeeOther)
	page := w.owner.Get(path).Wants(http.StatusOK)
	for _, want := range []string{"NO3: 12.5 to 20 mg/L (was 8 to 20 (harm over 50) mg/L)", "Temperature: no band any more", "Maren Tolland"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("the versions lack %q", want)
		}
	}
	second := w.owner.Post(path+"/edit", "version", "1", "since", today(t), "no3.lo", "9").Wants(http.StatusConflict)
	if got := second.Text(`[id="f-no3.lo-beside"]`); !strings.Contains(got, "12.5") || second.Attr(`input[name="no3.lo"]`, "value") != "9" {
		t.Errorf("theirs is %q", got)
	}
	bad := w.owner.Post(path+"/edit", "version", "2", "since", today(t), "no3.lo", "20", "no3.hi", "10", "ph.hi", "45", "gh.lo", "soft").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"no3.hi", "ph.hi", "gh.lo"} {
		if len(bad.Find(`.faults a[href="#f-`+field+`"]`)) == 0 {
			t.Errorf("%s is not named", field)
		}
	}
	w.owner.Post(path+"/edit", "version", "2", "since", today(t)).Wants(http.StatusUnprocessableEntity)
}

func TestNewProfile(t *testing.T) {
	w := withTank(t)
	made := w.owner.Post("/profiles", "name", "Bar tank", "about", "for the Saltgate bar", "since", today(t), "kh.lo", "3", "kh.hi", "6", "light_need", "40").Wants(http.StatusSeeOther)
	path := made.Header.Get("Location")
	page := w.tech.Get(path).Wants(http.StatusOK)
	if got := page.Text("main"); !strings.Contains(got, "for the Saltgate bar") || !strings.Contains(got, "40 µmol/m²/s") {
		t.Errorf("shown as %q", got)
	}
	taken := w.owner.Post("/profiles", "name", "Bar tank", "since", today(t), "kh.lo", "3").Wants(http.StatusUnprocessableEntity)
	if taken.Text("#f-name-fault") == "" || taken.Attr(`input[name="kh.lo"]`, "value") != "3" {
		t.Error("a name that is taken is said beside it, and the bands stay")
	}
	w.owner.Post("/profiles", "name", "", "since", "", "kh.lo", "x").Wants(http.StatusUnprocessableEntity)
	w.tech.Post("/profiles", "name", "Mine", "since", today(t), "kh.lo", "3").Wants(http.StatusForbidden)
	like := w.owner.Get("/profiles/new?from=" + strings.TrimPrefix(path, "/profiles/")).Wants(http.StatusOK)
	if like.Attr(`input[name="kh.hi"]`, "value") != "6" || like.Attr("#f-name", "value") != "" {
		t.Error("another like it opens with its bands and without its name")
	}
	w.owner.Post(path + "/archive").Wants(http.StatusSeeOther)
	if got := w.owner.Get("/profiles").Text("main"); !strings.Contains(got, "No longer offered") {
		t.Error("an archived profile looks like the rest")
	}
	w.owner.Post(path + "/restore").Wants(http.StatusSeeOther)
}
