package quantity

// Kind names what is measured. The ids are stable: they are part of form
// fields, stored readings and documents.
type Kind string

// What can be measured at a tank.
const (
	Temperature    Kind = "temp"
	TempMax        Kind = "temp_max"
	TempMin        Kind = "temp_min"
	Acidity        Kind = "ph"
	KH             Kind = "kh"
	GH             Kind = "gh"
	TAN            Kind = "tan" // total ammonia as nitrogen
	Nitrite        Kind = "no2"
	Nitrate        Kind = "no3"
	NitrateN       Kind = "no3_n"
	Phosphate      Kind = "po4"
	Potassium      Kind = "k"
	Iron           Kind = "fe"
	Calcium        Kind = "ca"
	Magnesium      Kind = "mg"
	Sodium         Kind = "na"
	Chloride       Kind = "cl"
	Sulfate        Kind = "so4"
	Silicate       Kind = "sio2"
	Copper         Kind = "cu"
	Zinc           Kind = "zn"
	FreeChlorine   Kind = "free_chlorine"
	TotalChlorine  Kind = "total_chlorine"
	EC             Kind = "ec"
	TDS            Kind = "tds"
	CO2            Kind = "co2"
	CO2Bubbles     Kind = "co2_bubbles"
	IndicatorKH    Kind = "co2_indicator_kh"
	IndicatorPH    Kind = "co2_indicator_ph"
	CO2Use         Kind = "co2_use"
	CO2Air         Kind = "co2_air"
	CylinderGross  Kind = "cylinder_gross"
	CylinderLoss   Kind = "cylinder_missing"
	Gauge          Kind = "gauge"
	WorkPressure   Kind = "working_pressure"
	Oxygen         Kind = "oxygen"
	OxygenShare    Kind = "oxygen_saturation"
	GasTotal       Kind = "gas_total"
	PPFD           Kind = "ppfd"
	PPFDMax        Kind = "ppfd_max"
	PPFDMin        Kind = "ppfd_min"
	Flow           Kind = "flow"
	FlowShare      Kind = "flow_share"
	LevelDrop      Kind = "level_drop"
	Evaporation    Kind = "evaporation"
	Feed           Kind = "feed"
	ChangeDaysAgo  Kind = "change_days_ago"
	ChangeFraction Kind = "change_fraction"
	StrayVoltage   Kind = "stray_voltage"
)

// Measure describes one kind: its canonical unit, what can be true at all and
// what is likely enough not to be asked about.
type Measure struct {
	Kind     Kind
	Title    string // on screens, in the words of the trade
	Unit     Unit   // canonical
	Decimals int    // digits shown after the point in the canonical unit
	Range           // possible; outside is refused
	Likely   Range  // outside is asked about once
}

// DecimalsAt is how many digits after the point a value of the kind is shown
// with: a colour or a drop in tens of milligrams is not read to tenths.
func (m Measure) DecimalsAt(v float64) int {
	if m.Unit == MgL && m.Kind != Oxygen && v >= 10 {
		return max(m.Decimals-1, 0)
	}
	return m.Decimals
}

// Range is a closed interval in the canonical unit.
type Range struct{ Lo, Hi float64 }

// Holds reports whether v lies in the range. NaN does not.
func (r Range) Holds(v float64) bool { return v >= r.Lo && v <= r.Hi }

