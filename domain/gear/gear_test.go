package gear

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

// The saturation line of CO2 as tabulated by Span and Wagner (1996), table 34: MPa,
// then kg/m³ of liquid and vapour.
func TestCO2AgainstTheTable(t *testing.T) {
	for _, c := range []struct{ k, mpa, liquid, vapour float64 }{
		{220, 0.59913, 1166.14, 15.817}, {250, 1.7850, 1045.97, 46.644}, {280, 4.1607, 883.58, 121.74}, {300, 6.7131, 679.24, 268.58},
	} {
		temp := quantity.Celsius(c.k - 273.15)
		near(t, "pressure", float64(must(SaturationPressure(temp)))/10, c.mpa, 0.0005*c.mpa)
		near(t, "liquid", must(LiquidDensity(temp)), c.liquid, 0.004*c.liquid)
		near(t, "vapour", must(VapourDensity(temp)), c.vapour, 0.004*c.vapour)
	}
	if _, err := SaturationPressure(31.2); err == nil {
		t.Error("there is liquid above the critical point")
	}
	near(t, "at the critical point", float64(must(SaturationPressure(criticalCelsius))), criticalBar, 1e-6)
	// A full cylinder at 20 °C: mass balance of liquid and vapour.
	near(t, "left", float64(must(LeftWhenLiquidGone(20, 0.75))), 0.26, 0.01)
}

func TestWeighings(t *testing.T) {
	var ws []Weighing
	for _, d := range []float64{0, 14, 28, 42} {
		ws = append(ws, Weighing{quantity.Days(d), quantity.Kilogram(6.2 - 0.008*d)})
	}
	u := must(FromWeighings(ws, quantity.Some[quantity.Kilogram](2), 10))
	near(t, "use", float64(u.PerDay), 8, 1e-9)
	near(t, "lost", float64(u.Lost), 0.336, 1e-9)
	near(t, "content", float64(u.Content.V), 2-0.336, 1e-9)
	d, ok := DaysLeft(u.Content.V, 2, u.PerDay, SwapShare)
	near(t, "days", float64(d), (1.664-0.4)/0.008, 1e-6)
	if !ok {
		t.Error("it lasts for ever")
	}
	// A scale of ±10 g over 14 days at 8 g/d is ±13 % for a pair: √2·10/14/8.
	pair := must(FromWeighings(ws[:2], quantity.Opt[quantity.Kilogram]{}, 10))
	near(t, "error of a pair", float64(pair.Sigma/pair.PerDay), math.Sqrt2*10/14/8, 1e-9)
	if pair.Content.OK {
		t.Error("a content without a charge")
	}
	if _, ok := DaysLeft(1, 2, 0, SwapShare); ok {
		t.Error("nothing used, and yet it ends")
	}
	if d, ok := DaysLeft(0.3, 2, 8, SwapShare); !ok || d != 0 {
		t.Errorf("below the limit: %v, %v", d, ok)
	}
	for _, bad := range [][]Weighing{nil, ws[:1], {{1, 5}, {1, 6}}, {{-1, 5}, {3, 6}}} {
		if _, err := FromWeighings(bad, quantity.Opt[quantity.Kilogram]{}, 10); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	near(t, "content by tare", float64(must(Content(5, 3.4))), 1.6, 1e-12)
	if _, err := Content(3, 4); err == nil {
		t.Error("a tare above the weight is taken")
	}
}

// Ideal gas by hand: 44.009 g at 0 °C and 1 atm are 22.414 L; in 22.414 m³ that is
// 1000 ppm.
func TestRoom(t *testing.T) {
	near(t, "ppm", float64(must(RoomCO2(0.044009, 22.414, 0))), 1000, 0.02)
	near(t, "oxygen", must(RoomOxygen(0.044009, 22.414, 0)), 20.95*0.999, 1e-4)
	if !must(AlarmNeeded(2, 30, 20)) || must(AlarmNeeded(0.5, 30, 20)) {
		t.Error("the alarm is wanted for the wrong cylinder")
	}
}

// By hand: 5.5 W/m²K, 1.26 m² and 5 K lose 34.65 W; 1.3 kg a day at 2.44 MJ/kg 36.7 W.
func TestHeat(t *testing.T) {
	h := must(SizeHeaters(1.26, 5, 1.3))
	near(t, "glass", float64(h.Glass), 34.65, 1e-9)
	near(t, "evaporation", float64(h.Evaporation), 1.3*2.44e6/86400, 1e-9)
	near(t, "each", float64(h.Each), (34.65+36.713)*0.75, 0.01)
	// A kettle: 1 L by 100 K in an hour takes 116 W (4.186 kJ/kg K).
	near(t, "warm-up", float64(must(HoursToWarm(1, 40, 46.52))), 1, 0.001)
}

func TestEvaporation(t *testing.T) {
	near(t, "by level", float64(must(FromLevel(12, 0.405))), 4.86, 1e-12)
	// Salt before and after is the same.
	f := must(Concentrating(100, 0.8, 7))
	near(t, "salt", f*(100-5.6), 100, 1e-9)
	// Playing the periods arrives at the steady state.
	c := 10.0
	for range 500 {
		c += 10 * 0.8 * 14 / 100 // what the top-off brings
		c = c*0.7 + 0.3*10
	}
	near(t, "hardening", must(HardeningByTopOff(10, 0.3, 0.8, 100, 14)), c+10*0.8*14/100, 1e-6)
	// Steam tables: 2.339 kPa at 20 °C, 3.170 at 25 °C.
	near(t, "vapour at 20", must(VapourPressure(20)), 2.339, 0.01)
	near(t, "vapour at 25", must(VapourPressure(25)), 3.170, 0.01)
	// Quiet open water of 25 °C in a room of 22 °C and 50 %: about 3 L/m² a day.
	near(t, "open tank", float64(must(OpenEvaporation(1, 25, 22, 0.5, 0))), 3, 0.1)
	if _, err := Concentrating(100, 20, 7); err == nil {
		t.Error("a tank that dries up is taken")
	}
}

// By hand: 282 kg on 0.405 m² are 696.3 kg/m² and 6.83 kN/m².
func TestFloor(t *testing.T) {
	l := must(FloorLoad(90, 45, Weights{Water: 150, Glass: 32, Substrate: 35, Stone: 20, Cabinet: 45}))
	near(t, "mass", float64(l.Mass), 282, 1e-9)
	near(t, "load", l.PerSquare, 282/0.405, 1e-9)
	near(t, "pressure", l.Pressure, 6.828, 0.001)
	if !l.AskEngineer {
		t.Error("nobody is asked")
	}
	for i, err := range []error{second(FloorLoad(1, 45, Weights{})), second(RoomCO2(1, 0, 20)), second(GlassLoss(5, -1, 5)), second(FromLevel(-1, 1)), second(LeftWhenLiquidGone(20, 2))} {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
}

func second[T any](_ T, err error) error { return err }
