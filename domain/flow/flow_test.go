package flow

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

// Four litres in 22.1, 21.4 and 22.9 s: 12 L in 66.4 s are 650.6 L/h (by hand).
func TestBucketByHand(t *testing.T) {
	m := must(FromBucket(Run{4, 22.1}, Run{4, 21.4}, Run{4, 22.9}))
	near(t, "flow", float64(m.Flow), 12*3600/66.4, 1e-9)
	// The mean of three times is good to about 3 to 6 %.
	if rel := float64(m.Hi-m.Lo) / 2 / float64(m.Flow); rel < 0.03 || rel > 0.09 {
		t.Errorf("half the interval is %v of the flow", rel)
	}
	one := must(FromBucket(Run{4, 22.1}))
	if !(one.Lo < one.Flow && one.Flow < one.Hi) || one.Runs != 1 {
		t.Errorf("%+v", one)
	}
	wild := must(FromBucket(Run{4, 15}, Run{4, 30}))
	if wild.Hi-wild.Lo <= one.Hi-one.Lo || wild.Lo <= 0 {
		t.Errorf("two that disagree: %+v", wild)
	}
	for _, bad := range []Run{{0, 10}, {4, 0}, {4, -3}, {quantity.Litre(math.NaN()), 10}} {
		if _, err := FromBucket(bad); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
	if _, err := FromBucket(); err == nil {
		t.Error("no run is taken")
	}
}

// A filter that clogs by exactly 1.2 % a day, in two cycles with different starts.
func TestDecayIsFoundAgain(t *testing.T) {
	make := func(start float64, days ...float64) []Point {
		var out []Point
		for _, d := range days {
			out = append(out, Point{quantity.Days(d), quantity.LitrePerHour(start * math.Exp(-0.012*d))})
		}
		return out
	}
	d := must(Fit(make(700, 0, 14, 28), make(620, 0, 7, 21)))
	near(t, "rate", d.Rate, 0.012, 1e-12)
	near(t, "start of the last cycle", float64(d.Start), 620, 1e-8)
	near(t, "error", d.Sigma, 0, 1e-9)
	day, ok := d.Reaches(400)
	near(t, "day", float64(day), math.Log(620.0/400)/0.012, 1e-8)
	if !ok {
		t.Error("it never gets there")
	}
	near(t, "60 %", float64(must(DaysToFraction(0.012, 0.6))), 42.57, 0.005)
	// One line through both cycles would have found another rate.
	if one := must(Fit(append(make(700, 0, 14, 28), make(620, 0, 7, 21)...))); math.Abs(one.Rate-0.012) < 1e-6 {
		t.Error("pooling the cycles makes no difference here: the test is blind")
	}
	if day, ok := d.Reaches(800); !ok || day != 0 {
		t.Errorf("already below: %v, %v", day, ok)
	}
	clean := Decay{Rate: -0.01, Start: 500}
	if _, ok := clean.Reaches(300); ok {
		t.Error("a filter that does not clog reaches a limit")
	}
	if _, err := Fit(make(700, 3)); err == nil {
		t.Error("one point gives a rate")
	}
	if _, err := Fit(make(700, 3), make(600, 5)); err == nil {
		t.Error("one point a cycle gives a rate")
	}
}

func TestShares(t *testing.T) {
	near(t, "turnover", float64(must(Turnover(650.6, 130))), 5.0046, 1e-4)
	near(t, "of clean", float64(must(ShareOfClean(360, 600))), 0.6, 1e-12)
	if _, err := Turnover(100, 0); err == nil {
		t.Error("no volume is taken")
	}
	if _, err := ShareOfClean(100, 0); err == nil {
		t.Error("no clean flow is taken")
	}
}