// measures is ordered as screens list them. Possible ranges are physical or
// instrument limits; likely ranges are what planted freshwater tanks, their
// source water and the usual kits show (trade practice).
var measures = []Measure{
	{Temperature, "Temperature", DegC, 1, Range{-5, 60}, Range{14, 34}},
	{TempMax, "Highest temperature", DegC, 1, Range{-5, 60}, Range{16, 36}},
	{TempMin, "Lowest temperature", DegC, 1, Range{-5, 60}, Range{10, 32}},
	{Acidity, "pH", PHUnit, 2, Range{0, 14}, Range{4.5, 9.5}},
	{KH, "KH", DKH, 1, Range{0, 100}, Range{0, 25}},
	{GH, "GH", DGH, 1, Range{0, 200}, Range{0, 40}},
	{TAN, "Total ammonia", MgL, 2, Range{0, 200}, Range{0, 10}},
	{Nitrite, "NO2", MgL, 2, Range{0, 200}, Range{0, 5}},
	{Nitrate, "NO3", MgL, 1, Range{0, 2000}, Range{0, 200}},
	{NitrateN, "NO3-N", MgL, 1, Range{0, 500}, Range{0, 50}},
	{Phosphate, "PO4", MgL, 2, Range{0, 200}, Range{0, 10}},
	{Potassium, "K", MgL, 1, Range{0, 1000}, Range{0, 80}},
	{Iron, "Fe", MgL, 2, Range{0, 50}, Range{0, 2}},
	{Calcium, "Ca", MgL, 0, Range{0, 2000}, Range{0, 250}},
	{Magnesium, "Mg", MgL, 0, Range{0, 1000}, Range{0, 80}},
	{Sodium, "Na", MgL, 0, Range{0, 5000}, Range{0, 250}},
	{Chloride, "Cl", MgL, 0, Range{0, 10000}, Range{0, 400}},
	{Sulfate, "SO4", MgL, 0, Range{0, 5000}, Range{0, 500}},
	{Silicate, "SiO2", MgL, 1, Range{0, 200}, Range{0, 40}},
	{Copper, "Cu", MgL, 3, Range{0, 50}, Range{0, 1}},
	{Zinc, "Zn", MgL, 3, Range{0, 50}, Range{0, 3}},
	{FreeChlorine, "Free chlorine", MgL, 2, Range{0, 50}, Range{0, 3}},
	{TotalChlorine, "Total chlorine", MgL, 2, Range{0, 50}, Range{0, 4}},
	{EC, "EC", USCm, 0, Range{0, 80000}, Range{5, 2500}},
	{TDS, "TDS", MgL, 0, Range{0, 50000}, Range{0, 1600}},
	{CO2, "CO2", MgL, 0, Range{0, 1500}, Range{0, 100}},
	{CO2Bubbles, "CO2 bubbles", PerMinute, 0, Range{0, 2000}, Range{0, 600}},
	{IndicatorKH, "Indicator KH", DKH, 1, Range{0.1, 40}, Range{1, 10}},
	{IndicatorPH, "Indicator pH", PHUnit, 1, Range{4, 10}, Range{5.5, 8.5}},
	{CO2Use, "CO2 use", GramDay, 1, Range{0, 5000}, Range{0, 120}},
	{CO2Air, "CO2 in room air", PPMAir, 0, Range{100, 1000000}, Range{350, 5000}},
	{CylinderGross, "Cylinder weight", Kg, 2, Range{0, 200}, Range{0.5, 40}},
	{CylinderLoss, "Missing from cylinder", Kg, 2, Range{0, 100}, Range{0, 12}},
	{Gauge, "Cylinder gauge", BarUnit, 0, Range{0, 300}, Range{0, 90}},
	{WorkPressure, "Working pressure", BarUnit, 1, Range{0, 20}, Range{0, 5}},
	{Oxygen, "Oxygen", MgL, 1, Range{0, 60}, Range{2, 16}},
	{OxygenShare, "Oxygen saturation", Percent, 0, Range{0, 500}, Range{20, 180}},
	{GasTotal, "Total gas", Percent, 0, Range{0, 300}, Range{80, 130}},
	{PPFD, "PPFD", Umol, 0, Range{0, 3000}, Range{2, 500}},
	{PPFDMax, "PPFD highest", Umol, 0, Range{0, 3000}, Range{2, 900}},
	{PPFDMin, "PPFD lowest", Umol, 0, Range{0, 3000}, Range{0, 400}},
	{Flow, "Flow", LH, 0, Range{0, 50000}, Range{10, 6000}},
	{FlowShare, "Flow of clean", Percent, 0, Range{0, 300}, Range{5, 120}},
	{LevelDrop, "Level drop", MM, 0, Range{0, 2000}, Range{0, 150}},
	{Evaporation, "Evaporation", LWeek, 1, Range{0, 2000}, Range{0, 80}},
	{Feed, "Feed", GramDay, 2, Range{0, 5000}, Range{0, 30}},
	{ChangeDaysAgo, "Days since change", Day, 0, Range{0, 20000}, Range{0, 120}},
	{ChangeFraction, "Share changed", ShareUnit, 2, Range{0, 1}, Range{0, 0.95}},
	{StrayVoltage, "Stray voltage", Volt, 0, Range{0, 1000}, Range{0, 60}},
}

var measureByKind = func() map[Kind]*Measure {
	m := make(map[Kind]*Measure, len(measures))
	for i := range measures {
		m[measures[i].Kind] = &measures[i]
	}
	return m
}()

// MeasureOf describes the kind; ok is false for a kind that nobody knows.
func MeasureOf(k Kind) (m Measure, ok bool) {
	p, ok := measureByKind[k]
	if !ok {
		return Measure{Kind: k, Title: string(k)}, false
	}
	return *p, true
}

// Measures lists everything that can be measured, in the order of the screens.
// The caller must not change the slice.
func Measures() []Measure { return measures }
