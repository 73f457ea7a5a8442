package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/tank"
)

// What cannot be a band is said beside its field, and the rest of the form stays.
func TestBadBandsAreSaidBesideTheirField(t *testing.T) {
	w := withTank(t)
	path := "/profiles/" + w.seeded.Profiles[tank.Standards()[0].Name]
	for _, c := range []struct{ field, value, says string }{
		{"no3.hi", "5", "“To” lies below “From”"},
		{"no3.hard_lo", "30", ""},
		{"no3.lo", "low", "is not a number"},
		{"no3.lo", scripted, "is not a number"},
		{"no3.lo", strings.Repeat("9", 10000), ""},
		{"no3.lo", "-1", ""},
		{"no3.lo", "1e308", ""},
		{"no3.lo", "NaN", "is not a number"},
		{"no3.lo", "Inf", "is not a number"},
		{"no3.lo", "1,250", ""},
		{"no3.lo", "10 °C", ""},
		{"ph.hi", "45", ""},
		{"temp.hi", "400", ""},
		{"light_need", "9999999", ""},
		{"since", "31.12.2026", "is not a date"},
		{"since", "9999-01-01", "cannot be right"},
	} {
		fields := map[string]string{"version": "1", "since": today(t), "no3.lo": "12,5", "no3.hi": "20", "kh.hi": "4"}
		if c.field == "no3.hard_lo" {
			fields["no3.lo"] = "8"
		}
		fields[c.field] = c.value
		var pairs []string
		for name, v := range fields {
			pairs = append(pairs, name, v)
		}
		page := w.owner.Post(path+"/edit", pairs...).Wants(http.StatusUnprocessableEntity)
		if len(page.Find(`.faults a[href^="#f-`+strings.Split(c.field, ".")[0]+`"]`)) == 0 {
			t.Errorf("%s %.20q: nothing leads to it: %q", c.field, c.value, page.Text(".faults"))
		}
		if got := page.Text(".faults"); !strings.Contains(got, c.says) || len(got) > 1000 {
			t.Errorf("%s %.20q: said is %.300q", c.field, c.value, got)
		}
		for name, v := range fields {
			if name == "version" {
				continue
			}
			if got := page.Attr(`[name="`+name+`"]`, "value"); got != v {
				t.Errorf("%s %.20q: %s is lost: %.20q", c.field, c.value, name, got)
			}
		}
		if strings.Contains(string(page.Body), "<script>alert") {
			t.Error("what was typed runs")
		}
	}
	for _, no := range []string{"/profiles/x", "/profiles/0190f7a0-0000-7000-8000-000000000000"} {
		w.owner.Get(no + "/edit").Wants(http.StatusNotFound)
		w.owner.Post(no+"/edit", "since", today(t), "no3.lo", "9").Wants(http.StatusNotFound)
		w.owner.Post(no+"/name", "name", "x").Wants(http.StatusNotFound)
		w.owner.Post(no + "/archive").Wants(http.StatusNotFound)
	}
	for _, post := range []string{"/edit", "/name", "/archive", "/restore"} {
		w.tech.Post(path+post, "version", "1", "since", today(t), "name", "Mine", "no3.lo", "9").Wants(http.StatusForbidden)
		w.site.Visitor(t).Post(path+post, "name", "Mine").Wants(http.StatusUnauthorized)
	}
	for field, value := range map[string]string{"name": strings.Repeat("n", 10000), "about": strings.Repeat("a", 10000)} {
		page := w.owner.Post(path+"/name", "name", "Own", field, value).Wants(http.StatusUnprocessableEntity)
		if page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("nothing stands beside %s", field)
		}
	}
	if got := w.owner.Get(path).Text("main"); strings.Contains(got, "12.5") {
		t.Error("what was refused is kept by half")
	}
}

// Bands that tanks are held to are looked at before they are kept; what is kept
// is what was looked at, and once.
func TestBandsAreKeptAsLookedAtAndOnce(t *testing.T) {
	w := withTank(t)
	profile := w.seeded.Profiles[tank.Standards()[0].Name]
	path := "/profiles/" + profile
	w.owner.Post(w.path+"/profile", "since", today(t), "profile", profile).Wants(http.StatusSeeOther)
	typed := []string{"version", "1", "since", today(t), "no3.lo", "12,5", "no3.hi", "20"}
	look := w.owner.Post(path+"/edit", typed...).Wants(http.StatusOK)
	if got := look.Text("main"); !strings.Contains(got, "NO3: 12.5 to 20 mg/L (was 8 to 20") || !strings.Contains(got, "Window tank") {
		t.Errorf("what would change is told as %q", got)
	}
	keep := append([]string{"once", look.Attr("input[name=once]", "value"), "seen", look.Attr("button[name=seen]", "value")}, typed...)
	for _, odd := range []string{"-7", "99999999999999999999", "x"} {
		w.owner.Post(path+"/edit", append([]string{"from", odd}, typed...)...).Wants(http.StatusOK)
	}
	// Altered after it was looked at: looked at again.
	other := append([]string{"gh.lo", "3"}, keep...)
	if page := w.owner.Post(path+"/edit", other...).Wants(http.StatusOK); !strings.Contains(page.Text("h1"), "What would change") {
		t.Errorf("kept unseen: %q", page.Text("h1"))
	}
	if page := w.owner.Post(path+"/edit", append([]string{"do", "back"}, typed...)...).Wants(http.StatusOK); page.Attr(`input[name="no3.lo"]`, "value") != "12,5" {
		t.Error("going back loses what was typed")
	}
	for range 2 {
		w.owner.Post(path+"/edit", keep...).Wants(http.StatusSeeOther)
	}
	rec, err := w.site.DB.ProfileRecord(t.Context(), profile)
	if err != nil || len(rec.Versions) != 2 {
		t.Errorf("two taps make %d versions, %v", len(rec.Versions), err)
	}
}
