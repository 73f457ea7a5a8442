package chem

import (
	"math"
	"math/rand/v2"
	"testing"

	"scaperound/domain/quantity"
)

// An independent route to CO2: put known amounts of inorganic carbon and of strong
// base into water, find the pH at which charges balance, and read CO2 off the
// speciation. From that pH and the alkalinity the same CO2 must come out.
func TestCO2AgainstFullSpeciation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		temp := quantity.Celsius(15 + 15*r.Float64())
		w := Water{temp, quantity.MolPerLitre(0.001 + 0.015*r.Float64())}
		base := 0.0003 + 0.006*r.Float64()        // eq/L
		carbon := base * (1.02 + 0.8*r.Float64()) // mol/L
		k1, k2, kw := math.Pow(10, -must(PK1(temp))), math.Pow(10, -must(PK2(temp))), math.Pow(10, -must(PKw(temp)))
		g1, g2 := must(GammaDavies(temp, w.Ionic, 1)), must(GammaDavies(temp, w.Ionic, 2))
		speciate := func(ph float64) (co2, charge float64) {
			ah := math.Pow(10, -ph)
			// Activity products with concentrations: [HCO3] = K1 CO2/(ah γ1), …
			h := k1 / (ah * g1)
			c := h * k2 * g1 / (ah * g2)
			co2 = carbon / (1 + h + c)
			return co2, base + ah/g1 - kw/(ah*g1) - co2*h - 2*co2*c
		}
		lo, hi := 4.0, 10.5
		for range 200 {
			mid := (lo + hi) / 2
			if _, q := speciate(mid); q > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		ph := (lo + hi) / 2
		want, _ := speciate(ph)
		got, err := CO2(quantity.PH(ph), KHOfAlkalinity(quantity.MeqPerLitre(base*1000)), w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "CO2", float64(got), want*44009, 1e-8*want*44009+1e-9)
	}
}

func TestPHAndCO2AreInverse(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		w := Water{quantity.Celsius(10 + 25*r.Float64()), quantity.MolPerLitre(0.02 * r.Float64())}
		ph, kh := quantity.PH(5.2+3.2*r.Float64()), quantity.DegreeKH(0.5+15*r.Float64())
		c, err := CO2(ph, kh, w)
		if err != nil {
			t.Fatal(err)
		}
		if c > 2000 {
			continue
		}
		back, err := PHForCO2(c, kh, w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "pH", float64(back), float64(ph), 1e-9)
	}
}

func TestCO2IsMonotone(t *testing.T) {
	last := math.Inf(1)
	for ph := 5.0; ph < 8.6; ph += 0.05 {
		c := float64(must(CO2(quantity.PH(ph), 4, UsualWater(25))))
		if c >= last {
			t.Fatalf("CO2 does not fall at pH %.2f", ph)
		}
		last = c
	}
	last = -1
	for kh := 0.5; kh < 20; kh += 0.5 {
		c := float64(must(CO2(7, quantity.DegreeKH(kh), UsualWater(25))))
		if c <= last {
			t.Fatalf("CO2 does not rise at KH %.1f", kh)
		}
		last = c
	}
}

func exactly(v float64) quantity.Interval { return quantity.Interval{Value: v, Lo: v, Hi: v} }

func TestIntervals(t *testing.T) {
	// Four drops of one degree each: above 3, up to 4. The middle stands for it.
	e := must(CO2Interval(quantity.Interval{Value: 6.8, Lo: 6.7, Hi: 6.9}, quantity.Interval{Value: 4, Lo: 3, Hi: 4}, exactly(25), UsualIonic))
	mid := must(CO2(6.8, 3.5, UsualWater(25)))
	near(t, "middle", float64(e.Value), float64(mid), 1e-9)
	near(t, "lowest", float64(e.Lo), float64(must(CO2(6.9, 3, UsualWater(25)))), 1e-9)
	near(t, "highest", float64(e.Hi), float64(must(CO2(6.7, 4, UsualWater(25)))), 1e-9)
	if !(e.Lo <= e.Lo90 && e.Lo90 < e.Value && e.Value < e.Hi90 && e.Hi90 <= e.Hi) || e.UpperOnly || !e.Trusted {
		t.Errorf("%+v", e)
	}
	// A KH that may be nothing leaves the upper end alone.
	e = must(CO2Interval(exactly(6.8), quantity.Interval{Value: 1, Lo: 0, Hi: 1}, exactly(25), UsualIonic))
	if !e.UpperOnly || e.Lo != 0 || e.Lo90 != 0 || math.IsInf(float64(e.Hi90), 0) {
		t.Errorf("%+v", e)
	}
	// Above the last colour of the kit: CO2 is bounded from above only.
	e = must(CO2Interval(quantity.Interval{Value: 7.6, Lo: 7.6, Hi: math.Inf(1)}, quantity.Interval{Value: 4, Lo: 3.5, Hi: 4.5}, exactly(25), UsualIonic))
	if e.Lo != 0 || e.Lo90 != 0 || math.IsInf(float64(e.Hi), 1) || !math.IsInf(e.SigmaLn, 1) {
		t.Errorf("%+v", e)
	}
	// Below the first: from below only.
	e = must(CO2Interval(quantity.Interval{Value: 6, Lo: math.Inf(-1), Hi: 6}, exactly(4), exactly(25), UsualIonic))
	if !math.IsInf(float64(e.Hi), 1) || !math.IsInf(float64(e.Hi90), 1) || e.Lo <= 0 {
		t.Errorf("%+v", e)
	}
	if _, err := CO2Interval(quantity.Interval{Value: 8, Lo: 6, Hi: 7}, exactly(4), exactly(25), UsualIonic); err == nil {
		t.Error("a reading outside its own interval is taken")
	}
}

