package salt

import (
	"math"
	"testing"
)

func find(t testing.TB, id string) *Salt {
	t.Helper()
	s, err := Find(id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

// The classic remineralising recipe, worked by hand from molar masses: GH 5 °d is
// 0.8916 mmol/L; with Ca:Mg 3:1 by mass Ca = 3·Mg gives Mg (3/40.078+1/24.305) =
// 0.8916, so Mg 7.687 and Ca 23.06 mg/L; KH 2 °d is 0.7133 meq/L.
func TestRemineralisePureWaterByHand(t *testing.T) {
	got, err := Mix(Order{Litres: 40, GH: 5, KH: 2, CaToMg: 3})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{
		"CaSO4.2H2O": 23.06 / 40.078 * 172.164 * 40 / 1000,
		"MgSO4.7H2O": 7.687 / 24.305 * 246.466 * 40 / 1000,
		"KHCO3":      0.71330 * 100.114 * 40 / 1000,
	}
	if len(got.Weigh) != 3 || len(got.Missed) != 0 || !got.Slow || got.TapShare != 0 || got.RO != 40 {
		t.Fatalf("%+v", got)
	}
	for _, w := range got.Weigh {
		near(t, w.Salt.ID, float64(w.Mass), want[w.Salt.ID], 0.001)
	}
	near(t, "GH", float64(got.GH), 5, 1e-6)
	near(t, "KH", float64(got.KH), 2, 1e-6)
}

// Hard tap water of GH 16 and KH 12 to GH 6, KH 3: KH allows 25 % of tap, which
// brings GH 4; the missing 2 °d come from salts.
func TestBlendTakesTheSmallerShare(t *testing.T) {
	tap := Amounts{Ca: 16 * 7.146958646, Alk: 12 * 0.35665246}
	got, err := Mix(Order{Litres: 100, GH: 6, KH: 3, Tap: tap, HasTap: true})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tap share", float64(got.TapShare), 0.25, 1e-9)
	near(t, "tap litres", float64(got.Tap), 25, 1e-7)
	near(t, "GH", float64(got.GH), 6, 0.01)
	near(t, "KH", float64(got.KH), 3, 0.01)
	for _, w := range got.Weigh {
		if w.Salt.ID == "KHCO3" {
			t.Errorf("KH is there already, and yet %v g of KHCO3", w.Mass)
		}
	}
}

// KH 6 with at most 10 mg/L each of potassium and sodium cannot be had from KHCO3
// and NaHCO3: 10/39.098 + 10/22.990 = 0.6908 meq/L is KH 1.94.
func TestInfeasibleIsSaid(t *testing.T) {
	got, err := Solve(Problem{
		Aims:  []Aim{{Of: Alk, Value: 6 * 0.35665246}, {Of: K, Value: 10, AtMost: true}, {Of: Na, Value: 10, AtMost: true}},
		Salts: []*Salt{find(t, "KHCO3"), find(t, "NaHCO3")},
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Missed) == 0 || got.Missed[0].Of != Alk {
		t.Fatalf("missed %+v", got.Missed)
	}
	near(t, "nearest KH", float64(got.KH), 1.94, 0.12)
	if got.Reached[K] > 11 || got.Reached[Na] > 11 {
		t.Errorf("caps passed: K %v, Na %v", got.Reached[K], got.Reached[Na])
	}
}

// Mass is conserved: what a dose brings, weighed again, is the dose.
func TestDoseRoundTrip(t *testing.T) {
	for _, s := range All() {
		for i := Solute(0); i < SoluteCount; i++ {
			if s.Gives[i] == 0 {
				continue
			}
			d, err := ForRise(s, i, 7, 143)
			if err != nil {
				t.Fatal(err)
			}
			near(t, s.ID+" "+i.String(), d.Adds[i], 7, 1e-9)
			sum := 0.0
			for j, v := range d.Adds {
				switch Solute(j) {
				case Alk:
					v *= 61.016
				case UreaN:
					v *= 60.056 / 28.014
				case B:
					v *= 61.831 / 10.81
				case Mo:
					v *= 159.94 / 95.95
				}
				sum += v
			}
			if s.Mass > 0 && s.Gives[Alk] == 0 && s.WaterMass == 0 { // all of the salt is accounted for
				near(t, s.ID+" whole", sum, float64(d.Mass)*1000/143, 2e-2*sum) // the hydrogen of H2PO4 is not among the solutes
			}
			if _, err := ForRise(s, i, -1, 143); err == nil {
				t.Error("a negative rise is taken")
			}
		}
	}
}

func TestAnimalsForbidAmmonium(t *testing.T) {
	for _, id := range []string{"CO(NH2)2", "NH4Cl", "(NH4)2SO4", "NH4NO3"} {
		if find(t, id).AllowedWith(true) == nil {
			t.Errorf("%s is allowed with animals", id)
		}
		if find(t, id).AllowedWith(false) != nil {
			t.Errorf("%s is refused without animals", id)
		}
	}
	if _, err := Solve(Problem{Animals: true, Aims: []Aim{{Of: NO3, Value: 5}}, Salts: []*Salt{find(t, "NH4NO3")}}); err == nil {
		t.Error("the plan takes ammonium nitrate with animals")
	}
}

func BenchmarkRemineralise(b *testing.B) {
	b.ReportAllocs()
	o := Order{Litres: 40, GH: 5, KH: 2, CaToMg: 3, Salts: UsualSalts(), Caps: []Aim{{Of: K, Value: 30, AtMost: true}, {Of: Na, Value: 20, AtMost: true}, {Of: Cl, Value: 40, AtMost: true}}}
	for b.Loop() {
		if _, err := Mix(o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFiveSaltPlan(b *testing.B) {
	b.ReportAllocs()
	p := Problem{Animals: true}
	for _, id := range []string{"KNO3", "KH2PO4", "K2SO4", "MgSO4.7H2O", "Fe-DTPA"} {
		p.Salts = append(p.Salts, find(b, id))
	}
	p.Aims = []Aim{{Of: NO3, Value: 20}, {Of: PO4, Value: 2}, {Of: K, Value: 20}, {Of: Mg, Value: 5}, {Of: Fe, Value: 0.3}, {Of: SO4, Value: 60, AtMost: true}}
	for b.Loop() {
		if _, err := Solve(p); err != nil {
			b.Fatal(err)
		}
	}
}
