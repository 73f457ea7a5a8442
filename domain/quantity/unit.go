package quantity

import "strings"

// Unit is a unit's symbol as it is written in forms and documents (ASCII, so
// that it survives every wire). Sign is how a screen writes it.
type Unit string

// Symbols. Those a person may choose between for one kind are in unitTable.
const (
	PHUnit    Unit = "pH"
	DKH       Unit = "dKH"
	DGH       Unit = "dGH"
	MgL       Unit = "mg/L"
	PPMCaCO3  Unit = "ppm_CaCO3"
	MeqL      Unit = "meq/L"
	MmolL     Unit = "mmol/L"
	DegC      Unit = "C"
	DegF      Unit = "F"
	USCm      Unit = "uS/cm"
	LH        Unit = "L/h"
	GalUSH    Unit = "galUS/h"
	Kg        Unit = "kg"
	Gr        Unit = "g"
	Lb        Unit = "lb"
	L         Unit = "L"
	GalUS     Unit = "galUS"
	GalUK     Unit = "galUK"
	ML        Unit = "mL"
	Umol      Unit = "umol/m2/s"
	BarUnit   Unit = "bar"
	Psi       Unit = "psi"
	CM        Unit = "cm"
	MM        Unit = "mm"
	Inch      Unit = "in"
	M         Unit = "m"
	Foot      Unit = "ft"
	M3        Unit = "m3"
	Foot3     Unit = "ft3"
	Percent   Unit = "%"
	PerMinute Unit = "1/min"
	GramDay   Unit = "g/d"
	PPMAir    Unit = "ppm"
	LWeek     Unit = "L/week"
	Day       Unit = "d"
	ShareUnit Unit = "1"
	Volt      Unit = "V"
	Minute    Unit = "min"
)

// Factors. 1 °d := 10 mg/L CaO, M(CaO) = 56.077 g/mol, M(CaCO3) = 100.086 g/mol
// (IUPAC abridged atomic weights).
const (
	MmolPerDegree  = 10.0 / 56.077                      // mmol/L Ca+Mg per °dGH
	MeqPerDegree   = 2 * MmolPerDegree                  // meq/L per °dKH
	CaCO3PerDegree = 100.086 * MmolPerDegree            // mg/L CaCO3 per °d
	LitrePerGalUS  = 3.785411784                        // exact, 231 in³
	LitrePerGalUK  = 4.54609                            // exact, UK Weights and Measures Act 1985
	GramPerLb      = 453.59237                          // exact
	CmPerInch      = 2.54                               // exact
	MPerFoot       = 0.3048                             // exact
	M3PerFoot3     = MPerFoot * MPerFoot * MPerFoot     // exact
	BarPerPsi      = 0.0689475729316836                 // lbf/in²
	NO3PerN        = (14.007 + 3*15.999) / 14.007       // mg NO3 per mg N
	NO2PerN        = (14.007 + 2*15.999) / 14.007       // mg NO2 per mg N
	NPerNH4        = 14.007 / (14.007 + 4*1.008)        // mg N per mg NH4
	NPerNH3        = 14.007 / (14.007 + 3*1.008)        // mg N per mg NH3
	PO4PerP        = (30.974 + 4*15.999) / 30.974       // mg PO4 per mg P
	PO4PerP2O5     = 2 * 94.970 / (2*30.974 + 5*15.999) // mg PO4 per mg P2O5
	KPerK2O        = 2 * 39.098 / (2*39.098 + 15.999)   // mg K per mg K2O
)

// conversion: canonical = typed*Factor + Offset.
type conversion struct {
	unit           Unit
	factor, offset float64
}

// species carries what a kit's label may report instead of the canonical ion.
const (
	AsN    Unit = "mg/L N"
	AsNH4  Unit = "mg/L NH4"
	AsNH3  Unit = "mg/L NH3"
	AsP    Unit = "mg/L P"
	AsP2O5 Unit = "mg/L P2O5"
	AsK2O  Unit = "mg/L K2O"
)

var (
	tempUnits   = []conversion{{DegC, 1, 0}, {DegF, 5.0 / 9, -32 * 5.0 / 9}}
	weightUnits = []conversion{{Kg, 1, 0}, {Gr, 1e-3, 0}, {Lb, GramPerLb / 1e3, 0}}
	barUnits    = []conversion{{BarUnit, 1, 0}, {Psi, BarPerPsi, 0}}
)

