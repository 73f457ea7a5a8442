package tank

import q "scaperound/domain/quantity"

// InstrumentType is how a kit or meter is read.
type InstrumentType string

// Types of instruments.
const (
	Drops   InstrumentType = "drops"   // counted until the colour turns
	Classes InstrumentType = "classes" // compared with printed colours
	Meter   InstrumentType = "meter"
	Bucket  InstrumentType = "bucket"
	Scale   InstrumentType = "scale"
)

// Instrument is one lot of a kit, or one meter: what a reading was taken with.
type Instrument struct {
	Lot      string // id of the lot
	Kit      string // id of the kit
	Name     string
	Measures q.Kind
	Type     InstrumentType
	Unit     q.Unit
	Step     q.Opt[float64] // per drop, or the meter's last digit, in Unit
	SD       q.Opt[float64] // standard deviation of a reading, in Unit
	Floor    q.Opt[float64] // the smallest that it tells from nothing, in Unit
	Classes  []Class
	Opened   q.Opt[q.Date]
	Expires  q.Opt[q.Date]
	Checked  q.Opt[q.Date] // last calibration
	Keeper   string        // staff id; empty: stays at the tank or in the shop
}

// Class is one printed colour and what it can mean.
type Class struct {
	Label float64
	Lo    float64
	Hi    q.Opt[float64] // not known: open end
}

// Expired reports whether the kit is past its date on the day.
func (i Instrument) Expired(on q.Date) bool { return i.Expires.OK && on > i.Expires.V }

// UsualKit says that a kind is measured at this tank with a kit that stays there.
type UsualKit struct {
	Kind q.Kind
	Kit  string // id of the kit
}
