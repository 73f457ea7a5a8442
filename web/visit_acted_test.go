package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

// listOf is the list of a preview as the page's script posts it.
func (p pond) listOf(t *testing.T, v *webtest.Visitor, form []string) (list, hash string) {
	t.Helper()
	type line struct{ ID, Text string }
	var said struct {
		Hash                             string
		Now, Pour, Findings, Visit, Next []line
		Customer                         []string
	}
	v.Script("POST", "/tanks/"+p.tank+"/preview", form...).Wants(http.StatusOK).JSON(&said)
	rows := []string{"list"}
	for i, part := range [][]line{said.Now, said.Pour, said.Findings, said.Visit, said.Next} {
		for _, l := range part {
			rows = append(rows, []string{"now", "pour", "findings", "visit", "next"}[i]+"\t"+l.ID+"\t"+l.Text)
		}
	}
	for _, text := range said.Customer {
		rows = append(rows, "customer\t\t"+text)
	}
	return strings.Join(rows, "\n"), said.Hash
}

// actedSection is the part of a visit's page that tells of another list, or nothing.
func actedSection(page *webtest.Answer) string {
	for _, s := range page.Find("section") {
		if text := webtest.TextOf(s); strings.Contains(text, "Not as the tablet said") || strings.Contains(text, "Not as the form said") {
			return text
		}
	}
	return ""
}

func TestAListActedOnIsHeldAgainstTheOneKept(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	change := []string{"look.algae", "trouble", "sign.blue_green_film", "seen", "reading.no3.before", "60", "unit.no3.before", "mg/L"}
	list, hash := p.listOf(t, v, p.visitForm(change...))
	rows := strings.Split(list, "\n")
	if len(rows) < 4 {
		t.Fatalf("the example's list is too short: %q", rows)
	}
	visit := func(n int, base string, acted ...string) *webtest.Answer {
		t.Helper()
		form := append(append([]string{}, change...), "revision", id(n), "base", base)
		v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm(append(form, acted...)...)...).Wants(http.StatusCreated)
		return v.Get("/visits/" + id(1)).Wants(http.StatusOK)
	}
	// The same list, and one of another hash that reads the same, are told of nowhere.
	for i, h := range []string{hash, "0011223344556677"} {
		page := visit(2+i, []string{"", id(2)}[i], "acted.hash", h, "acted.lines", list, "acted.by", "tablet")
		if text := page.Text("main"); actedSection(page) != "" || strings.Contains(text, "somewhat different judgement") {
			t.Errorf("the same list counts as another: %s", text)
		}
	}
	// A line less, a figure that differs, and one line more that nobody here says.
	gone := strings.Split(rows[1], "\t")[2]
	other := slices.Clone(rows[2:])
	at := slices.IndexFunc(other, func(row string) bool { return strings.HasPrefix(row, "pour\t") && strings.Contains(row, "48") })
	if at < 0 {
		t.Fatalf("no line of the example says how much water: %q", rows)
	}
	cells := strings.Split(other[at], "\t")
	other[at] = cells[0] + "\t\t" + strings.Replace(cells[2], "48", "97", 1)
	list = strings.Join(append(append([]string{"list"}, other...), "now\todd:\t<script>alert(1)</script> & more"), "\n")
	page := visit(4, id(3), "acted.hash", "0011223344556677", "acted.lines", list, "acted.by", "tablet", "acted.record", "2026-11-14T16:10:00Z", "acted.rules", "of old", "acted.late", "1")
	said := actedSection(page)
	for _, want := range []string{
		"in 3 places", "on Sat 14 Nov 2026, 16:10", "by rules of version of old", "Something more was typed",
		gone, strings.Replace(cells[2], "48", "97", 1), cells[2], "<script>alert(1)</script> & more",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the page does not say %q: %s", want, said)
		}
	}
	if n := len(page.Find("main script")); n != 0 {
		t.Errorf("what was posted became %d scripts", n)
	}
	// A list that cannot be read is told of in one sentence.
	page = visit(5, id(4), "acted.hash", "0011223344556677", "acted.lines", "list\n"+strings.Repeat("x", 30000))
	if text := page.Text("main"); actedSection(page) != "" || !strings.Contains(text, "somewhat different judgement") {
		t.Errorf("a list that is too long: %s", text)
	}
	// Who changes the visit does not inherit the list of who wrote it down.
	if n := len(v.Get("/visits/" + id(1) + "/edit").Find(`[name="acted.lines"], [name="acted.hash"]`)); n != 0 {
		t.Errorf("the form of a change has %d fields of an older list", n)
	}
}

// What came into the tank's record after the tablet had taken it along is named.
func TestWhyATabletsListDiffered(t *testing.T) {
	p := newPond(t)
	o := p.SignIn(t, p.Owner)
	o.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("visit", id(51), "revision", id(52), "staff", p.Owner.ID, "performed", "2026-11-24T13:00", "drawn", "")...).Wants(http.StatusCreated)
	v := p.SignIn(t, p.Technician)
	acted := []string{"acted.hash", "0011223344556677", "acted.lines", "list\nnow\todd:\tAir on.", "acted.by", "tablet"}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm(append(acted, "acted.record", "2026-11-24T14:40:00Z")...)...).Wants(http.StatusCreated)
	said := actedSection(v.Get("/visits/" + id(1)))
	if want := "A visit by " + p.Owner.Name + " on Tue 24 Nov 2026, 13:00"; !strings.Contains(said, want) {
		t.Errorf("the page does not say %q: %s", want, said)
	}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm(append(acted, "revision", id(3), "base", id(2), "acted.record", "2026-11-24T15:00:00Z")...)...).Wants(http.StatusCreated)
	if said := actedSection(v.Get("/visits/" + id(1))); strings.Contains(said, "A visit by") || !strings.Contains(said, "Nothing that came into the tank’s record") {
		t.Errorf("a record that was taken along later: %s", said)
	}
}
