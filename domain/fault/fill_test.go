package fault

import (
	"errors"
	"fmt"
	"testing"
)

type word string

type counted int

func (c counted) String() string { return "counted" }

// The browser build's sentences are those of the others.
func TestFillWritesAsFmtDoes(t *testing.T) {
	for _, c := range []struct {
		format string
		args   []any
	}{
		{"plain", nil},
		{"%s and %s", []any{"a", word("b")}},
		{"100 %% of %d", []any{42}},
		{"%d %d %d", []any{int8(-3), uint16(9), counted(4)}},
		{"%s %v", []any{counted(4), errors.New("broken")}},
		{"%v %v %v", []any{true, 3, "x"}},
		{"%g", []any{0.1}}, {"%g", []any{1e20}}, {"%g", []any{1e21}}, {"%g", []any{123456789.0}}, {"%g", []any{1e-5}}, {"%g", []any{0.0001}}, {"%g", []any{-4e6}},
		{"%.4g %.3g", []any{1234567.0, 0.00012345}}, {"%.4g", []any{12.0}}, {"%.4g", []any{float32(0.5)}},
	} {
		if got, want := fill(c.format, c.args), fmt.Sprintf(c.format, c.args...); got != want {
			t.Errorf("%q: %q, want %q", c.format, got, want)
		}
	}
}
