package care

import (
	"testing"

	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// The tables name signs and facts by text; a name that nobody sets would be
// evidence that never speaks.
func TestEvidenceNamesExist(t *testing.T) {
	known := func(what string) bool {
		if _, ok := visit.SignOf(what); ok {
			return true
		}
		return say.Has("fact." + what)
	}
	ids := map[string]bool{}
	for _, c := range causes {
		if ids[c.ID] {
			t.Errorf("the cause %s is there twice", c.ID)
		}
		ids[c.ID] = true
		if _, ok := say.WordFor("cause." + c.ID); !ok {
			t.Errorf("the cause %s has no words", c.ID)
		}
		if c.Prior <= 0 || c.Prior > 0.5 {
			t.Errorf("%s: prior %g", c.ID, c.Prior)
		}
		for _, l := range c.Rows {
			if !known(l.What) {
				t.Errorf("%s: %s is neither a sign nor a fact with words", c.ID, l.What)
			}
			if l.Ratio <= 0 || l.Ratio > 100 {
				t.Errorf("%s: %s has the ratio %g", c.ID, l.What, l.Ratio)
			}
		}
	}
	for what := range evidenceGroup {
		if !known(what) && !troublingFacts[what] {
			t.Errorf("the group of %s holds nothing that is known", what)
		}
	}
	for what := range reassuring {
		if !known(what) {
			t.Errorf("%s reassures and is not known", what)
		}
	}
	groups := map[string]bool{}
	for _, s := range visit.Signs() {
		groups[groupOf(s.ID)] = true
	}
	for g := range troubling {
		if !groups[g] {
			t.Errorf("no sign is in the group %s", g)
		}
	}
}

func TestARuleThatBreaksIsOneFinding(t *testing.T) {
	broken := Rule{Meta: Meta{ID: "broken", Title: "Broken"}, Applies: func(*View) Answer { return Judged }, Decide: func(*View) []Finding { panic("x") }}
	fs, trace := ask(See(Case{}), []Rule{broken, ruleElectric})
	if len(fs) != 1 || fs[0].State != Internal || fs[0].Rule != "broken" || fs[0].Audience != ForShop {
		t.Errorf("findings %+v", fs)
	}
	if len(trace) != 2 {
		t.Errorf("the rules after it were not asked: %+v", trace)
	}
}
