package chem

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

// H. S. Harned and R. Davis (1943), J. Am. Chem. Soc. 65, 2030: measured pK1.
func TestPK1AgainstHarnedAndDavis(t *testing.T) {
	for c, want := range map[quantity.Celsius]float64{0: 6.579, 5: 6.517, 10: 6.464, 15: 6.419, 20: 6.381, 25: 6.352, 30: 6.327, 35: 6.309, 40: 6.298} {
		near(t, "pK1", must(PK1(c)), want, 0.0025)
	}
}

// H. S. Harned and S. R. Scholes (1941), J. Am. Chem. Soc. 63, 1706: measured pK2.
func TestPK2AgainstHarnedAndScholes(t *testing.T) {
	for c, want := range map[quantity.Celsius]float64{0: 10.625, 5: 10.557, 10: 10.490, 15: 10.430, 20: 10.377, 25: 10.329, 30: 10.290} {
		near(t, "pK2", must(PK2(c)), want, 0.01)
	}
}

// CRC Handbook of Chemistry and Physics, "Ionization constant of water".
func TestPKwAgainstCRC(t *testing.T) {
	for c, want := range map[quantity.Celsius]float64{0: 14.95, 10: 14.53, 20: 14.17, 25: 13.99, 30: 13.84, 40: 13.53} {
		near(t, "pKw", must(PKw(c)), want, 0.015)
	}
}

// R. F. Weiss (1974): 0.03397 mol/L/atm at 25 °C, here through dry air of pure CO2
// less its vapour pressure of 0.03126 atm (steam tables).
func TestHenryByBothSources(t *testing.T) {
	got := must(CO2WithAir(25, 100000, 0)) // a tenth of CO2
	near(t, "CO2 of a tenth", float64(got), 0.1*(1-0.03126)*0.03397*44009, 0.5)
	near(t, "Plummer and Busenberg against Weiss", math.Pow(10, -must(PHenry(25))), 0.0340, 0.0003)
}

// EN 25814 and ISO 5814, table of saturation at 1013.25 hPa.
func TestOxygenAgainstTheStandard(t *testing.T) {
	for c, want := range map[quantity.Celsius]float64{0: 14.62, 5: 12.77, 10: 11.29, 15: 10.08, 20: 9.09, 25: 8.26, 30: 7.56} {
		near(t, "oxygen", float64(must(OxygenSaturation(c, 0))), want, 0.006)
	}
	// Standard Methods 4500-O, note on pressure: 1000 m is 0.887 of the pressure.
	near(t, "oxygen at 1000 m over sea level", float64(must(OxygenSaturation(25, 1000))/must(OxygenSaturation(25, 0))), 0.884, 0.004)
}

// ISO 2533 (1975), table of the standard atmosphere, hPa.
func TestPressureAgainstISO2533(t *testing.T) {
	for h, want := range map[quantity.Metre]float64{0: 1013.25, 500: 954.61, 1000: 898.76, 2000: 795.01, 3000: 701.21} {
		near(t, "pressure", float64(must(AirPressure(h)))*1013.25, want, 0.2)
	}
}

// C. W. Davies (1962) with A of 0.509: γ of a 1:1 salt 0.965 at 0.001 and 0.902 at
// 0.01 mol/L (Robinson and Stokes, Electrolyte Solutions, KCl: 0.965 and 0.901).
func TestDaviesAgainstPotassiumChloride(t *testing.T) {
	for i, want := range map[quantity.MolPerLitre]float64{0.001: 0.965, 0.005: 0.927, 0.01: 0.901, 0.05: 0.816} {
		near(t, "γ of KCl", must(GammaDavies(25, i, 1)), want, 0.012)
	}
	near(t, "A", must(DebyeHuckelA(25)), 0.51, 0.003)
}

// UF/IFAS FA16, from Emerson et al. (1975): shares of free ammonia.
func TestFractionAgainstTheTable(t *testing.T) {
	for _, c := range []struct {
		ph   quantity.PH
		t    quantity.Celsius
		want float64
	}{{7, 16, 0.0029}, {7, 24, 0.0052}, {7.6, 24, 0.0206}, {8, 24, 0.0502}, {8.4, 16, 0.0688}, {8.4, 24, 0.1171}} {
		near(t, "share", float64(must(FractionNH3(c.ph, c.t))), c.want, 0.0001+0.006*c.want)
	}
}

