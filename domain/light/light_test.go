package light

import (
	"math"
	"testing"

	"scaperound/domain/quantity"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// 60 µmol/m²/s for 8 h are 60·28800 µmol = 1.728 mol/m² (by hand).
func TestDailyLight(t *testing.T) {
	near(t, "DLI", float64(must(DLI(60, 8))), 1.728, 1e-12)
	for _, h := range []quantity.Hours{1, 6, 8.5, 24} {
		dli := must(DLI(73, h))
		near(t, "PPFD again", float64(must(PPFDForDLI(dli, h))), 73, 1e-9)
		near(t, "hours again", float64(must(HoursForDLI(dli, 73))), float64(h), 1e-9)
	}
}

// Nine points by hand: sum 585, mean 65, minimum 38, squared deviations 3058, so a
// standard deviation of √(3058/8) = 19.55.
func TestMapByHand(t *testing.T) {
	points := []quantity.Micromol{55, 72, 88, 64, 41, 97, 70, 60, 38}
	m := must(Measure(points, 50))
	near(t, "mean", float64(m.Mean), 65, 1e-12)
	near(t, "uniformity", float64(m.Uniformity), 38.0/65, 1e-12)
	near(t, "variation", float64(m.CV), math.Sqrt(3058.0/8)/65, 1e-12)
	near(t, "share below", float64(m.Below.V), 2.0/9, 1e-12)
	if !m.Enough || m.Min != 38 || m.Max != 97 {
		t.Errorf("%+v", m)
	}
	each := must(Measure(points, 60, 60, 60, 60, 30, 60, 60, 60, 30))
	near(t, "share below its own need", float64(each.Below.V), 1.0/9, 1e-12)
	if dark := must(Measure([]quantity.Micromol{0, 0})); dark.Uniformity != 0 || dark.CV != 0 || dark.Below.OK || dark.Enough {
		t.Errorf("%+v", dark)
	}
	for _, bad := range [][]quantity.Micromol{nil, {-1}, {quantity.Micromol(math.NaN())}} {
		if _, err := Measure(bad); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	if _, err := Measure(points, 1, 2); err == nil {
		t.Error("two needs for nine points are taken")
	}
}

func TestHeightAndDimmer(t *testing.T) {
	// Twice the distance: a half by a line, a quarter by a point.
	r := must(Raised(100, 20, 40))
	near(t, "lowest", r.Lo, 25, 1e-9)
	near(t, "highest", r.Hi, 50, 1e-9)
	if r.Value < r.Lo || r.Value > r.Hi {
		t.Errorf("%+v", r)
	}
	near(t, "dimmed", float64(must(Dimmed(80, 100, 60))), 48, 1e-12)
	// One metre of water with Kd of 1: a factor e.
	near(t, "depth", float64(must(AtDepth(100, 1, 1))), 100/math.E, 1e-9)
	for _, err := range []error{
		second(Dimmed(80, 0, 50)), second(Dimmed(2900, 10, 100)), second(AtDepth(10, -1, 1)), second(DLI(60, 25)), second(DLI(-1, 5)), second(HoursForDLI(50, 10)),
	} {
		if err == nil {
			t.Error("something out of range is taken")
		}
	}
}

func second[T any](_ T, err error) error { return err }

// A ramp never moves both at once, never faster than its step, and arrives.
func TestRamp(t *testing.T) {
	stages := must(Ramp(6, 8, 50, 85))
	last := stages[0]
	for _, s := range stages[1:] {
		dh, dp := s.Hours-last.Hours, s.Percent-last.Percent
		if dh > 0 && dp > 0 || dh > HoursPerWeek || dp > PercentPerWeek || s.Week != last.Week+1 {
			t.Errorf("%+v after %+v", s, last)
		}
		last = s
	}
	if last.Hours != 8 || last.Percent != 85 || len(stages) != 1+4+4 {
		t.Errorf("%d stages, the last %+v", len(stages), last)
	}
	if down := must(Ramp(10, 6, 100, 50)); len(down) != 1 || down[0].Hours != 6 || down[0].Percent != 50 {
		t.Errorf("less light is not at once: %+v", down)
	}
}
