package web_test

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"scaperound/web"
	"scaperound/web/webtest"
)

var patternPart = regexp.MustCompile(`\{[^}]+\}|\*$`)

// a key that no row has, and the form of one: what is behind it is "not found"
// for whoever may ask.
const nowhere = "00000000-0000-7000-8000-000000000000"

// TestWhoMayUseWhichRoute asks each route as each of the four, by page and by
// script, with parts that lead to nothing: whoever may not is told so before
// anything is looked up, and whoever may gets any other answer.
func TestWhoMayUseWhichRoute(t *testing.T) {
	site := webtest.Start(t)
	askers := []struct {
		name string
		v    *webtest.Visitor
		may  func(web.Decision) bool
	}{
		{"nobody", site.Visitor(t), func(d web.Decision) bool { return d.Nobody || d.LinkHolder }}, // a link's token decides, not who asks
		{"technician", site.SignIn(t, site.Technician), func(d web.Decision) bool { return d.Technician || d.LinkHolder }},
		{"owner", site.SignIn(t, site.Owner), func(d web.Decision) bool { return d.Owner || d.LinkHolder }},
	}
	table := web.Table()
	if len(table) < 20 {
		t.Fatalf("only %d routes: this test looks in the wrong place", len(table))
	}
	for _, d := range table {
		if d.Undecided {
			t.Errorf("%s %s: nobody has decided who may", d.Method, d.Pattern)
		}
		if d.Method != http.MethodGet && d.LinkHolder && !d.Nobody {
			t.Errorf("%s %s: a link is read-only", d.Method, d.Pattern)
		}
		if d.Pattern == "/sign-out" || d.Pattern == "/sign-in" {
			continue // about who is signed in itself; sign_in_test.go walks them
		}
		path := patternPart.ReplaceAllString(d.Pattern, nowhere)
		for _, a := range askers {
			t.Run(fmt.Sprintf("%s %s as %s", d.Method, d.Pattern, a.name), func(t *testing.T) {
				page := a.v.Do(a.v.Request(d.Method, path))
				script := a.v.Script(d.Method, path)
				toSignIn := page.Status == http.StatusSeeOther && strings.HasPrefix(page.Header.Get("Location"), "/sign-in")
				refused := toSignIn || page.Status == http.StatusUnauthorized || page.Status == http.StatusForbidden
				scriptRefused := script.Status == http.StatusUnauthorized || script.Status == http.StatusForbidden
				if may := a.may(d); refused == may || scriptRefused == may {
					t.Errorf("may is %v, but a page got %d and a script %d", may, page.Status, script.Status)
				}
				if script.Status >= 300 && script.Status < 400 && script.Status != http.StatusNotModified {
					t.Errorf("a script is sent elsewhere: %d", script.Status)
				}
				if page.Status >= 500 || script.Status >= 500 {
					t.Errorf("broke: %d, %d\n%.500s", page.Status, script.Status, site.Log.String())
				}
			})
		}
	}
}

func TestMenuLeadsOnlyToPagesThatExist(t *testing.T) {
	site := webtest.Start(t)
	for _, p := range []struct {
		v    *webtest.Visitor
		role string
	}{{site.SignIn(t, site.Owner), "owner"}, {site.SignIn(t, site.Technician), "technician"}} {
		page := p.v.Get("/").Wants(http.StatusOK)
		links := page.Find(".menu li a")
		if len(links) == 0 {
			t.Fatalf("%s: no menu", p.role)
		}
		for _, l := range links {
			p.v.Get(webtest.AttrOf(l, "href")).Wants(http.StatusOK)
		}
	}
	technician := site.SignIn(t, site.Technician).Get("/")
	if links := technician.Find(`.menu a[href="/shop"]`); len(links) != 0 {
		t.Error("a technician is shown the shop's settings")
	}
}

func TestUnknownAddresses(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	page := v.Get("/nowhere").Wants(http.StatusNotFound)
	page.One("h1")
	page.One(".menu") // somebody signed in is not left without a way on
	v.Script("GET", "/nowhere").Wants(http.StatusNotFound).JSON(&struct{}{})
	if allow := v.Get("/sign-out").Wants(http.StatusMethodNotAllowed).Header.Get("Allow"); allow != "POST" {
		t.Errorf("Allow = %q", allow)
	}
}
