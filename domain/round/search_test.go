package round_test

import (
	"reflect"
	"testing"

	"scaperound/domain/round"
	"scaperound/domain/round/roundtest"
	"scaperound/domain/say"
)

// Whatever the week, a plan of ours holds every rule and its figures are true.
func TestPlansOfMadeUpWeeksHoldEveryRule(t *testing.T) {
	for seed := range uint64(12) {
		size := roundtest.Size{Visits: 40, People: 3, Days: 3, Plain: seed%3 == 2}
		p := roundtest.Week(seed, size)
		plan := round.Solve(p, round.Options{Seed: seed, Iterations: 3000, Threads: 2})
		for _, b := range round.Check(p, plan) {
			t.Errorf("seed %d: %s %s %s: %s", seed, b.Rule, b.Person, b.Stop, say.Render(b.Say, say.MetricUnits))
		}
	}
}

func TestSameSeedSamePlan(t *testing.T) {
	p := roundtest.Week(5, roundtest.Size{Visits: 60, People: 4, Days: 4})
	o := round.Options{Seed: 9, Iterations: 4000, Threads: 2}
	a, b := round.Solve(p, o), round.Solve(p, o)
	if !reflect.DeepEqual(a, b) {
		t.Errorf("two plans: costs %d and %d", a.Cost.Total, b.Cost.Total)
	}
}
