package view_test

import (
	"regexp"
	"strings"
	"testing"

	"scaperound/domain/fault"
	"scaperound/web/view"
	"scaperound/web/webtest"
)

// What the content policy ignores or refuses must not be in a page at all.
var forbidden = regexp.MustCompile(`(?i)\sstyle=|<style|\son[a-z]+=|javascript:|<script(>|[^>]*>[^<])`)

func TestPagesObeyTheContentPolicy(t *testing.T) {
	for _, s := range storybook() {
		if found := forbidden.Find(render(t, s)); found != nil {
			t.Errorf("%s holds %q", s.name, found)
		}
	}
}

func TestEveryFieldHasALabelAndKeepsWhatWasTyped(t *testing.T) {
	for _, s := range storybook() {
		page := webtest.Parse(t, render(t, s))
		for _, n := range page.Find("input:not([type=hidden]), select, textarea") {
			id := webtest.AttrOf(n, "id")
			labelled := webtest.AttrOf(n, "aria-label") != "" || id != "" && len(page.Find(`label[for="`+id+`"]`)) == 1
			for p := n.Parent; p != nil && !labelled; p = p.Parent {
				labelled = p.Data == "label"
			}
			if !labelled {
				t.Errorf("%s: %s %s has no label", s.name, n.Data, webtest.AttrOf(n, "name"))
			}
		}
		ids := map[string]bool{}
		for _, n := range page.Find("[id]") {
			if id := webtest.AttrOf(n, "id"); ids[id] {
				t.Errorf("%s: two elements are #%s", s.name, id)
			} else {
				ids[id] = true
			}
		}
		for _, n := range page.Find("[aria-describedby]") {
			for id := range strings.FieldsSeq(webtest.AttrOf(n, "aria-describedby")) {
				if !ids[id] {
					t.Errorf("%s: described by #%s, which is not there", s.name, id)
				}
			}
		}
	}
}

func TestFaultsStandBesideTheirFieldsAndInTheSummary(t *testing.T) {
	var page *webtest.Answer
	for _, s := range storybook() {
		if s.name == "faults" {
			page = webtest.Parse(t, render(t, s))
		}
	}
	if got := page.Text(".faults h2"); got != "5 things need another look" {
		t.Errorf("heading %q", got)
	}
	for _, name := range []string{"name", "litres", "flow", "drops", "leave"} {
		page.One(`.faults a[href="#f-` + name + `"]`)
		page.One(`[id="f-` + name + `"]`)
		if page.Text(`[id="f-`+name+`-fault"]`) == "" {
			t.Errorf("%s: nothing beside the field", name)
		}
	}
	if got := page.Attr(`input[name="confirm"]`, "value"); got != "litres=1250" {
		t.Errorf("confirm = %q", got)
	}
	for _, carried := range []string{"1250", "litres=1250"} {
		f := view.Form{Faults: fault.Fields{{Name: "litres", Kind: fault.Unlikely, Text: "Is 1250 right?", Confirm: carried}}}
		asked := webtest.Parse(t, render(t, story{"confirm", titled("x", ""), view.Number(f.Field("litres", "Changed"))}))
		if got := asked.Attr(`input[name="confirm"]`, "value"); got != "litres=1250" {
			t.Errorf("a fault that carries %q posts %q", carried, got)
		}
	}
	if got := page.Attr(`input[name="litres"]`, "value"); got != "1,250" {
		t.Errorf("typed = %q", got)
	}
	if got := page.Attr(`input[name="flow"][checked]`, "value"); got != "little" {
		t.Errorf("chosen = %q", got)
	}
	if got := page.Text("textarea"); got != "Two lines of text" {
		t.Errorf("note = %q", got)
	}
}

func TestStripSaysInWordsWhatItDraws(t *testing.T) {
	page := webtest.Parse(t, render(t, storybook()[0]))
	var said []string
	for _, n := range page.Find("svg.strip-drawing") {
		said = append(said, webtest.AttrOf(n, "aria-label"))
	}
	for _, want := range []string{
		"NO3, 9 mg/L, could be 7 to 11, in band, target 6 to 12, last visit 11",
		"TAN, 1.00 mg/L, could be 0.50 to 1.50, high, today, target up to 0.05, last visit 0.00",
		"Fe, no reading, not due, target 0.05 to 0.20, last visit 0.10",
	} {
		if !strings.Contains(strings.Join(said, "\n"), want) {
			t.Errorf("nothing says %q in:\n%s", want, strings.Join(said, "\n"))
		}
	}
	if got := page.Text(".strip-word"); !strings.Contains(got, "retest") {
		t.Errorf("words %q", got)
	}
}

func TestStripStaysInsideItsDrawing(t *testing.T) {
	for name, s := range map[string]view.Strip{
		"nothing at all":  {Label: "NO3"},
		"one number":      {Label: "NO3", Value: view.Figure(0), State: view.NotJudged},
		"an empty band":   {Label: "NO3", Lo: view.Figure(5), Hi: view.Figure(5), Value: view.Figure(5), State: view.InBand},
		"far off":         {Label: "NO3", Lo: view.Figure(5), Hi: view.Figure(10), Value: view.Figure(1e6), State: view.High},
		"an open whisker": {Label: "NO3", Hi: view.Figure(10), Value: view.Figure(40), From: view.Figure(30), State: view.High},
	} {
		page := webtest.Parse(t, render(t, story{name, titled("x", ""), view.BandStrip(s)}))
		svg := page.One("svg.strip-drawing")
		for n := range svg.Descendants() {
			for _, a := range n.Attr {
				if strings.Contains(a.Val, "NaN") || strings.Contains(a.Val, "Inf") {
					t.Errorf("%s: %s=%q", name, a.Key, a.Val)
				}
			}
		}
	}
}

func TestStripWritesTheShopsDecimalMark(t *testing.T) {
	s := view.Strip{Label: "PO4", Unit: "mg/L", Value: view.Figure(0.25), Lo: view.Figure(0.5), Hi: view.Figure(1.5), Digits: 2, Comma: true, State: view.Low}
	page := webtest.Parse(t, render(t, story{"comma", titled("x", ""), view.BandStrip(s)}))
	if got := page.Text(".strip-value"); got != "0,25 mg/L" {
		t.Errorf("value %q", got)
	}
	if got := page.Text(".strip-below"); got != "target 0,50 to 1,50" {
		t.Errorf("below %q", got)
	}
}
