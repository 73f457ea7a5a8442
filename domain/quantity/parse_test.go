package quantity

import (
	"math"
	"testing"
)

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		text    string
		decimal byte
		value   float64
		unit    Unit
		alt     Opt[float64]
		fault   ParseFault
	}{
		{"4.5", '.', 4.5, "", Opt[float64]{}, NoFault},
		{"4,5", '.', 4.5, "", Opt[float64]{}, NoFault},
		{" 4,5 °dH ", '.', 4.5, degreeAny, Opt[float64]{}, NoFault},
		{"1,250", '.', 1250, "", Some(1.25), NoFault},
		{"1,250", ',', 1.25, "", Some(1250.0), NoFault},
		{"1.250", ',', 1250, "", Some(1.25), NoFault},
		{"0,250", '.', 0.25, "", Opt[float64]{}, NoFault},
		{"1,250.5", '.', 1250.5, "", Opt[float64]{}, NoFault},
		{"1.250,5", '.', 1250.5, "", Opt[float64]{}, NoFault},
		{"1 250", '.', 1250, "", Opt[float64]{}, NoFault},
		{"1'250 µS/cm", '.', 1250, USCm, Opt[float64]{}, NoFault},
		{"1,250,000", '.', 1250000, "", Opt[float64]{}, NoFault},
		{"-3", '.', -3, "", Opt[float64]{}, NoFault},
		{"−3,5 °C", ',', -3.5, DegC, Opt[float64]{}, NoFault},
		{"+2", '.', 2, "", Opt[float64]{}, NoFault},
		{".5", '.', 0.5, "", Opt[float64]{}, NoFault},
		{"12 furlongs", '.', 12, "", Opt[float64]{}, UnknownUnit},
		{"", '.', 0, "", Opt[float64]{}, NoNumber},
		{"abc", '.', 0, "", Opt[float64]{}, NoNumber},
		{"1.2.3", '.', 0, "", Opt[float64]{}, NoNumber},
		{"1,25,0", '.', 0, "", Opt[float64]{}, NoNumber},
		{",", '.', 0, "", Opt[float64]{}, NoNumber},
		{"--3", '.', 0, "", Opt[float64]{}, NoNumber},
	} {
		got, bad := ParseNumber(c.text, Locale{Decimal: c.decimal})
		if bad != c.fault || bad == NoFault && (got.Value != c.value || got.Unit != c.unit || got.Alt != c.alt) {
			t.Errorf("%q with %c: %+v fault %d; want %+v", c.text, c.decimal, got, bad, c)
		}
	}
}

// Factors of the literature: 1 °d is 17.848 mg/L CaCO3, 0.17833 mmol/L Ca+Mg
// and 0.35665 meq/L; NO3 is 4.4266 NO3-N; PO4 is 3.0661 P; K is 0.8301 K2O.
func TestConversions(t *testing.T) {
	for _, c := range []struct {
		kind      Kind
		typed     float64
		unit      Unit
		canonical float64
	}{
		{KH, 17.848, PPMCaCO3, 1}, {KH, 0.35665, MeqL, 1}, {GH, 0.17833, MmolL, 1},
		{Nitrate, 1, AsN, 4.4266}, {Phosphate, 1, AsP, 3.0661}, {Potassium, 1, AsK2O, 0.8301},
		{TAN, 1, AsNH4, 0.7765}, {Temperature, 212, DegF, 100}, {Temperature, -40, DegF, -40},
		{Flow, 100, GalUSH, 378.54}, {CylinderGross, 2.2046, Lb, 1}, {LevelDrop, 1, Inch, 25.4},
	} {
		got, ok := ToCanonical(c.kind, c.typed, c.unit)
		if !ok || math.Abs(got-c.canonical) > 1e-4*math.Max(1, math.Abs(c.canonical)) {
			t.Errorf("%g %s of %s is %g, want %g", c.typed, c.unit, c.kind, got, c.canonical)
		}
	}
}

func TestConversionsGoBothWays(t *testing.T) {
	for _, m := range Measures() {
		for _, u := range UnitsFor(m.Kind) {
			for _, v := range []float64{0, 0.3, 7, 1250} {
				c, ok1 := ToCanonical(m.Kind, v, u)
				back, ok2 := FromCanonical(m.Kind, c, u)
				if !ok1 || !ok2 || math.Abs(back-v) > 1e-9*math.Max(1, v) {
					t.Errorf("%s: %g %s came back as %g", m.Kind, v, u, back)
				}
			}
		}
		if !m.Holds(m.Likely.Lo) || !m.Holds(m.Likely.Hi) {
			t.Errorf("%s: what is likely must be possible", m.Kind)
		}
	}
	if _, ok := ToCanonical(Acidity, 7, MgL); ok {
		t.Error("pH was taken in mg/L")
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"4,5 °dH", "1'250", "−3", "1.250,5", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n, bad := ParseNumber(s, Locale{Decimal: '.'})
		if bad == NoFault && (math.IsNaN(n.Value) || math.IsInf(n.Value, 0)) {
			t.Errorf("%q became %g", s, n.Value)
		}
	})
}
