package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/web/webtest"
)

// placed is a running house with one customer, added by the owner.
func placed(t *testing.T) (s *webtest.Site, owner, tech *webtest.Visitor, path string) {
	t.Helper()
	s = webtest.Start(t)
	owner, tech = s.SignIn(t, s.Owner), s.SignIn(t, s.Technician)
	a := owner.Post("/customers", "name", "Nora Quill", "kind", "home", "language", "ga", "phones", "+353 1 555 0142\r\n01 555 0143", "email", "nora@example.org", "notes", "rings on <Fridays>").Wants(http.StatusSeeOther)
	return s, owner, tech, a.Header.Get("Location")
}

func TestCustomerIsAddedAndShown(t *testing.T) {
	_, owner, tech, path := placed(t)
	page := tech.Get(path).Wants(http.StatusOK)
	if got := page.Text("h1"); got != "Nora Quill" {
		t.Errorf("heading %q", got)
	}
	if got := page.Attr(`.reach a[href^="tel:"]:first-child`, "href"); got != "tel:+35315550142" {
		t.Errorf("the first number dials %q", got)
	}
	for _, want := range []string{"speaks Irish", "rings on <Fridays>", "01 555 0143", "No site yet"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	for _, dt := range []string{"Last visit", "We told them", "Next date", "Open problem", "Away"} {
		if !strings.Contains(page.Text("dl"), dt) {
			t.Errorf("the phone call asks for %q", dt)
		}
	}
	if len(page.Find(`a[href$="/erase"], form[action$="/archive"]`)) > 0 {
		t.Error("a technician is offered what only the owner may do")
	}
	if len(owner.Get(path).Find(`a[href$="/erase"], form[action$="/archive"]`)) != 2 {
		t.Error("the owner is not offered to archive and to erase")
	}
	list := tech.Get("/customers").Wants(http.StatusOK)
	if got := list.Text(".row-name"); got != "Nora Quill" {
		t.Errorf("listed %q", got)
	}
	if a := owner.Script("POST", "/customers", "name", "Pim Sallow"); a.Status != http.StatusOK {
		t.Errorf("a script gets %d", a.Status)
	}
}

func TestEveryFaultOfACustomerStandsBesideItsField(t *testing.T) {
	_, owner, _, path := placed(t)
	for _, where := range []string{"/customers", path} {
		page := owner.Post(where, "version", "1", "name", "", "kind", "castle", "language", "tlh", "phones", "ask her", "email", "nora at home", "notes", strings.Repeat("n", customer.MaxText+1)).Wants(http.StatusUnprocessableEntity)
		for _, field := range []string{"name", "kind", "language", "phones", "email", "notes"} {
			if page.Text("#f-"+field+"-fault") == "" {
				t.Errorf("%s: nothing stands beside %s", where, field)
			}
		}
		if n := len(page.Find(".faults li")); n != 6 {
			t.Errorf("%s: %d faults are summed up, want 6", where, n)
		}
		if got := page.Attr("#f-email", "value"); got != "nora at home" {
			t.Errorf("%s: what was typed is lost: %q", where, got)
		}
		if got := page.Text("#f-phones"); got != "ask her" {
			t.Errorf("%s: what was typed is lost: %q", where, got)
		}
	}
	var j struct {
		Faults []struct{ Field, Kind string }
	}
	owner.Script("POST", "/customers", "name", "").Wants(http.StatusUnprocessableEntity).JSON(&j)
	if len(j.Faults) != 1 || j.Faults[0].Field != "name" || j.Faults[0].Kind != fault.Missing {
		t.Errorf("a script gets %+v", j)
	}
}

func TestSecondEditorOfACustomerLosesNothing(t *testing.T) {
	_, owner, tech, path := placed(t)
	drawn := tech.Get(path + "/edit").Wants(http.StatusOK)
	version := drawn.Attr("input[name=version]", "value")
	fields := []string{"version", version, "name", "Nora Quill", "kind", "home", "language", "ga", "phones", "+353 1 555 0142\r\n01 555 0143", "email", "nora@example.org", "notes", "has a cat"}
	for _, n := range []string{"name", "kind", "language", "phones", "email", "notes"} {
		fields = append(fields, "was."+n, webtest.AttrOf(drawn.One(`input[name="was.`+n+`"]`), "value"))
	}
	owner.Post(path, "version", version, "name", "Nora Quill", "kind", "home", "language", "ga", "phones", "01 555 0999", "email", "nora@example.org", "notes", "has a dog").Wants(http.StatusSeeOther)

	page := tech.Post(path, fields...).Wants(http.StatusConflict)
	if got := page.Text("#f-notes"); got != "has a cat" {
		t.Errorf("what was typed is lost: %q", got)
	}
	if got := page.Text("#f-notes-beside"); !strings.Contains(got, "has a dog") {
		t.Errorf("beside notes: %q", got)
	}
	// The technician had not touched the numbers: the owner's come through.
	if got := page.Text("#f-phones"); got != "01 555 0999" {
		t.Errorf("numbers %q", got)
	}
	if got := page.Text("#f-phones-beside"); !strings.Contains(got, "0142") {
		t.Errorf("beside the numbers: %q", got)
	}
	if got := page.Attr("input[name=version]", "value"); got != "2" {
		t.Errorf("version %q", got)
	}
	tech.Post(path, "version", "2", "name", "Nora Quill", "kind", "home", "language", "ga", "phones", "01 555 0999", "email", "nora@example.org", "notes", "has a cat and a dog").Wants(http.StatusSeeOther)
	if got := owner.Get(path).Text("main"); !strings.Contains(got, "has a cat and a dog") || !strings.Contains(got, "01 555 0999") {
		t.Error("the settled version is not what is shown")
	}
}

// A fault of the typing does not hide that somebody else was faster.
func TestConflictIsSeenAfterAFaultToo(t *testing.T) {
	_, owner, tech, path := placed(t)
	owner.Post(path, "version", "1", "name", "Nora Quill-Reed").Wants(http.StatusSeeOther)
	page := tech.Post(path, "version", "1", "name", "Nora", "email", "x", "was.name", "Nora Quill").Wants(http.StatusUnprocessableEntity)
	if got := page.Attr("input[name=version]", "value"); got != "1" {
		t.Fatalf("version %q: the next try would go over the owner's change unseen", got)
	}
	page = tech.Post(path, "version", "1", "name", "Nora", "email", "", "was.name", page.Attr(`input[name="was.name"]`, "value")).Wants(http.StatusConflict)
	if got := page.Text("#f-name-beside"); !strings.Contains(got, "Quill-Reed") {
		t.Errorf("beside the name: %q", got)
	}
}

func TestWhatWasSaidIsKept(t *testing.T) {
	_, _, tech, path := placed(t)
	id := tech.Get(path).Attr(`form[action$="/notes"] input[name=id]`, "value")
	for range 2 { // a double tap
		tech.Post(path+"/notes", "id", id, "they_said", "the filter hums", "we_said", "we come on Thursday").Wants(http.StatusSeeOther)
	}
	page := tech.Get(path).Wants(http.StatusOK)
	if n := len(page.Find(".said > li")); n != 1 {
		t.Errorf("kept %d times", n)
	}
	if got := page.Text("dl"); !strings.Contains(got, "we come on Thursday") {
		t.Errorf("what we told them is not at the top: %q", got)
	}
	page = tech.Post(path+"/notes", "id", id, "they_said", "  ", "we_said", "").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-they_said-fault") == "" {
		t.Error("nothing stands beside the field")
	}
	if got := page.Attr(`form[action$="/notes"] input[name=id]`, "value"); got != id {
		t.Errorf("the note changed its id to %q", got)
	}
	if got := tech.Get(path + "/notes").Wants(http.StatusOK).Text("main"); !strings.Contains(got, "the filter hums") {
		t.Errorf("all that was said: %q", got)
	}
}

