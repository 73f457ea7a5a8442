package feed

import (
	"math"
	"testing"
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

// Timmons and Ebeling: 0.092 of the protein. By hand: a gram with 45 % protein holds
// 72 mg N; a quarter kept leaves 54 mg, which are 239 mg NO3.
func TestFeedByHand(t *testing.T) {
	near(t, "TAN", float64(must(AmmoniaPerGram(0.45))), 0.0414, 1e-12)
	near(t, "NO3", float64(must(NitratePerGram(Food{Protein: 0.45, Retained: 0.25, Dissolved: 1}))), 54*62.004/14.007, 0.01)
	// One gram a day in 100 L is 1.7 to 2.4 mg/L NO3 by the range of published figures.
	got := must(PerDay(1, UsualFood, 100))
	if got.NO3 < 1.7 || got.NO3 > 2.4 || got.PO4 < 0.1 || got.PO4 > 0.3 || got.PO4Lo >= got.PO4Hi {
		t.Errorf("%+v", got)
	}
}

// Two equivalents per nitrogen: 7.14 mg CaCO3 per mg N (Timmons and Ebeling), which is
// 10/4.4266·7.14/17.848 = 0.904 °d for 10 mg/L NO3; uptake returns half.
func TestAlkalinity(t *testing.T) {
	near(t, "lost", float64(must(KHLostByNitrification(10))), 10/4.42664*7.14/17.848, 0.002)
	near(t, "gained", float64(must(KHGainedByUptake(10))), 0.452, 0.001)
	for i, err := range []error{second(KHLostByNitrification(-1)), second(NitratePerGram(Food{Protein: 2})), second(PerDay(1, UsualFood, 0)), second(AmmoniaPerGram(-0.1))} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
}

func second[T any](_ T, err error) error { return err }
