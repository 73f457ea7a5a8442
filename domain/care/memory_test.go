package care_test

import (
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/forecast"
)

// What is carried from visit to visit is what folding the whole history gives,
// as long as the tank stays what it is.
func TestMemoryCarriedIsMemoryFolded(t *testing.T) {
	c := twoYears()
	learnt := learntBefore(c)
	carried := c
	carried.Memory = learnt[len(c.History)]
	a, b := care.Assess(carried).Memory, care.Assess(c).Memory
	if a != b || a.Visits != len(c.History)+1 || a.Day != c.Now.Day {
		t.Errorf("carried %d visits to %s, folded %d visits to %s", a.Visits, a.Day, b.Visits, b.Day)
	}
}

// A state of another day, or of none, is not taken for the tank's.
func TestMemoryThatDoesNotFitIsNotUsed(t *testing.T) {
	c := twoYears()
	want := care.Assess(c).Memory
	for name, s := range map[string]forecast.State{"another day": learntBefore(c)[7], "another version": {Version: forecast.Version + 1, Visits: 5}} {
		c.Memory = s
		if got := care.Assess(c).Memory; got != want {
			t.Errorf("%s: %d visits to %s, want %d to %s", name, got.Visits, got.Day, want.Visits, want.Day)
		}
	}
}