func TestArchiveIsTheOwnersAndIsUndone(t *testing.T) {
	_, owner, tech, path := placed(t)
	tech.Post(path + "/archive").Wants(http.StatusForbidden)
	a := owner.Post(path + "/archive").Wants(http.StatusSeeOther)
	page := owner.Follow(a).Wants(http.StatusOK)
	undo := page.Attr(`.notice form[action$="/bring-back"]`, "action")
	if got := owner.Get("/customers").Text("main"); strings.Contains(got, "Nora Quill") {
		t.Error("archived and still listed")
	}
	if got := owner.Get("/customers?archived=1").Text(".row-name"); got != "Nora Quill" {
		t.Errorf("among those archived: %q", got)
	}
	owner.Post(undo).Wants(http.StatusSeeOther)
	if got := owner.Get("/customers").Text(".row-name"); got != "Nora Quill" {
		t.Error("undone and not listed")
	}
}

func TestEraseAsksForTheNameOnce(t *testing.T) {
	_, owner, tech, path := placed(t)
	tech.Get(path + "/erase").Wants(http.StatusForbidden)
	tech.Post(path+"/erase", "name", "Nora Quill").Wants(http.StatusForbidden)
	page := owner.Post(path+"/erase", "name", "Nora").Wants(http.StatusUnprocessableEntity)
	if got := page.Attr("#f-name", "value"); got != "Nora" {
		t.Errorf("typed %q", got)
	}
	owner.Post(path+"/erase", "name", " nora  quill ").Wants(http.StatusSeeOther)
	page = owner.Get(path).Wants(http.StatusOK)
	if got := page.Text("main"); strings.Contains(got, "Nora") || strings.Contains(got, "555") || !strings.Contains(got, "erased") {
		t.Errorf("the page says %q", got)
	}
}

