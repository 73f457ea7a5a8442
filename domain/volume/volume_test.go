package volume

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

// By hand: 100·50·40 cm are 200 L; 10 cm of substrate with 40 % of water take 30 L;
// 26.5 kg of stone 10 L; 11 kg of wood 10 L; a filter of 5 L: 155 L.
func TestNetByHand(t *testing.T) {
	v := must(Of(Setup{Length: 100, Width: 50, Level: 40, Substrate: 10, Porosity: 0.4, Stone: 26.5, Wood: 11, Filter: 5}))
	near(t, "gross", float64(v.Gross), 200, 1e-9)
	near(t, "net", float64(v.Net), 155, 1e-9)
	near(t, "ratio", float64(v.Ratio), 0.775, 1e-9)
	if v.Unusual {
		t.Error("0.775 is unusual")
	}
	if !must(Of(Setup{Length: 100, Width: 50, Level: 40, Substrate: 10, Porosity: 0.4, Stone: 200})).Unusual {
		t.Error("200 kg of stone are not unusual")
	}
	lava := must(Of(Setup{Length: 100, Width: 50, Level: 40, Stone: 15, StoneDensity: quantity.Some(1.5)}))
	near(t, "with lava", float64(lava.Net), 190, 1e-9)
	near(t, "inner", float64(must(Inner(100, 10))), 98, 1e-12)
	for _, bad := range []Setup{{}, {Length: 60, Width: 30, Level: 30, Stone: 500}, {Length: 60, Width: 30, Level: 10, Substrate: 12}, {Length: -1, Width: 30, Level: 30}, {Length: 60, Width: 30, Level: quantity.Centimetre(math.Inf(1))}} {
		if _, err := Of(bad); err == nil {
			t.Errorf("%+v is taken", bad)
		}
	}
}

// Three changes of 20 % exchange 48.8 %, not 60 (0.8³ = 0.512).
func TestSeveralChanges(t *testing.T) {
	near(t, "three of a fifth", must(After(40, 0, 0.2, 3)), 40*0.512, 1e-12)
	r := rand.New(rand.NewPCG(1, 9))
	for range 200 {
		c0, s := 100*r.Float64(), 40*r.Float64()
		w := quantity.Share(0.05 + 0.9*r.Float64())
		target := must(After(c0, s, w, 1))
		near(t, "one change, back", float64(must(SingleShare(c0, target, s))), float64(w), 1e-9)
		many := must(After(c0, s, w, 4))
		if math.Abs(many-s) > 1e-6 {
			near(t, "number, back", must(Changes(c0, many, s, w)), 4, 1e-6)
		}
		// What leaves and what comes is what is missing: mass is conserved.
		near(t, "mass", target*100, c0*100-float64(w)*100*c0+float64(w)*100*s, 1e-9)
	}
	for i, err := range []error{second(SingleShare(40, 5, 10)), second(Changes(40, 10, 10, 0.5)), second(SingleShare(20, 30, 10)), second(SingleShare(10, 5, 10)), second(After(-1, 0, 0.5, 1)), second(After(1, 0, 1.5, 1))} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
	if w := must(SingleShare(10, 10, 10)); w != 0 {
		t.Errorf("nothing to do takes %v", w)
	}
	near(t, "dripping one volume", must(Continuous(40, 0, 100, 100)), 40/math.E, 1e-9)
}

func second[T any](_ T, err error) error { return err }

// Torricelli by hand: 1 m² emptied from 1 m to 0 through 1 cm² with Cd 1 takes
// 2/(1e-4·4.4287) = 4516 s.
func TestDrain(t *testing.T) {
	bore := quantity.Millimetre(2 * math.Sqrt(1e-4/math.Pi) * 1000)
	near(t, "drain", float64(must(DrainTime(1, 1, 0, bore, 1))), 2/(1e-4*math.Sqrt(2*Gravity)), 0.01)
	if _, err := DrainTime(1, 0.5, 1, 16, 0.5); err == nil {
		t.Error("draining upwards is taken")
	}
	near(t, "fall", float64(must(LineFor(48, 120, 50, 1))), 8, 1e-12)
	near(t, "litres", float64(must(ToLine(8, 120, 50, 1))), 48, 1e-12)
	near(t, "fill", float64(must(FillTime(60, 600))), 360, 1e-9)
	near(t, "by salt", float64(must(BySalt(20, 280, 2.1))), 150, 1e-9)
	near(t, "litres of a share", float64(must(Litres(142, 0.5))), 71, 1e-12)
	near(t, "share of litres", float64(must(ShareOf(71, 142))), 0.5, 1e-12)
}
