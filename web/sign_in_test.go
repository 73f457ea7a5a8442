package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

func TestSignInLeadsToThePageAskedFor(t *testing.T) {
	site := webtest.Start(t)
	v := site.Visitor(t)

	asked := v.Get("/people?page=2").Wants(http.StatusSeeOther)
	page := v.Follow(asked).Wants(http.StatusOK)
	if got := page.Attr("input[name=next]", "value"); got != "/people?page=2" {
		t.Errorf("next = %q", got)
	}
	if got := page.Header.Get("Cache-Control"); got != "no-store" {
		t.Errorf("the sign-in page is kept: %q", got)
	}
	in := v.Post("/sign-in", "email", "  MAREN@fernweir.example ", "password", webtest.Password, "next", "/people?page=2").Wants(http.StatusSeeOther)
	if got := in.Header.Get("Location"); got != "/people?page=2" {
		t.Errorf("leads to %q", got)
	}
	people := v.Follow(in).Wants(http.StatusOK)
	if got := people.Text("h1"); got != "People" {
		t.Errorf("heading %q", got)
	}
	if got := people.Text(".who a"); got != "Maren Tolland" {
		t.Errorf("who = %q", got)
	}
}

func TestEveryFailedSignInLooksTheSame(t *testing.T) {
	site := webtest.Start(t)
	if _, err := site.DB.SetActive(t.Context(), site.Owner.ID, site.Technician.ID, false); err != nil {
		t.Fatal(err)
	}
	var first string
	for _, c := range [][2]string{
		{"maren@fernweir.example", "not the password"},
		{"nobody@fernweir.example", webtest.Password},
		{"ilo@fernweir.example", webtest.Password}, // deactivated
	} {
		page := site.Visitor(t).Post("/sign-in", "email", c[0], "password", c[1]).Wants(http.StatusUnauthorized)
		if got := page.Attr("input[name=email]", "value"); got != c[0] {
			t.Errorf("the address typed is lost: %q", got)
		}
		if got := page.Attr("input[name=password]", "value"); got != "" {
			t.Errorf("the password comes back: %q", got)
		}
		text := page.Text(".faults")
		if first == "" {
			first = text
		}
		if text == "" || text != first {
			t.Errorf("%s: %q, want %q", c[0], text, first)
		}
	}
}

func TestSignInNamesEveryEmptyField(t *testing.T) {
	site := webtest.Start(t)
	page := site.Visitor(t).Post("/sign-in", "email", " ", "password", "").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"email", "password"} {
		if page.Attr("#f-"+field, "aria-invalid") != "true" || page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("%s is not marked", field)
		}
		page.One(`.faults a[href="#f-` + field + `"]`)
	}
}

func TestSignInNeverLeadsElsewhere(t *testing.T) {
	site := webtest.Start(t)
	for _, next := range []string{"https://elsewhere.example/", "//elsewhere.example/", `/\elsewhere.example`, "javascript:alert(1)", "/%5c%5celsewhere.example", "people", "/sign-in", "/\tx"} {
		in := site.Visitor(t).Post("/sign-in", "email", "maren@fernweir.example", "password", webtest.Password, "next", next).Wants(http.StatusSeeOther)
		to := in.Header.Get("Location")
		if to != "/" && !strings.HasPrefix(to, "/%5C") && !strings.HasPrefix(to, "/%5c") {
			t.Errorf("next=%q leads to %q", next, to)
		}
	}
}

func TestScriptSignsInAndIsNeverRedirected(t *testing.T) {
	site := webtest.Start(t)
	v := site.Visitor(t)
	var refused struct {
		Error  string
		Faults []struct{ Field string }
	}
	v.Script("GET", "/people").Wants(http.StatusUnauthorized).JSON(&refused)
	if refused.Error != "unauthenticated" {
		t.Errorf("error = %q", refused.Error)
	}
	v.Script("POST", "/sign-in", "email", "", "password", "x").Wants(http.StatusUnprocessableEntity).JSON(&refused)
	if len(refused.Faults) != 1 || refused.Faults[0].Field != "email" {
		t.Errorf("faults = %+v", refused.Faults)
	}
	var in struct{ Staff, Name, Role string }
	v.Script("POST", "/sign-in", "email", site.Technician.Email, "password", webtest.Password).Wants(http.StatusOK).JSON(&in)
	if in.Staff != site.Technician.ID || in.Name != "Ilo Vance" || in.Role != "technician" {
		t.Errorf("signed in as %+v", in)
	}
	v.Script("GET", "/people").Wants(http.StatusForbidden).JSON(&refused)
	in.Staff = ""
	v.Script("GET", "/sign-in").Wants(http.StatusOK).JSON(&in)
	if in.Staff != site.Technician.ID {
		t.Errorf("a script is told that it is %+v", in)
	}
	site.Visitor(t).Script("GET", "/sign-in").Wants(http.StatusUnauthorized)
}

func TestSignOutEndsTheSessionForGood(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Technician)
	stolen := v.Cookies()
	v.Get("/").Wants(http.StatusOK)
	out := v.Post("/sign-out").Wants(http.StatusSeeOther)
	if got := out.Header.Get("Clear-Site-Data"); got != `"cache"` {
		t.Errorf("Clear-Site-Data = %q: drafts must stay, pages must go", got)
	}
	page := v.Follow(out).Wants(http.StatusOK)
	page.One("[data-signed-out]")

	r := site.Visitor(t).Request("GET", "/")
	for _, c := range stolen {
		r.AddCookie(c)
	}
	site.Visitor(t).Do(r).Wants(http.StatusSeeOther)
	v.Post("/sign-out").Wants(http.StatusSeeOther) // nobody there: fine too
}

func TestOneAddressServesOneHost(t *testing.T) {
	site := webtest.Start(t)
	r := site.Visitor(t).Request("GET", "/sign-in")
	r.Host = "other.example"
	site.Visitor(t).Do(r).Wants(http.StatusMisdirectedRequest)
	r = site.Visitor(t).Request("GET", "/healthz")
	r.Host = "other.example"
	site.Visitor(t).Do(r).Wants(http.StatusOK)
}
