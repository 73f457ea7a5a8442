package care_test

import (
	"slices"
	"testing"

	"scaperound/domain/care"
)

func TestEveryRuleHasItsFourCases(t *testing.T) {
	for _, r := range care.Rules() {
		if !slices.ContainsFunc(ruleCases, func(c ruleCase) bool { return c.rule == r.ID }) {
			t.Errorf("rule %s has no cases", r.ID)
		}
	}
	for _, c := range ruleCases {
		i := slices.IndexFunc(care.Rules(), func(r care.Rule) bool { return r.ID == c.rule })
		if i < 0 {
			t.Errorf("there is no rule %s", c.rule)
			continue
		}
		for _, x := range []struct {
			name, want string
			on         care.Case
		}{{"hit", "hit", c.hit}, {"quiet", "fine", c.quiet}, {"not applicable", "not_applicable", c.none}, {"not measured", "not_measured", c.unknown}} {
			if x.want == "not_applicable" && (c.rule == "electric" || c.rule == "leak" || c.rule == "quiet_signs" || c.rule == "far_out") {
				continue // these can be anywhere, at any time
			}
			a := care.Assess(x.on)
			if got := answer(a, c.rule); got != x.want {
				t.Errorf("%s, %s: answered %s, want %s (causes %v)", c.rule, x.name, got, x.want, a.Causes)
			}
		}
		a := care.Assess(c.hit)
		got := actionsOf(a)
		for _, want := range c.brings {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %s is not on the list %v", c.rule, want, got)
			}
		}
		for _, no := range c.never {
			if slices.Contains(got, no) {
				t.Errorf("%s: %s is on the list %v", c.rule, no, got)
			}
		}
	}
}
