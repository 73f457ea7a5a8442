package salt

import (
	"strings"
	"testing"

	"scaperound/domain/fault"
)

// CRC Handbook: 24.2 g KNO3 in 100 g of saturated solution are 31.9 g per 100 g of
// water (24.2/75.8); 25.1 g of MgSO4 are 51.4 g of the heptahydrate.
func TestSolubilityByHand(t *testing.T) {
	got, err := find(t, "KNO3").HydratePerWater(24.2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "KNO3", got, 100*24.2/75.8, 1e-9)
	got, err = find(t, "MgSO4.7H2O").HydratePerWater(25.1)
	if err != nil {
		t.Fatal(err)
	}
	h := 25.1 * 246.47 / 120.36
	near(t, "Epsom salt", got, 100*h/(100-h), 0.1)
	// Gypsum: 2.4 to 2.6 g/L (handbooks of water treatment).
	g, far, err := find(t, "CaSO4.2H2O").PerLitre(20)
	if err != nil || far || g < 2.4 || g > 2.6 {
		t.Errorf("gypsum %v, %v, %v", g, far, err)
	}
	if _, far, err := find(t, "KNO3").PerLitre(10); err != nil || !far {
		t.Errorf("10 °C is not said to be drawn on: %v, %v", far, err)
	}
	// CRC at 10 °C: 17.6 % KNO3. The line through 20 and 25 °C stays below it.
	if p, _, err := find(t, "KNO3").AnhydrousPercent(10); err != nil || p > 17.8 {
		t.Errorf("KNO3 at 10 °C: %v %%, %v", p, err)
	}
	for _, id := range []string{"CaCO3", "Fe-DTPA"} {
		if _, _, err := find(t, id).PerLitre(20); err == nil {
			t.Errorf("%s has a solubility", id)
		}
	}
}

// 10 mL raise 120 L by 2 mg/L NO3: 0.24 g NO3, 0.3913 g KNO3, 39.13 g in a litre.
func TestStockByHand(t *testing.T) {
	s := find(t, "KNO3")
	per, err := PerLitre(s, NO3, 2, 120, 10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "per litre", float64(per), 0.24/62.004*101.102*100, 0.01)
	d, err := ForRise(s, NO3, 2, 120)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Stock([]Weighed{d.Weighed}, 10, 0.5, 20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "doses", b.Doses, 50, 1e-12)
	near(t, "bottle", float64(b.Weigh[0].Mass), float64(d.Mass)*50, 1e-9)
	near(t, "saturation", float64(b.Saturation), float64(per)/242, 1e-3)
	if b.TooMuch || b.Extrapolate {
		t.Errorf("%+v", b)
	}
	// At its smallest dose a bottle is just at the limit.
	ml, err := SmallestDose([]Weighed{d.Weighed}, 15)
	if err != nil {
		t.Fatal(err)
	}
	tight, err := Stock([]Weighed{d.Weighed}, ml, 1, 15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "limit", float64(tight.Saturation), SafeSaturation, 1e-9)
	if b, _ := Stock([]Weighed{d.Weighed}, ml*0.99, 1, 15); !b.TooMuch {
		t.Error("below the smallest dose it is still fine")
	}
}

// What growers are told: calcium apart from sulfate and phosphate, free iron apart
// from phosphate, nothing acid to carbonate.
func TestConflicts(t *testing.T) {
	for _, c := range []struct {
		a, b string
		why  Reason
	}{
		{"CaCl2.2H2O", "MgSO4.7H2O", Gypsum}, {"Ca(NO3)2.4H2O", "K2SO4", Gypsum}, {"MgSO4.7H2O", "KH2PO4", Phosphate}, {"CaCl2.2H2O", "KHCO3", Carbonates},
		{"FeSO4.7H2O", "KH2PO4", IronPhosph}, {"KH2PO4", "KHCO3", Fizzes}, {"NH4Cl", "K2CO3", AmmoniaGas}, {"Fe-DTPA", "KH2PO4", ChelateAcid}, {"Fe-EDTA", "CuSO4.5H2O", ChelateMetal},
		{"KNO3", "K2SO4", ""}, {"KNO3", "MgSO4.7H2O", ""}, {"KNO3", "KH2PO4", ""}, {"KHCO3", "K2SO4", ""}, {"Mg(NO3)2.6H2O", "MgSO4.7H2O", ""}, {"Ca(NO3)2.4H2O", "Fe-DTPA", ""},
	} {
		a, b := find(t, c.a), find(t, c.b)
		why, bad := Conflict(a, b)
		back, also := Conflict(b, a)
		if bad != (c.why != "") || bad != also || why != back || bad && why != c.why {
			t.Errorf("%s with %s: %q %v, the other way round %q %v; want %q", c.a, c.b, why, bad, back, also, c.why)
		}
		if bad && strings.Contains(why.Text(), "_") {
			t.Errorf("%s has no words", why)
		}
	}
	_, err := Stock([]Weighed{{find(t, "CaCl2.2H2O"), 1}, {find(t, "MgSO4.7H2O"), 1}}, 10, 1, 20)
	if f := fault.Of(err); f == nil || f.Code != "conflict" {
		t.Errorf("a bottle of gypsum: %v", err)
	}
	var salts []*Salt
	for _, id := range []string{"KNO3", "Ca(NO3)2.4H2O", "KH2PO4", "MgSO4.7H2O", "Fe-DTPA"} {
		salts = append(salts, find(t, id))
	}
	for _, bottle := range Bottles(salts) {
		for i, a := range bottle {
			for _, b := range bottle[:i] {
				if why, bad := Conflict(a, b); bad {
					t.Errorf("%s and %s share a bottle: %s", a.ID, b.ID, why)
				}
			}
		}
	}
}

