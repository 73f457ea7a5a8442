package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

func TestOwnerInvitesATechnician(t *testing.T) {
	site := webtest.Start(t)
	owner := site.SignIn(t, site.Owner)
	handed := owner.Post("/people/invite", "name", "Bea Okafor-Lind", "role", "technician").Wants(http.StatusCreated)
	if got := handed.Header.Get("Cache-Control"); got != "no-store" {
		t.Errorf("the address is kept: %q", got)
	}
	address := handed.Text(".one-time")
	path, ours := strings.CutPrefix(address, site.URL)
	if !ours {
		t.Fatalf("address %q", address)
	}
	if text := owner.Get("/people").Text(".rows"); !strings.Contains(text, "Bea Okafor-Lind until") {
		t.Errorf("not in the list: %s", text)
	}

	bea := site.Visitor(t)
	page := bea.Get(path).Wants(http.StatusOK)
	if got := page.Header.Get("Referrer-Policy"); got != "no-referrer" {
		t.Errorf("the address leaks: %q", got)
	}
	if got := page.Attr("input[name=name]", "value"); got != "Bea Okafor-Lind" {
		t.Errorf("name = %q", got)
	}
	wrong := bea.Post(path, "name", "Bea", "email", "Ilo@fernweir.example", "password", "rain on saltgate").Wants(http.StatusUnprocessableEntity)
	if got := wrong.Text("#f-email-fault"); !strings.Contains(got, "already") {
		t.Errorf("taken address: %q", got)
	}
	if got := wrong.Attr("input[name=name]", "value"); got != "Bea" {
		t.Errorf("what was typed is lost: %q", got)
	}
	in := bea.Post(path, "name", "Bea Okafor-Lind", "email", "bea@fernweir.example", "password", "rain on saltgate").Wants(http.StatusSeeOther)
	bea.Follow(in).Wants(http.StatusOK)
	bea.Get("/people").Wants(http.StatusForbidden) // as invited: a technician

	// Used once, dead for everybody.
	site.Visitor(t).Get(path).Wants(http.StatusNotFound)
	site.Visitor(t).Post(path, "name", "Mallory", "email", "m@fernweir.example", "password", "rain on saltgate").Wants(http.StatusNotFound)
}

func TestWithdrawnInviteIsDead(t *testing.T) {
	site := webtest.Start(t)
	owner := site.SignIn(t, site.Owner)
	path := strings.TrimPrefix(owner.Post("/people/invite", "name", "Bea", "role", "technician").Text(".one-time"), site.URL)
	withdraw := owner.Get("/people").Attr(`form[action$="/withdraw"]`, "action")
	owner.Post(withdraw).Wants(http.StatusSeeOther)
	site.Visitor(t).Get(path).Wants(http.StatusNotFound)
	owner.Post(withdraw).Wants(http.StatusNotFound)
}

func TestInviteNamesEveryFault(t *testing.T) {
	site := webtest.Start(t)
	owner := site.SignIn(t, site.Owner)
	page := owner.Post("/people/invite", "name", " ", "role", "boss").Wants(http.StatusUnprocessableEntity)
	for _, f := range []string{"name", "role"} {
		if page.Text("#f-"+f+"-fault") == "" {
			t.Errorf("nothing beside %s", f)
		}
	}
}

func TestNewPasswordByOneTimeAddress(t *testing.T) {
	site := webtest.Start(t)
	owner, ilo := site.SignIn(t, site.Owner), site.SignIn(t, site.Technician)
	first := strings.TrimPrefix(owner.Post("/people/"+site.Technician.ID+"/password").Wants(http.StatusCreated).Text(".one-time"), site.URL)
	second := strings.TrimPrefix(owner.Post("/people/"+site.Technician.ID+"/password").Text(".one-time"), site.URL)
	site.Visitor(t).Get(first).Wants(http.StatusNotFound) // the newer one counts
	ilo.Get("/").Wants(http.StatusOK)                     // nothing has happened yet

	v := site.Visitor(t)
	v.Post(second, "password", "short").Wants(http.StatusUnprocessableEntity)
	v.Post(second, "password", "heron at the weir").Wants(http.StatusSeeOther)
	v.Get("/").Wants(http.StatusOK)
	ilo.Get("/").Wants(http.StatusSeeOther) // signed out elsewhere
	site.Visitor(t).Post("/sign-in", "email", site.Technician.Email, "password", webtest.Password).Wants(http.StatusUnauthorized)
	site.Visitor(t).Post("/sign-in", "email", site.Technician.Email, "password", "heron at the weir").Wants(http.StatusSeeOther)
}

