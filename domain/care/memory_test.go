package care_test

import (
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
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

// A reading that hangs in the balance by the next visit is asked for before one
// that is settled, though both were read on the same days.
func TestTestsAreDueWhereTheForecastIsOpen(t *testing.T) {
	days := func(no3, gh float64) []opt {
		var out []opt
		for i := 6; i > 0; i-- {
			out = append(out, ago(14*i, "no3", no3, "gh", gh))
		}
		return append(out, rd("no3", no3), rd("gh", gh))
	}
	weightOf := func(c care.Case, kind q.Kind) int {
		for i, x := range care.Assess(c).Next.Tests {
			if x.Kind == kind {
				return i
			}
		}
		return 99
	}
	base := []opt{plants("stems"), doses(q.Nitrate, 100), band(q.GH, 1, 40)}
	open := made(append(append(base, band(q.Nitrate, 15, 21)), days(18, 7)...)...)
	settled := made(append(append(base, band(q.Nitrate, 0.1, 200)), days(18, 7)...)...)
	if a, b := weightOf(open, q.Nitrate), weightOf(settled, q.Nitrate); a >= b {
		t.Errorf("nitrate stands at place %d where its band is open, %d where it is settled", a, b)
	}
}

// A tank that was set up anew starts without what the one before it taught.
func TestTheTankBeforeIsForgotten(t *testing.T) {
	c := twoYears()
	c.Setup.SetUpOn = q.Some(c.Now.Day - 30)
	if got := care.Assess(c).Memory; got.Visits != 3 { // 28 and 14 days ago, and now
		t.Errorf("%d visits are remembered of a tank of thirty days", got.Visits)
	}
}
