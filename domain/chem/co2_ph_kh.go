package chem

import (
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Water is what the constants depend on.
type Water struct {
	Temp  quantity.Celsius
	Ionic quantity.MolPerLitre // UsualIonic where nothing is known
}

// UsualWater is water of temperature t with the usual ionic strength.
func UsualWater(t quantity.Celsius) Water { return Water{Temp: t, Ionic: UsualIonic} }

// carbonate is the CO2 system at one temperature and ionic strength.
type carbonate struct{ k1, k2, kw, g1, g2 float64 }

func (w Water) carbonate() (carbonate, error) {
	if err := num.Within("Temperature", float64(w.Temp), 0, 60, "°C"); err != nil {
		return carbonate{}, err
	}
	if err := num.Within("Ionic strength", float64(w.Ionic), 0, MaxIonic, "mol/L"); err != nil {
		return carbonate{}, err
	}
	k := w.Temp.ToKelvin()
	logT := num.Log10(float64(k))
	a := debyeHuckelA(w.Temp)
	lg := logGamma(a, w.Ionic, 1)
	return carbonate{
		k1: num.Exp10(firstCO2.at(k, logT)),
		k2: num.Exp10(secondCO2.at(k, logT)),
		kw: num.Exp10(waterIon.at(k, logT)),
		g1: num.Exp10(lg),
		g2: num.Exp10(4 * lg),
	}, nil
}

// bicarbonate returns [HCO3-] in mol/L at hydrogen activity ah and alkalinity
// alk (eq/L); it is below zero where the water itself makes more alkalinity.
func (c carbonate) bicarbonate(ah, alk float64) float64 {
	carb := alk - c.kw/float64(ah*c.g1) + ah/c.g1
	return carb / (1 + 2*c.k2*c.g1/float64(ah*c.g2))
}

// co2 returns CO2 in mg/L, never below zero.
func (c carbonate) co2(ah, alk float64) float64 {
	return max(0, ah*c.g1*c.bicarbonate(ah, alk)/c.k1*MassCO2*1000)
}

// The range in which CO2 is computed from pH and KH, and the narrower one in
// which the result is not an extrapolation.
const (
	minPH, maxPH           = 4.3, 10.0
	trustedLow, trustedTop = 5.0, 8.6
	trustedKH              = 0.5
	maxKH                  = 60.0
)

func checkPHKH(ph quantity.PH, kh quantity.DegreeKH) error {
	if err := num.Within("pH", float64(ph), minPH, maxPH, ""); err != nil {
		return err
	}
	return num.Within("KH", float64(kh), 0, maxKH, "°d")
}

// CO2 returns the dissolved CO2 of water whose alkalinity is all carbonate.
//
// A glass electrode reads activity, so aH = 10^-pH is used as such and the
// bicarbonate as a concentration:
//
//	carb = Alk - Kw/(aH γ1) + aH/γ1
//	HCO3 = carb/(1 + 2 K2 γ1/(aH γ2))
//	CO2  = aH γ1 HCO3/K1
//
// It takes pH 4.3 to 10, KH 0 to 60 °d and 0 to 60 °C; Trusted says whether
// that is more than an extrapolation. Phosphate, humic acids and organic
// buffers make it an upper bound (see KHFromPhosphate, CarbonateDoubt).
//
// Source: W. Stumm and J. J. Morgan, Aquatic Chemistry, the mixed constant; for
// the constants see PK1, PK2, PKw and GammaDavies.
func CO2(ph quantity.PH, kh quantity.DegreeKH, w Water) (quantity.MgPerLitre, error) {
	if err := checkPHKH(ph, kh); err != nil {
		return 0, err
	}
	c, err := w.carbonate()
	if err != nil {
		return 0, err
	}
	return quantity.MgPerLitre(c.co2(num.Exp10(-float64(ph)), float64(kh)*MeqPerDegree/1000)), nil
}

// Trusted reports whether CO2 from this pH and KH is within the range in which
// the method was ever compared with others: pH 5 to 8.6, KH from 0.5 °d.
func Trusted(ph quantity.PH, kh quantity.DegreeKH) bool {
	return ph >= trustedLow && ph <= trustedTop && kh >= trustedKH
}

// PHForCO2 returns the pH at which water of this KH holds the wanted CO2: the
// inverse of CO2. The wanted CO2 must be above 0 and at most 2000 mg/L, the KH
// above 0; a result outside pH 4.3 to 10 is a fault.
func PHForCO2(co2 quantity.MgPerLitre, kh quantity.DegreeKH, w Water) (quantity.PH, error) {
	if err := num.Within("CO2", float64(co2), 1e-4, 2000, "mg/L"); err != nil {
		return 0, err
	}
	if err := num.Within("KH", float64(kh), 0.01, maxKH, "°d"); err != nil {
		return 0, err
	}
	c, err := w.carbonate()
	if err != nil {
		return 0, err
	}
	ah, ok := c.acidityFor(float64(co2), float64(kh)*MeqPerDegree/1000)
	if !ok {
		return 0, fault.New(fault.Invalid, "No pH from %g to %g gives %g mg/L of CO2 at KH %g °d.", minPH, maxPH, float64(co2), float64(kh))
	}
	return quantity.PH(-num.Log10(ah)), nil
}

// acidityFor finds aH by halving the interval of its logarithm; CO2 rises with
// aH throughout.
func (c carbonate) acidityFor(co2, alk float64) (float64, bool) {
	const acid, basic = 5.0118723362727e-5, 1e-10 // pH 4.3 and 10
	lo, hi := basic, acid
	if c.co2(lo, alk) > co2 || c.co2(hi, alk) < co2 {
		return 0, false
	}
	for hi > lo*(1+1e-14) {
		mid := sqrt(lo * hi)
		if mid <= lo || mid >= hi {
			break
		}
		if c.co2(mid, alk) < co2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return sqrt(lo * hi), true
}