// US EPA (2013): 17 and 1.9 mg/L at pH 7 and 20 °C.
func TestAmmoniaCriteria(t *testing.T) {
	near(t, "acute", float64(must(AmmoniaAcute(7, 20))), 17, 0.5)
	near(t, "chronic", float64(must(AmmoniaChronic(7, 20))), 1.9, 0.05)
}

// Tomasso, Simco and Davis (1979): sixteen chlorides to a nitrite.
func TestChlorideForNitrite(t *testing.T) {
	near(t, "chloride", float64(must(ChlorideForNitrite(46.005))), 16*35.45, 0.01)
	near(t, "salt", float64(must(SaltForChloride(35.45))), 58.44, 0.001)
}

// ISO 7888: potassium chloride of 0.001 and 0.01 mol/L conducts 147 and 1413 µS/cm
// at 25 °C.
func TestConductivityOfTheStandards(t *testing.T) {
	for mmol, want := range map[float64]float64{1: 147, 10: 1413} {
		var w Ions
		w[K], w[Cl] = quantity.MgPerLitre(mmol*MassK), quantity.MgPerLitre(mmol*MassCl)
		got := must(Conductivity(w))
		if want < got.Lo || want > got.Hi {
			t.Errorf("%v mmol/L KCl: %v is not within %v to %v", mmol, want, got.Lo, got.Hi)
		}
		near(t, "balance", float64(must(IonBalance(w)).Error), 0, 1e-12)
	}
}

// Calcite in equilibrium with air of 10^-3.5 atm CO2 at 25 °C: pH 8.3, 0.5 mmol/L Ca,
// 1 meq/L (W. Stumm and J. J. Morgan, Aquatic Chemistry; J. I. Drever, The
// Geochemistry of Natural Waters).
func TestCalciteInEquilibriumWithAir(t *testing.T) {
	si := must(CalciteIndex(quantity.MgPerLitre(0.49*MassCa), 8.27, KHOfAlkalinity(0.98), Water{25, 0.0015}))
	near(t, "saturation index", si, 0, 0.06)
}

// Definitions: 1 °d = 10 mg/L CaO; 1 °f = 10 mg/L CaCO3; 1 grain a US gallon is
// 17.12 mg/L, 1 Clark degree 14.25 mg/L (ISO 6059, handbook tables).
func TestDegrees(t *testing.T) {
	near(t, "CaCO3", CaCO3PerDegree, 17.85, 0.005)
	near(t, "French", PerFrench, 0.56, 0.001)
	near(t, "grain", CaCO3PerGrain, 17.12, 0.005)
	near(t, "Clark", CaCO3PerClark, 14.25, 0.005)
	near(t, "GH of 40 Ca and 10 Mg", float64(must(GHFromCaMg(40, 10))), (40/40.078+10/24.305)*5.6077, 1e-4)
}

// Molar masses as printed on bottles.
func TestFormulas(t *testing.T) {
	for f, want := range map[string]float64{
		"KNO3": 101.10, "KH2PO4": 136.09, "MgSO4.7H2O": 246.47, "MgSO4·7H2O": 246.47, "Ca(NO3)2.4H2O": 236.15, "(NH4)2SO4": 132.14, "CO(NH2)2": 60.06,
		"CuSO4.5H2O": 249.68, "Na2MoO4.2H2O": 241.95, "H3BO3": 61.83,
	} {
		near(t, f, must(Weigh(f)).Mass, want, 0.02)
	}
	near(t, "crystal water", must(Weigh("MgSO4.7H2O")).Water, 7*18.015, 0.001)
	for _, bad := range []string{"", "(", "K)", "Xx2", "k", "K0", "7", "((((((((K))))))))", "H2O.", "K(", "()2"} {
		if f, err := Weigh(bad); err == nil {
			t.Errorf("%q weighs %v", bad, f.Mass)
		}
	}
}

func FuzzWeigh(f *testing.F) {
	for _, s := range []string{"KNO3", "Ca(NO3)2.4H2O", "((K))", "K99999999999", "·", "2.3.4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		w, err := Weigh(s)
		if err == nil && !(w.Mass > 0 && w.Mass < 1e9 && w.Water >= 0 && w.Water <= w.Mass) {
			t.Errorf("%q weighs %+v", s, w)
		}
	})
}