func TestDeactivationIsUndone(t *testing.T) {
	site := webtest.Start(t)
	owner, ilo := site.SignIn(t, site.Owner), site.SignIn(t, site.Technician)
	gone := owner.Follow(owner.Post("/people/" + site.Technician.ID + "/deactivate").Wants(http.StatusSeeOther))
	ilo.Get("/").Wants(http.StatusSeeOther)
	undo := gone.Attr(".notice form", "action")
	back := owner.Follow(owner.Post(undo).Wants(http.StatusSeeOther))
	back.One(".notice")
	if n := owner.Get("/people").Find(".notice"); len(n) != 0 {
		t.Error("the notice is shown twice")
	}
	site.SignIn(t, site.Technician).Get("/").Wants(http.StatusOK)
}

func TestTheLastOwnerStays(t *testing.T) {
	site := webtest.Start(t)
	owner := site.SignIn(t, site.Owner)
	owner.Post("/people/" + site.Owner.ID + "/deactivate").Wants(http.StatusUnprocessableEntity)
	page := owner.Post("/people/"+site.Owner.ID, "version", "1", "name", "Maren Tolland", "email", "maren@fernweir.example", "role", "technician").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-role-fault") == "" {
		t.Error("nothing beside the role")
	}
	owner.Get("/people").Wants(http.StatusOK) // still an owner, still signed in
}

func TestTwoPeopleWhoEditOneSeeEachOther(t *testing.T) {
	site := webtest.Start(t)
	owner := site.SignIn(t, site.Owner)
	path := "/people/" + site.Technician.ID
	seen := owner.Get(path).Attr("input[name=version]", "value")
	owner.Post(path, "version", seen, "name", "Ilo V.", "email", "ilo@fernweir.example", "role", "technician").Wants(http.StatusSeeOther)
	late := owner.Post(path, "version", seen, "name", "Ilo Vance the younger", "email", "ilo@fernweir.example", "role", "technician").Wants(http.StatusConflict)
	if got := late.Attr("input[name=name]", "value"); got != "Ilo Vance the younger" {
		t.Errorf("what was typed is lost: %q", got)
	}
	// Looked at and sent again, it goes through.
	owner.Post(path, "version", late.Attr("input[name=version]", "value"), "name", "Ilo Vance the younger", "email", "ilo@fernweir.example", "role", "technician").Wants(http.StatusSeeOther)
}

func TestOwnPasswordAndDetails(t *testing.T) {
	site := webtest.Start(t)
	v, elsewhere := site.SignIn(t, site.Technician), site.SignIn(t, site.Technician)
	page := v.Post("/me/password", "old", "wrong password", "password", "short").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-password-fault") == "" {
		t.Error("nothing beside the new password")
	}
	page = v.Post("/me/password", "old", "wrong password", "password", "kingfisher at dusk").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-old-fault") == "" {
		t.Error("nothing beside the old password")
	}
	if strings.Contains(string(page.Body), "kingfisher") {
		t.Error("the new password is in the page")
	}
	done := v.Post("/me/password", "old", webtest.Password, "password", "kingfisher at dusk").Wants(http.StatusSeeOther)
	v.Follow(done).Wants(http.StatusOK)
	elsewhere.Get("/me").Wants(http.StatusSeeOther)

	version := v.Get("/me").Attr("input[name=version]", "value")
	page = v.Post("/me", "version", version, "name", "", "phone", "call me", "units", "imperial").Wants(http.StatusUnprocessableEntity)
	for _, f := range []string{"name", "phone", "units"} {
		if page.Text("#f-"+f+"-fault") == "" {
			t.Errorf("nothing beside %s", f)
		}
	}
	v.Post("/me", "version", version, "name", "Ilo Vance", "phone", "+353 1 555 0107", "units", "us").Wants(http.StatusSeeOther)
	if got := v.Get("/me").Attr("input[name=units][checked]", "value"); got != "us" {
		t.Errorf("units = %q", got)
	}
}
