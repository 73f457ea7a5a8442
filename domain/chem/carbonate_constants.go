package chem

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// analytic is log K(T) = a + b·T + c/T + d·log T + e/T², T in kelvin: the form in
// which the constants of the carbonate system are published.
type analytic struct{ a, b, c, d, e float64 }

func (f analytic) at(t quantity.Kelvin, logT float64) float64 {
	k := float64(t)
	return f.a + float64(f.b*k) + f.c/k + float64(f.d*logT) + f.e/float64(k*k)
}

// The constants of the CO2 system in pure water at 1 atm, 0 to 100 °C.
//
// "CO2" is CO2(aq) and H2CO3 together; a constant of H2CO3 alone must not be
// used beside them.
//
// Source: L. N. Plummer and E. Busenberg (1982), The solubilities of calcite,
// aragonite and vaterite in CO2-H2O solutions between 0 and 90 °C, Geochimica et
// Cosmochimica Acta 46, 1011-1040.
var (
	henryCO2  = analytic{108.3865, 0.01985076, -6919.53, -40.45154, 669365}    // CO2(g) = CO2(aq), mol/kg/atm
	firstCO2  = analytic{-356.3094, -0.06091964, 21834.37, 126.8339, -1684915} // CO2 + H2O = H+ + HCO3-
	secondCO2 = analytic{-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9} // HCO3- = H+ + CO3--
	calcite   = analytic{-171.9065, -0.077993, 2839.319, 71.595, 0}            // CaCO3 = Ca++ + CO3--
	aragonite = analytic{-171.9773, -0.077993, 2903.293, 71.595, 0}            // same
	vaterite  = analytic{-172.1295, -0.077993, 3074.688, 71.595, 0}            // same
	waterIon  = analytic{-283.971, -0.05069842, 13323.0, 102.24447, -1119669}  // H2O = H+ + OH-; see PKw
)

func constant(f analytic, t quantity.Celsius, lo, hi float64) (float64, error) {
	if err := num.Within("Temperature", float64(t), lo, hi, "°C"); err != nil {
		return 0, err
	}
	k := t.ToKelvin()
	return f.at(k, num.Log10(float64(k))), nil
}

// PK1 returns -log K1 of CO2 + H2O = H+ + HCO3-, 0 to 100 °C.
func PK1(t quantity.Celsius) (float64, error) { return negative(constant(firstCO2, t, 0, 100)) }

// PK2 returns -log K2 of HCO3- = H+ + CO3--, 0 to 100 °C.
func PK2(t quantity.Celsius) (float64, error) { return negative(constant(secondCO2, t, 0, 100)) }

// PHenry returns -log KH of CO2(g) = CO2(aq) in mol/kg/atm, 0 to 100 °C.
func PHenry(t quantity.Celsius) (float64, error) { return negative(constant(henryCO2, t, 0, 100)) }

// LogCalcite returns log K of calcite, 0 to 90 °C.
func LogCalcite(t quantity.Celsius) (float64, error) { return constant(calcite, t, 0, 90) }

// LogAragonite returns log K of aragonite, 0 to 90 °C.
func LogAragonite(t quantity.Celsius) (float64, error) { return constant(aragonite, t, 0, 90) }

// LogVaterite returns log K of vaterite, 0 to 90 °C.
func LogVaterite(t quantity.Celsius) (float64, error) { return constant(vaterite, t, 0, 90) }

// PKw returns -log Kw of water at 1 atm, 0 to 100 °C: 14.000 at 25 °C.
//
// Source: the analytical expression that geochemical models have used since
// WATEQ (A. H. Truesdell and B. F. Jones 1974, J. Res. US Geol. Survey 2, 233).
func PKw(t quantity.Celsius) (float64, error) { return negative(constant(waterIon, t, 0, 100)) }

func negative(v float64, err error) (float64, error) {
	if err != nil {
		return 0, err
	}
	return -v, nil
}

// finite reports whether none of the values is NaN or an infinity.
func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
