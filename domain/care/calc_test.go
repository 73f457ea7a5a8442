package care_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"scaperound/domain/calc"
	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// noCalculation is what a finding names where it holds a bare reading against a
// limit.
const noCalculation = "reading"

// Every calculation that a rule names is one of the registry, and can be done again
// there with the finding's own numbers: the registry comes to what the rule found.
func TestFindingsCanBeWorkedOutAgain(t *testing.T) {
	seen := map[string]bool{}
	check := func(where string, c *care.Calc) {
		if c == nil || c.Name == noCalculation {
			return
		}
		seen[c.Name] = true
		d, err := calc.Find(c.Name)
		if err != nil {
			t.Errorf("%s: %v", where, err)
			return
		}
		raw := map[string]calc.Value{}
		for _, a := range c.Args {
			raw[a.Name] = calc.Num(a.Value)
		}
		a, err := d.Run(raw)
		if err != nil {
			t.Errorf("%s: %s cannot be done again with %v: %v", where, c.Name, c.Args, err)
			return
		}
		same := func(x float64) bool { return math.Abs(x-c.Value) <= 1e-6*math.Abs(c.Value)+1e-12 }
		found := same(a.Value)
		for _, s := range a.Steps {
			found = found || s.Also && same(s.Value)
		}
		if !found {
			t.Errorf("%s: the rule found %v by %s of %v, the registry %v", where, c.Value, c.Name, c.Args, a.Value)
		}
	}
	for _, c := range corpus(t) {
		a := c.assess(t)
		for _, f := range a.Findings {
			check(c.ID+" "+f.Rule, f.Calc)
		}
		for _, task := range a.Tasks {
			for _, why := range task.Why {
				check(c.ID+" "+task.Action, why.Calc)
			}
		}
	}
	// What the corpus lacks: a cylinder that emptied into a room, and a step of
	// conductivity.
	for _, c := range []care.Case{
		made(co2, setup(func(s *tank.Setup) { s.CO2.Cylinder, s.Room.Volume = q.Some(q.Kilogram(2)), q.Some(q.CubicMetre(30)) }), rd("cylinder_missing", 1.5)),
		made(animals("bee_shrimp"), ago(28, "ec", 200.0), ago(14, "ec", 204.0), rd("ec", 320.0)),
	} {
		for _, f := range care.Assess(c).Findings {
			check(f.Rule, f.Calc)
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`Calc\{\s*Name:\s*"([^"]+)"`)
	n := 0
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range named.FindAllSubmatch(text, -1) {
			n++
			if name := string(m[1]); name != noCalculation && !seen[name] {
				t.Errorf("%s: no case here leads to a finding by %s", f, name)
			}
		}
	}
	if n < 8 {
		t.Errorf("only %d calculations are named: the test looks in the wrong place", n)
	}
}
