package source

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

func TestBlendAndBack(t *testing.T) {
	near(t, "16 to 6", float64(must(TapFraction(6, 16, 0))), 0.375, 1e-12)
	r := rand.New(rand.NewPCG(4, 4))
	for range 100 {
		tap, ro, x := 5+20*r.Float64(), r.Float64(), r.Float64()
		near(t, "share", float64(must(TapFraction(must(Mixed(quantity.Share(x), tap, ro)), tap, ro))), x, 1e-9)
	}
	near(t, "the smaller of two", float64(must(TapFractionFor([3]float64{6, 16, 0}, [3]float64{3, 12, 0}))), 0.25, 1e-12)
	near(t, "soft tap", float64(must(TapFractionFor([3]float64{6, 4, 0}))), 1, 1e-12)
	for i, err := range []error{second(TapFraction(20, 16, 0)), second(TapFraction(1, 16, 2)), second(TapFraction(3, 5, 5)), second(TapFraction(-1, 5, 0)), second(Mixed(2, 1, 0))} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
}

// Two sodium for each calcium: 2·22.990·0.178326 = 8.199 mg/L per degree.
func TestSoftener(t *testing.T) {
	near(t, "sodium", float64(must(SodiumFromSoftener(10))), 81.99, 0.01)
}

// By stoichiometry: 158.11 g anhydrous or 248.18 g pentahydrate to 70.90 g of chlorine.
func TestThiosulfate(t *testing.T) {
	near(t, "1:1", must(Thiosulfate(ToSulfur, true)), 248.18/70.90, 0.001)
	near(t, "1:1 anhydrous", must(Thiosulfate(ToSulfur, false)), 158.11/70.90, 0.001)
	near(t, "2:1", must(Thiosulfate(ToTetrathionate, true)), 7.00, 0.005)
	near(t, "1:4", must(Thiosulfate(ToSulfate, true)), 0.875, 0.001)
	near(t, "planned", PlannedThiosulfate, 7.00, 0.005)
	near(t, "grams", float64(must(Dechlorinator(0.5, 100))), 0.35, 0.001)
	near(t, "ammonia", float64(must(AmmoniaFromChloramine(1))), 0.198, 0.001)
}

func TestTemperatureAndGas(t *testing.T) {
	near(t, "half cold", float64(must(MixedTemperature(25, 15, 0.5))), 20, 1e-12)
	near(t, "how cold", float64(must(SourceTemperature(25, 0.5, 2))), 21, 1e-12)
	// EN 25814: 11.29 mg/L at 10 °C and 8.26 at 25 °C; half of each is 118 %.
	near(t, "gas", must(GasAfterChange(25, 10, 0.5)), 100*(0.5+0.5*11.29/8.26), 0.3)
	near(t, "no change", must(GasAfterChange(25, 10, 0)), 100, 1e-9)
}

// Playing a series back by mixing gives its own values, none moves faster than
// allowed, and it ends on the target.
func TestSeries(t *testing.T) {
	for _, c := range []struct {
		start, target, src float64
		speed              Speed
	}{{20, 8, 4, ForFish}, {4, 8, 12, ForFish}, {10, 6, 2, ForShrimp}, {300, 200, 50, Speed{Relative: 0.1}}} {
		steps, err := Series(c.start, c.target, c.src, c.speed, 0.5)
		if err != nil {
			t.Fatal(err)
		}
		v := c.start
		for _, s := range steps {
			allowed := max(float64(c.speed.Relative)*v, c.speed.Absolute)
			mixed := v + float64(s.Share)*(c.src-v)
			if math.Abs(mixed-v) > allowed+1e-9 || s.Share > 0.5+1e-12 || s.Share <= 0 {
				t.Errorf("%v: a step of %v from %v", c, s, v)
			}
			near(t, "step", s.After, mixed, 1e-9)
			v = mixed
		}
		near(t, "end", v, c.target, 1e-6)
	}
	for i, err := range []error{second(Series(20, 3, 4, ForFish, 0.5)), second(Series(20, 25, 4, ForFish, 0.5)), second(Series(20, 8, 4, Speed{}, 0.5)), second(Series(1000, 1, 0.9, Speed{Absolute: 1}, 0.5)), second(Series(5, 8, 5, ForFish, 0.5))} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
	if s, err := Series(5, 5, 3, ForFish, 0.5); err != nil || len(s) != 0 {
		t.Errorf("nothing to do: %v, %v", s, err)
	}
}

func second[T any](_ T, err error) error { return err }
