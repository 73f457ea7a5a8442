package round_test

import (
	"reflect"
	"testing"

	"scaperound/domain/round"
	"scaperound/domain/round/roundtest"
	"scaperound/domain/say"
)

// large is a week that is searched in shares by two chains.
func large(seed uint64) round.Problem {
	return roundtest.Week(seed, roundtest.Size{Visits: 170, People: 5, Days: 5})
}

func TestSameSeedSamePlanOfALargeWeek(t *testing.T) {
	p, o := large(2), round.Options{Seed: 4, Iterations: 9000, Threads: 2}
	a, b := round.Solve(p, o), round.Solve(p, o)
	if !reflect.DeepEqual(a, b) {
		t.Errorf("two plans: costs %d and %d", a.Cost.Total, b.Cost.Total)
	}
}

func TestAPlanFoundInSharesHoldsEveryRuleAndLosesNoVisit(t *testing.T) {
	for seed := range uint64(3) {
		p := large(seed)
		plan := round.Solve(p, round.Options{Seed: seed, Iterations: 9000, Threads: 2})
		for _, b := range round.Check(p, plan) {
			t.Errorf("seed %d: %s %s %s: %s", seed, b.Rule, b.Person, b.Stop, say.Render(b.Say, say.MetricUnits))
		}
		people := map[string]int{}
		for _, r := range plan.Routes {
			for _, v := range r.Visits {
				people[v.Stop]++
			}
		}
		for _, u := range plan.Unplaced {
			if people[u.Stop] > 0 {
				t.Errorf("seed %d: %s has a place and has none", seed, u.Stop)
			}
			people[u.Stop] = -1
		}
		for _, s := range p.Stops {
			if n := people[s.ID]; n != max(s.People, 1) && n != -1 {
				t.Errorf("seed %d: %s, for %d, is with %d people", seed, s.ID, s.People, n)
			}
		}
	}
}
