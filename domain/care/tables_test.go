package care_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strconv"
	"strings"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

func TestRulesDescribeThemselves(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range care.Rules() {
		if seen[r.ID] {
			t.Errorf("rule %s is there twice", r.ID)
		}
		seen[r.ID] = true
		if r.Title == "" || r.Why == "" || r.Source == "" || r.System == "" || !strings.Contains("ABC", r.Evidence) || len(r.Evidence) != 1 {
			t.Errorf("rule %s does not say its title, why, source, system and evidence", r.ID)
		}
	}
}

func TestActionsHaveWords(t *testing.T) {
	for _, a := range care.Actions() {
		if _, ok := say.WordFor("action." + a.ID); !ok {
			t.Errorf("the action %s has no words", a.ID)
		}
		for _, b := range a.Bring {
			if _, ok := say.WordFor("bring." + b); !ok {
				t.Errorf("%s: %s has no word", a.ID, b)
			}
		}
		for _, c := range a.Caution {
			if _, ok := say.WordFor("caution." + c); !ok {
				t.Errorf("%s: the caution %s has no words", a.ID, c)
			}
		}
	}
	for _, item := range visit.LeaveItems {
		if _, ok := say.WordFor("leave." + item); !ok {
			t.Errorf("the leave list's %s has no words", item)
		}
	}
	for _, k := range visit.WorkKinds {
		if k != visit.Dose && !say.Has("done."+string(k)) {
			t.Errorf("the work %s has no sentence", k)
		}
	}
}

// TestSentencesExist reads the package's own source: every id and every word
// that a rule hands over must be in the catalogue.
func TestSentencesExist(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(node ast.Node) bool {
			lit, ok := node.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			s, _ := strconv.Unquote(lit.Value)
			for _, prefix := range []string{"find.", "why.", "plan.", "refused.", "recipe.", "due.", "task.", "top.", "next.", "do.", "finding."} {
				if !strings.HasPrefix(s, prefix) || strings.HasSuffix(s, ".") {
					continue
				}
				n++
				if !say.Has(s) {
					t.Errorf("%s: the catalogue lacks %q", f.Name(), s)
				}
			}
			return true
		})
	}
	if n < 150 {
		t.Errorf("only %d sentences were found: this test looks in the wrong place", n)
	}
}

// Findings, tasks and reasons of the corpus are rendered whole: no argument may
// be missing.
func TestNothingIsLeftUnsaid(t *testing.T) {
	whole := func(id string, s say.Sentence) {
		if s.ID == "" {
			return
		}
		text := say.Render(s, say.MetricUnits)
		if strings.ContainsAny(text, "{}") || strings.Contains(text, "…") || text == s.ID {
			t.Errorf("%s: %s reads %q", id, s.ID, text)
		}
	}
	for _, c := range corpus(t) {
		a := c.assess(t)
		whole(c.ID, a.Top)
		whole(c.ID, a.Next.Say)
		for _, f := range a.Findings {
			if f.Say.ID == "" {
				t.Errorf("%s: %s says nothing", c.ID, f.Rule)
			}
			whole(c.ID, f.Say)
			for _, e := range append(f.For, f.Against...) {
				whole(c.ID, e.Say)
			}
		}
		for _, k := range a.Causes {
			if _, ok := say.WordFor("cause." + k.ID); !ok {
				t.Errorf("the cause %s has no words", k.ID)
			}
			for _, e := range append(k.For, k.Against...) {
				whole(c.ID, e.Say)
			}
		}
		for _, x := range a.Tasks {
			if x.Say.ID == "" {
				t.Errorf("%s: %s has no words", c.ID, x.Action)
			}
			whole(c.ID, x.Say)
			for _, m := range x.Amount {
				if _, ok := say.WordFor(m.What); !ok {
					t.Errorf("%s: %s has no word for %s", c.ID, x.Action, m.What)
				}
			}
			if len(x.Why) == 0 || x.Why[0].Rule == "" || x.Why[0].Source == "" {
				t.Errorf("%s: %s cannot say why", c.ID, x.Action)
			}
		}
		for _, r := range a.Refused {
			whole(c.ID, r.Why)
		}
		for _, l := range append(a.Customer, a.Donts...) {
			whole(c.ID, l.Say)
		}
		for _, x := range a.Next.Tests {
			whole(c.ID, x.Why)
		}
		for _, s := range a.Recipe.Steps {
			whole(c.ID, s)
		}
		for _, s := range a.Systems {
			whole(c.ID, s.Say)
		}
		for _, s := range a.Trace {
			whole(c.ID, s.Say)
		}
	}
}
