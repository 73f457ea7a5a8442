package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// Kit is a type of test kit or meter. It does not change: a corrected one is
// another kit.
type Kit struct {
	ID       string
	Name     string
	Measures q.Kind
	Type     InstrumentType
	Unit     q.Unit
	Step     q.Opt[float64] // per drop, or the meter's last digit, in Unit
	SD       q.Opt[float64] // in Unit
	Floor    q.Opt[float64] // in Unit
	SampleML q.Opt[q.Millilitre]
	Classes  []Class
	Archived bool
	Lots     []Lot // when read
}

// Lot is one box of a kit, or one meter.
type Lot struct {
	ID         string
	Kit        string
	Lot        string // as printed on the box, or the meter's number
	Opened     q.Opt[q.Date]
	Expires    q.Opt[q.Date]
	Keeper     string // staff id; empty: at the shop
	KeeperName string // when read
	Retired    q.Opt[time.Time]
	Checks     []MeterCheck // newest first, when read
}

// MeterCheck is a meter or kit held against a known value.
type MeterCheck struct {
	ID         string
	Lot        string
	At         time.Time
	Against    float64 // in the kit's unit
	Read       float64 // in the kit's unit, before any adjustment
	Calibrated bool    // adjusted to it afterwards
	Author     string  // name, when read
}

// Off is how far the instrument read from the known value, in the kit's unit.
func (m MeterCheck) Off() float64 { return m.Read - m.Against }