// Every salt of the table has the words for its hazards, and cautions to go with them.
func TestHazardsHaveWords(t *testing.T) {
	for _, s := range All() {
		for _, code := range s.Statements {
			if text, ok := Statement(code); !ok || text == "" {
				t.Errorf("%s: %s has no text", s.ID, code)
			}
		}
		if len(s.Cautions()) == 0 {
			t.Errorf("%s has no caution", s.ID)
		}
		oxidises := false
		for _, code := range s.Statements {
			oxidises = oxidises || code == "H272"
		}
		if oxidises != s.Has(Oxidiser) {
			t.Errorf("%s: H272 and the trait disagree", s.ID)
		}
	}
}

// Copper of a trace mix is counted: 0.1 % of copper, 2 g in 100 L are 0.02 mg/L.
func TestCopperOfATraceMix(t *testing.T) {
	mix, err := TraceMix("trace mix of the shop", Amounts{Fe: 0.07, Mn: 0.02, Cu: 0.001})
	if err != nil {
		t.Fatal(err)
	}
	adds, unsafe, err := CopperOf(0.001, 100, Weighed{mix, 2})
	if err != nil || !unsafe {
		t.Errorf("%v, %v", unsafe, err)
	}
	near(t, "copper", float64(adds), 0.02, 1e-12)
	if _, unsafe, _ := CopperOf(0, 100, Weighed{mix, 0.5}); unsafe {
		t.Error("0.005 mg/L is unsafe")
	}
	if _, err := TraceMix("impossible", Amounts{Fe: 0.7, Mn: 0.6}); err == nil {
		t.Error("130 % of metals are taken")
	}
}

// A plan for several nutrients at once: the potassium that nitrate and phosphate
// bring is counted before any is added.
func TestPlanCountsCoIons(t *testing.T) {
	p := Problem{Animals: true, Aims: []Aim{{Of: NO3, Value: 20}, {Of: PO4, Value: 2}, {Of: K, Value: 20}, {Of: Fe, Value: 0.3}}}
	for _, id := range []string{"KNO3", "KH2PO4", "K2SO4", "Fe-DTPA"} {
		p.Salts = append(p.Salts, find(t, id))
	}
	r, err := Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Missed) > 0 {
		t.Errorf("missed %+v", r.Missed)
	}
	// By hand: 20 NO3 bring 12.61 K and 2 PO4 0.82; 6.57 are left for K2SO4.
	near(t, "KNO3", r.PerLitre[0], 20/0.61328, 0.01)
	near(t, "K2SO4", r.PerLitre[2], (20-12.611-0.8234)/0.44875, 0.02)
	// With a cap on potassium below what nitrate brings, it is said.
	p.Aims = append(p.Aims[:2], Aim{Of: K, Value: 5, AtMost: true})
	r, err = Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Missed) == 0 || r.Reached[K] > 5.6 {
		t.Errorf("K %v, missed %+v", r.Reached[K], r.Missed)
	}
	w, err := r.For(p, 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range w {
		if x.Mass <= 0 {
			t.Errorf("%s weighs %v", x.Salt.ID, x.Mass)
		}
	}
}

func TestMeasures(t *testing.T) {
	strokes, err := Strokes(6, 1.5)
	if err != nil || strokes != 4 {
		t.Errorf("6 mL are %v strokes of 1.5, %v", strokes, err)
	}
	spoons, err := Spoons(8.8, 2.2)
	if err != nil {
		t.Error(err)
	}
	near(t, "spoons", spoons, 4, 1e-12)
	s, err := PumpSeconds(10, 40)
	if err != nil || s != 15 {
		t.Errorf("a pump of 40 mL a minute runs %v for 10 mL, %v", s, err)
	}
	if _, err := Strokes(6, 0); err == nil {
		t.Error("a stroke of nothing is taken")
	}
}