func TestSearchPage(t *testing.T) {
	_, _, tech, path := placed(t)
	tech.Post(path+"/sites", "name", "The café with the big wood", "address", "4 Weir Lane").Wants(http.StatusSeeOther)
	for _, q := range []string{"nor", "15550142", "weir", "cafe+big+wood"} {
		if got := tech.Get("/search?q=" + q).Wants(http.StatusOK).Text(".row-name"); got != "Nora Quill\nThe café with the big wood" {
			t.Errorf("%s finds %q", q, got)
		}
	}
	page := tech.Get("/search?q=%3Cscript%3E").Wants(http.StatusOK)
	if got := page.Text(`[role=status]`); !strings.Contains(got, "<script>") {
		t.Errorf("nothing found says %q", got)
	}
	tech.Get("/search?q=%00%ff").Wants(http.StatusOK)
	tech.Get("/search?q=" + strings.Repeat("x", 5000)).Wants(http.StatusOK)
	var j struct {
		Found []struct{ Kind, Name, Href string }
	}
	tech.Script("GET", "/search?q=nora").Wants(http.StatusOK).JSON(&j)
	if len(j.Found) != 2 || j.Found[0].Kind != "customer" || j.Found[0].Href != path {
		t.Errorf("a script gets %+v", j)
	}
}

func TestCustomerPagesOfNobody(t *testing.T) {
	s, owner, _, _ := placed(t)
	for _, path := range []string{"/customers/x", "/customers/0190f7a0-0000-7000-8000-000000000000/edit", "/sites/x", "/sites/x/access", "/keys/x", "/away/x"} {
		owner.Get(path).Wants(http.StatusNotFound)
		s.Visitor(t).Get(path).Wants(http.StatusSeeOther)
	}
	for _, path := range []string{"/customers?page=0", "/customers?page=999", "/customers?sort=x;y&page=-1", "/sites?sort=%27"} {
		owner.Get(path).Wants(http.StatusOK)
	}
}