var unitTable = map[Kind][]conversion{
	Temperature:   tempUnits,
	TempMax:       tempUnits,
	TempMin:       tempUnits,
	KH:            {{DKH, 1, 0}, {PPMCaCO3, 1 / CaCO3PerDegree, 0}, {MeqL, 1 / MeqPerDegree, 0}, {MmolL, 1 / MeqPerDegree, 0}},
	GH:            {{DGH, 1, 0}, {PPMCaCO3, 1 / CaCO3PerDegree, 0}, {MmolL, 1 / MmolPerDegree, 0}, {MeqL, 1 / MeqPerDegree, 0}},
	IndicatorKH:   {{DKH, 1, 0}, {PPMCaCO3, 1 / CaCO3PerDegree, 0}, {MeqL, 1 / MeqPerDegree, 0}},
	TAN:           {{MgL, 1, 0}, {AsN, 1, 0}, {AsNH4, NPerNH4, 0}, {AsNH3, NPerNH3, 0}},
	Nitrite:       {{MgL, 1, 0}, {AsN, NO2PerN, 0}},
	Nitrate:       {{MgL, 1, 0}, {AsN, NO3PerN, 0}},
	Phosphate:     {{MgL, 1, 0}, {AsP, PO4PerP, 0}, {AsP2O5, PO4PerP2O5, 0}},
	Potassium:     {{MgL, 1, 0}, {AsK2O, KPerK2O, 0}},
	EC:            {{USCm, 1, 0}, {"mS/cm", 1e3, 0}},
	Flow:          {{LH, 1, 0}, {GalUSH, LitrePerGalUS, 0}},
	CylinderGross: weightUnits,
	CylinderLoss:  weightUnits,
	Gauge:         barUnits,
	WorkPressure:  barUnits,
	LevelDrop:     {{MM, 1, 0}, {CM, 10, 0}, {Inch, 10 * CmPerInch, 0}},
	CO2Use:        {{GramDay, 1, 0}},
}

// UnitsFor lists the units in which the kind may be typed, the canonical first.
func UnitsFor(k Kind) []Unit {
	if cs, ok := unitTable[k]; ok {
		us := make([]Unit, len(cs))
		for i, c := range cs {
			us[i] = c.unit
		}
		return us
	}
	m, _ := MeasureOf(k)
	return []Unit{m.Unit}
}

// ToCanonical converts v from u to the kind's canonical unit; ok is false where
// the unit does not fit the kind.
func ToCanonical(k Kind, v float64, u Unit) (canonical float64, ok bool) {
	for _, c := range unitTable[k] {
		if c.unit == u {
			return v*c.factor + c.offset, true
		}
	}
	m, known := MeasureOf(k)
	return v, known && u == m.Unit
}

// FromCanonical converts a canonical value of the kind to u.
func FromCanonical(k Kind, v float64, u Unit) (typed float64, ok bool) {
	for _, c := range unitTable[k] {
		if c.unit == u {
			return (v - c.offset) / c.factor, true
		}
	}
	m, known := MeasureOf(k)
	return v, known && u == m.Unit
}

// Sign is the unit as a person reads it.
func (u Unit) Sign() string {
	switch u {
	case DegC:
		return "°C"
	case DegF:
		return "°F"
	case DKH:
		return "°dKH"
	case DGH:
		return "°dGH"
	case USCm:
		return "µS/cm"
	case PPMCaCO3:
		return "ppm CaCO₃"
	case Umol:
		return "µmol/m²/s"
	case GalUS, GalUK:
		return "gal"
	case GalUSH:
		return "gal/h"
	case M3:
		return "m³"
	case Foot3:
		return "ft³"
	case ShareUnit, PHUnit:
		return ""
	case "deg d":
		return "°d"
	case "K": // of a difference, which people give in the degrees of the thermometer
		return "°C"
	case "dF":
		return "°F"
	case "d":
		return "days"
	case "1/d":
		return "a day"
	case "1/h":
		return "an hour"
	case "mg/L/d":
		return "mg/L a day"
	case "galUS/d":
		return "gal/d"
	}
	if strings.IndexByte(string(u), 'm') < 0 && strings.IndexByte(string(u), 't') < 0 {
		return string(u)
	}
	// Squares and cubes of lengths are written as people do.
	s := string(u)
	for _, length := range [...]string{"m", "ft"} {
		s = strings.ReplaceAll(strings.ReplaceAll(s, length+"2", length+"²"), length+"3", length+"³")
	}
	return s
}
