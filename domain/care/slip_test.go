package care_test

import (
	"slices"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/tank"
)

// A decimal mark that went astray is read again before anything follows from it;
// what a tank can really do is not called a slip.
func TestSlipsAreReadAgainFirst(t *testing.T) {
	past := func(kind string, values ...float64) []opt {
		out := []opt{co2, animals("tetras"), fine}
		for i, x := range values {
			out = append(out, ago(14*(len(values)-i), kind, x))
		}
		return out
	}
	for _, x := range []struct {
		name string
		opts []opt
		slip bool
	}{
		{"KH 40 for 4", append(past("kh", 4, 4, 4.5), rd("kh", 40)), true},
		{"KH 0.4 for 4", append(past("kh", 4, 4, 4.5), rd("kh", 0.4)), true},
		{"KH gone with a pH that says so", []opt{animals("tetras"), ago(14, "kh", 4.0), rd("kh", 0.4), rd("ph", 5.9)}, false},
		{"GH 70 for 7", append(past("gh", 7, 7.5), rd("gh", 70)), true},
		{"GH doubled", append(past("gh", 7, 7.5), rd("gh", 14)), false},
		{"EC 3100 for 310", append(past("ec", 305, 310, 300), rd("ec", 3100)), true},
		{"2.5 degrees for 25", append(past("temp", 25, 24.5), rd("temp", 2.5)), true},
		{"a cold tank", append(past("temp", 25, 24.5), rd("temp", 18)), false},
		{"NO3 150 for 15", append(past("no3", 15, 12, 15), rd("no3", 150)), true},
		{"NO3 eaten up", append(past("no3", 15, 12, 15), rd("no3", 1)), false},
		{"NO3 after a double dose", append(past("no3", 15, 12, 15), rd("no3", 150), signs("double_dose_given")), false},
		{"a past that never agreed", append(past("no3", 5, 40, 15), rd("no3", 150)), false},
		{"no past", []opt{animals("tetras"), rd("kh", 40)}, false},
	} {
		a := care.Assess(made(x.opts...))
		got := slices.ContainsFunc(a.Findings, func(f care.Finding) bool { return f.Rule == "doubt" && f.Say.ID == "find.doubt.slip" })
		if got != x.slip {
			t.Errorf("%s: slip %v, want %v: %v", x.name, got, x.slip, actionsOf(a))
			continue
		}
		if !x.slip {
			continue
		}
		if acts := actionsOf(a); !slices.Contains(acts, "retest") || slices.Contains(acts, "co2_off_now") || slices.Contains(acts, "wc_30_50") || slices.Contains(acts, "heat_slow") {
			t.Errorf("%s: the list is %v", x.name, acts)
		}
		if a.Status == care.AllWell {
			t.Errorf("%s: all is well", x.name)
		}
		if !slices.ContainsFunc(a.Strips, func(s care.Strip) bool { return s.State == care.Retest }) {
			t.Errorf("%s: the reading is not shown as one to take again", x.name)
		}
	}
}

// KH was 0.5; half the water was changed for a tap of 8: 4.25 is a mixture and no
// slip of the decimal mark. Without such a source 4.0 after 0.5 is read again.
func TestAMixtureIsNoSlip(t *testing.T) {
	soft := []opt{animals("bee_shrimp"), ago(28, "kh", 0.5), ago(14, "kh", 0.5), rd("kh", 4.0)}
	aside := func(a care.Assessment) bool {
		for _, f := range a.Findings {
			if f.Rule == "doubt" {
				return true
			}
		}
		return false
	}
	if aside(care.Assess(made(append(soft, source(tank.Tap, "kh", 8.0))...))) {
		t.Error("what the change explains is taken for a slip")
	}
	if !aside(care.Assess(made(append(soft, source(tank.RO, "kh", 0.0))...))) {
		t.Error("eight times the last readings, with pure water, is taken as read")
	}
}
