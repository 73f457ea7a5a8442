package balance

import (
	"math"
	"math/rand/v2"
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

// The classical result: half the water each week and no uptake settle at twice the
// weekly dose. Beyond it, playing the weeks one by one must arrive where the closed
// form says.
func TestSettleAgainstPlayingTheWeeks(t *testing.T) {
	near(t, "twice the dose", float64(must(Settle(Routine{Dose: 21, Share: 0.5, Days: 7})).Before), 42, 1e-12)
	rnd := rand.New(rand.NewPCG(2, 2))
	for range 100 {
		r := Routine{Dose: quantity.MgPerLitre(30 * rnd.Float64()), Uptake: 3 * rnd.Float64(), Source: quantity.MgPerLitre(20 * rnd.Float64()), Share: quantity.Share(0.1 + 0.8*rnd.Float64()), Days: 7}
		s := must(Settle(r))
		c := 10.0
		for range 400 {
			c = c*(1-float64(r.Share)) + float64(r.Share)*float64(r.Source)
			c = max(0, c+float64(r.Dose)-r.Uptake*7)
		}
		near(t, "before", float64(s.Before), c, 1e-9)
		near(t, "in 400 weeks", float64(must(AfterPeriods(10, 400, r))), c, 1e-9)
		if !s.RunsOut {
			near(t, "dose, back", float64(must(DoseFor(s.Before, r))), float64(r.Dose), 1e-9)
		}
		one := max(0, 10*(1-float64(r.Share))+float64(r.Share)*float64(r.Source)+float64(r.Dose)-r.Uptake*7)
		if !s.RunsOut {
			near(t, "in one week", float64(must(AfterPeriods(10, 1, r))), one, 1e-9)
		}
	}
	if n := must(PeriodsToWithin(0.05, 0.5)); n != 5 {
		t.Errorf("%d weeks at 50 %%, want 5", n)
	}
	if n := must(PeriodsToWithin(0.05, 0.3)); n != 9 {
		t.Errorf("%d weeks at 30 %%, want 9", n)
	}
}

func TestDecayingAgainstPlayingTheDays(t *testing.T) {
	for _, d := range []Decaying{{0.05, 0.3, 0, 0.5, 7}, {0.02, 0.1, 0.01, 0.3, 14}, {0.1, 0.5, 0, 1, 7}, {0.05, 1e-5, 0, 0.5, 7}} {
		s := must(SettleDecaying(d))
		c := 0.0
		for range 4000 {
			c = c*(1-float64(d.Share)) + float64(d.Share)*float64(d.Source)
			for range d.Days {
				c = (c + float64(d.DailyDose)) * math.Exp(-d.Rate)
			}
		}
		near(t, "before", float64(s.Before), c, 1e-7)
		near(t, "after", float64(s.After), c*(1-float64(d.Share))+float64(d.Share)*float64(d.Source), 1e-7)
	}
}

// By hand: from 20 half is changed with water of 5, leaving 12.5; 14 dosed and 2 fed
// make 28.5; 10 are left after seven days: 18.5/7.
func TestUptakeByHand(t *testing.T) {
	b := Between{First: 20, Second: 10, Share: 0.5, Source: 5, Doses: 14, Feed: 2, Days: 7, SigmaFirst: 2.9, SigmaSecond: 2.9, SigmaShare: 0.03, SigmaDoses: 1}
	u := must(NetUptake(b))
	near(t, "uptake", u.PerDay, 18.5/7, 1e-12)
	near(t, "error", u.Sigma, math.Sqrt(0.25*2.9*2.9+2.9*2.9+15*15*0.03*0.03+1)/7, 1e-12)
	b.Second = 0
	if !must(NetUptake(b)).Censored {
		t.Error("a zero is not said to be a bound")
	}
	b.Days = 0
	if _, err := NetUptake(b); err == nil {
		t.Error("no days are taken")
	}
}

func TestOutsideIsAFault(t *testing.T) {
	for i, err := range []error{
		second(Settle(Routine{Dose: -1, Share: 0.5, Days: 7})), second(Settle(Routine{Share: 0, Days: 7})), second(Settle(Routine{Share: 0.5})),
		second(SettleDecaying(Decaying{Rate: 0, Share: 0.5, Days: 7})), second(PeriodsToWithin(0, 0.5)), second(DoseFor(-1, Routine{Share: 0.5, Days: 7})),
	} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
}

func second[T any](_ T, err error) error { return err }
