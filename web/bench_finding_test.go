package web_test

import (
	"bufio"
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/wire"
	"scaperound/web"
)

// Every calculation behind a finding of the made-up visits leads to a page of the
// bench that takes all of its numbers and answers, whoever reads it.
func TestFindingsLeadToTheBench(t *testing.T) {
	p := newPond(t)
	tech := p.SignIn(t, p.Technician)
	f, err := os.Open("../domain/care/testdata/corpus.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	asked := map[string]bool{}
	for lines.Scan() {
		var c struct{ Visit json.RawMessage }
		if err := json.Unmarshal(lines.Bytes(), &c); err != nil {
			t.Fatal(err)
		}
		in, _, err := wire.DecodeCase(c.Visit)
		if err != nil {
			t.Fatal(err)
		}
		for _, finding := range care.Assess(in).Findings {
			if finding.Calc == nil || finding.Calc.Name == "reading" {
				continue
			}
			for _, u := range []say.Units{say.MetricUnits, {System: say.US, Decimal: '.'}, {System: say.Metric, Decimal: ','}} {
				href := web.CalcHref(finding.Calc, u)
				if href == "" {
					t.Errorf("%s: %s leads nowhere", finding.Rule, finding.Calc.Name)
					continue
				}
				asked[finding.Calc.Name] = true
				page := tech.Get(href).Wants(http.StatusOK)
				if page.Text(".bench-figure") == "" || len(page.Find(".fault")) > 0 {
					t.Errorf("%s: %s does not answer: %s", finding.Rule, href, page.Text(".bench-answer"))
				}
			}
		}
	}
	if len(asked) < 5 {
		t.Errorf("only %v were asked for", asked)
	}
	if href := web.CalcHref(&care.Calc{Name: "reading"}, say.MetricUnits); href != "" {
		t.Errorf("a bare reading leads to %s", href)
	}
}

// The visit's page shows the way there beside the arithmetic.
func TestVisitShowsTheWayToTheBench(t *testing.T) {
	p := newPond(t)
	tech := p.SignIn(t, p.Technician)
	tech.Post("/tanks/"+p.tank+"/stock", "day", "2026-10-01", "group", "tetras", "n", "12", "reason", "we_added").Wants(http.StatusSeeOther)
	kept := tech.Post("/tanks/"+p.tank+"/visits", p.visitForm("reading.tan.before", "1.5", "unit.tan.before", "mg/L", "reading.ph.before", "8", "reading.temp.before", "26", "unit.temp.before", "C")...).Wants(http.StatusSeeOther)
	page := tech.Follow(kept).Wants(http.StatusOK)
	links := page.Find(`a.bench-link[href^="/bench/NH3_N_mg_L?"]`)
	if len(links) == 0 {
		t.Fatalf("no way to the bench: %s", page.Text("main"))
	}
	for _, a := range links[0].Attr {
		if a.Key == "href" {
			if got := tech.Get(a.Val).Wants(http.StatusOK).Text(".bench-said"); !strings.Contains(got, "TAN 1.5 mg/L N at pH 8 and 26 °C") {
				t.Errorf("the bench says %q", got)
			}
		}
	}
}
