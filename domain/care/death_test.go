package care_test

import (
	"slices"
	"strings"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/visit"
)

// The living come first, and the old water is kept before any of it is changed;
// what nobody has read is named, and the body is chilled, not frozen.
func TestAfterADeath(t *testing.T) {
	a := care.Assess(made(animals("tetras"), signs("dead_animal_found_recently"), rd("no2", 1.0), rd("temp", 25)))
	sample, at := taskOf(a, "keep_water_sample")
	_, change := taskOf(a, "wc_50_repeat")
	if at < 0 || change < at || !slices.Contains(sample.Cautions, "body_chilled") {
		t.Errorf("the list: %v, cautions %v", actionsOf(a), sample.Cautions)
	}
	test, _ := taskOf(a, "test_nh3_no2")
	if got := text(test.Say); !strings.Contains(got, "read: ammonia, pH, KH and chlorine") {
		t.Errorf("to read: %q", got)
	}
	if _, i := taskOf(a, "test_source"); i < 0 {
		t.Error("nobody tests the new water")
	}

	changed := record(func(r *visit.Record) { r.Work = []visit.Work{{Kind: visit.WaterChange}} })
	sample, _ = taskOf(care.Assess(made(animals("tetras"), signs("dead_animal_found_recently"), changed)), "keep_water_sample")
	if got := text(sample.Say); !strings.Contains(got, "after the change") {
		t.Errorf("the change was made: %q", got)
	}

	again, _ := taskOf(care.Assess(made(animals("tetras"), signs("dead_animal_found_recently"), rd("tan", 0.0), rd("no2", 0.0))), "test_nh3_no2")
	if again.When != care.WhenOnDay || again.Day.V != caseDay+1 {
		t.Errorf("both were read and are read again: %s %v", again.When, again.Day)
	}
}

func TestRoutineCleaningWaitsAfterADeath(t *testing.T) {
	due := func(c *care.Case) {
		ago(90)(c)
		c.History[0].Work = []visit.Work{{Kind: visit.FilterClean}}
	}
	if a := care.Assess(made(animals("tetras"), due)); !slices.Contains(actionsOf(a), "filter_clean_gentle") {
		t.Errorf("it is due: %v", actionsOf(a))
	}
	if a := care.Assess(made(animals("tetras"), due, signs("dead_animal_found_recently"))); slices.Contains(actionsOf(a), "filter_clean_gentle") {
		t.Errorf("an animal died: %v", actionsOf(a))
	}
}