// The drop method and the pH/KH method must agree on water whose alkalinity is all
// carbonate and whose sample stands in known air.
func TestDropAgreesWithPHAndKH(t *testing.T) {
	for _, kh := range []quantity.DegreeKH{1, 2, 4, 8, 15} {
		w, air := UsualWater(25), Air{CO2: 800, Altitude: 300}
		sample := must(PHInAir(kh, w, air))
		for _, tank := range []quantity.PH{6.2, 6.6, 7.0} {
			got := must(CO2FromDrop(Drop{Degassed: sample, Tank: tank, KH: quantity.Some(kh), Water: w, Air: air}))
			want := must(CO2(tank, kh, w))
			// Weiss' and Plummer and Busenberg's constants are one on either side.
			near(t, "CO2", float64(got), float64(want), 1e-6*float64(want))
		}
		if g := must(CarbonateDoubt(sample, kh, w, air)); g.Doubt || math.Abs(float64(g.Gap)) > 1e-9 {
			t.Errorf("KH %v: %+v", kh, g)
		}
		if g := must(CarbonateDoubt(sample-0.5, kh, w, air)); !g.Doubt {
			t.Errorf("KH %v: half a pH unit raises no doubt", kh)
		}
	}
	d := Drop{Degassed: 8.1, Tank: 6.8, Water: UsualWater(25)}
	e := must(CO2DropInterval(quantity.Interval{Value: 8.1, Lo: 8, Hi: 8.2}, quantity.Interval{Value: 6.8, Lo: 6.7, Hi: 6.9}, quantity.Interval{Value: 425, Lo: 425, Hi: 1200}, d))
	if !(e.Lo < e.Lo90 && e.Lo90 < e.Value && e.Value < e.Hi90 && e.Hi90 <= e.Hi) {
		t.Errorf("%+v", e)
	}
}

// Raising pH and KH while ammonia is present: from pH 6.64 with 30 mg/L CO2 at KH 4
// to 7.64 with 3 mg/L, and with 2 mg/L TAN the free ammonia goes from 0.005 to 0.048.
func TestSwitchingCO2OffWithAmmonia(t *testing.T) {
	w := UsualWater(25)
	before, after := must(PHForCO2(30, 4, w)), must(PHForCO2(3, 4, w))
	near(t, "pH with CO2", float64(before), 6.64, 0.01)
	near(t, "pH without", float64(after), 7.64, 0.01)
	near(t, "NH3 with CO2", float64(must(NH3N(2, before, 25))), 0.005, 0.0005)
	near(t, "NH3 without", float64(must(NH3N(2, after, 25))), 0.048, 0.001)
}

func TestAfterChangeConservesMass(t *testing.T) {
	tank, tap := Batch{TAN: 1, KH: 2, Temp: 25, Ionic: 0.004}, Batch{TAN: 0.2, KH: 12, Temp: 15, Ionic: 0.01}
	a := must(NH3NAfterChange(tank, tap, 0.4, 0.6))
	near(t, "TAN", float64(a.TAN), 0.6*1+0.4*0.2, 1e-12)
	near(t, "KH", float64(a.KH), 0.6*2+0.4*12, 1e-12)
	near(t, "temperature", float64(a.Temp), 0.6*25+0.4*15, 1e-12)
	most := must(ChangeForNH3N(tank, tap, 0.05, 0.6))
	if most > 0 && must(NH3NAfterChange(tank, tap, most, 0.6)).NH3N > 0.05 {
		t.Errorf("a change of %v passes the limit", most)
	}
	if w := must(ChangeForNH3N(Batch{KH: 2, Temp: 25}, Batch{KH: 12, Temp: 25}, 0.02, 0.6)); w != 1 {
		t.Errorf("without ammonia only %v may be changed", w)
	}
}

// Outside its range each relation is a fault and not a number.
func TestOutsideIsAFault(t *testing.T) {
	bad := []error{}
	add := func(_ any, err error) { bad = append(bad, err) }
	add(CO2(3, 4, UsualWater(25)))
	add(CO2(7, -1, UsualWater(25)))
	add(CO2(quantity.PH(math.NaN()), 4, UsualWater(25)))
	add(CO2(7, 4, UsualWater(120)))
	add(CO2(7, 4, Water{25, 3}))
	add(PHForCO2(0, 4, UsualWater(25)))
	add(PHForCO2(30, 0, UsualWater(25)))
	add(CO2WithAir(-5, 425, 0))
	add(CO2WithAir(25, 425, 9000))
	add(CO2FromDrop(Drop{Degassed: 6, Tank: 7, Water: UsualWater(25), Air: Air{CO2: 425}}))
	add(OxygenSaturation(60, 0))
	add(NH3N(-1, 7, 25))
	add(FractionNH3(15, 25))
	add(AmmoniaChronic(4, 20))
	add(GHFromCaMg(-1, 0))
	add(GammaDavies(25, 0.01, 5))
	add(IonicFromEC(-1))
	add(IonicFromIons(Ions{-1}))
	add(CalciteIndex(0, 7, 4, UsualWater(25)))
	for i, err := range bad {
		if err == nil {
			t.Errorf("case %d is taken", i)
		}
	}
}

func BenchmarkCO2Interval(b *testing.B) {
	b.ReportAllocs()
	ph, kh, t := quantity.Interval{Value: 6.8, Lo: 6.7, Hi: 6.9}, quantity.Interval{Value: 4, Lo: 3, Hi: 4}, quantity.Interval{Value: 25, Lo: 24.5, Hi: 25.5}
	for b.Loop() {
		if _, err := CO2Interval(ph, kh, t, UsualIonic); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPHForCO2(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := PHForCO2(30, 4, UsualWater(25)); err != nil {
			b.Fatal(err)
		}
	}
}
