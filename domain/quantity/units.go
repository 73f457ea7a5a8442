// Package quantity holds the units as types, what can be measured, and how
// typed text becomes a number in the canonical unit.
//
// Every number of the domain is a float64 under a type that names its unit.
// Nothing here rounds: rounding belongs to the view.
package quantity

// Units of the domain. "°d" is the German degree of hardness (10 mg/L CaO).
type (
	Celsius        float64 // °C
	Kelvin         float64 // K
	PH             float64 // pH units, activity scale
	DegreeKH       float64 // °d of carbonate hardness (alkalinity)
	DegreeGH       float64 // °d of general hardness (Ca + Mg)
	MgPerLitre     float64 // mg/L of the whole ion unless the name says otherwise
	MgNPerLitre    float64 // mg/L as nitrogen
	MolPerLitre    float64 // mol/L
	MmolPerLitre   float64 // mmol/L
	MeqPerLitre    float64 // meq/L
	MicroSPerCm    float64 // µS/cm at 25 °C
	Micromol       float64 // µmol/m²/s of PAR: PPFD
	MolPerDay      float64 // mol/m²/d of PAR: DLI
	Litre          float64 // L
	Millilitre     float64 // mL
	LitrePerHour   float64 // L/h
	PerHour        float64 // 1/h: turnover
	Gram           float64 // g
	Milligram      float64 // mg
	Kilogram       float64 // kg
	Centimetre     float64 // cm
	Millimetre     float64 // mm
	Metre          float64 // m
	SquareMetre    float64 // m²
	CubicMetre     float64 // m³
	Watt           float64 // W
	Bar            float64 // bar
	Atmosphere     float64 // atm
	Hours          float64 // h
	Days           float64 // d
	Seconds        float64 // s
	Share          float64 // a part of a whole, 0 to 1
	PartPerMillion float64 // µmol/mol of a gas in air
)

// ToKelvin converts to the thermodynamic scale.
func (t Celsius) ToKelvin() Kelvin { return Kelvin(t) + 273.15 }

// Opt is a value that may not be known. The zero Opt is "not known", which is
// never the same as zero.
type Opt[T any] struct {
	V  T
	OK bool
}

// Some returns a known value.
func Some[T any](v T) Opt[T] { return Opt[T]{V: v, OK: true} }

// Or returns the value, or other where it is not known.
func (o Opt[T]) Or(other T) T {
	if o.OK {
		return o.V
	}
	return other
}

// Interval is what a reading or a result may truly be: Lo ≤ Value ≤ Hi in one
// unit. An open end is ±Inf.
type Interval struct{ Value, Lo, Hi float64 }
