// Package tank says what a tank is: its dated set-up, what lives in it, what
// is dosed, what water it gets, what the shop has agreed and aims at.
package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// State of a tank's life. Only the first two fall due.
type State string

// States.
const (
	Starting State = "starting"
	Running  State = "running"
	Resting  State = "resting"
	Ended    State = "ended"
)

// Substrate is the ground.
type Substrate string

// Grounds that behave differently.
const (
	RichSoil         Substrate = "rich_soil"
	SandGravel       Substrate = "sand_gravel"
	SubstrateUnknown Substrate = "unknown"
)

// Planting is how densely planted the tank is.
type Planting string

// Densities of planting.
const (
	PlantingNew    Planting = "new"
	PlantingSparse Planting = "sparse"
	PlantingMedium Planting = "medium"
	PlantingDense  Planting = "dense"
)

// Stocking is how densely the tank is stocked, by eye.
type Stocking string

// Densities of stocking; empty where nobody said.
const (
	StockNone     Stocking = "none"
	StockLight    Stocking = "light"
	StockModerate Stocking = "moderate"
	StockHeavy    Stocking = "heavy"
	StockOver     Stocking = "over"
)

// Topoff is what replaces evaporation.
type Topoff string

// Ways to top off.
const (
	TopoffNone Topoff = "none"
	TopoffTap  Topoff = "tap"
	TopoffRO   Topoff = "ro"
)

// Setup is what a tank is at one moment: the newest of each dated record not
// later than that moment, put together.
type Setup struct {
	ID      string
	Name    string
	State   State
	SetUpOn q.Opt[q.Date]
	Since   time.Time // of the newest set-up row in it
	Note    string    // about that set-up

	Shape
	Light  Light
	Filter Filter
	Heater Heater
	CO2    CO2

	Topoff      Topoff
	Planting    Planting
	Stocking    Stocking       // empty: judge by the animals
	DrainLine   string         // the mark to which it is drained
	DrainLitres q.Opt[q.Litre] // what leaves down to that mark
	CanLitres   q.Opt[q.Litre] // the customer's can

	Room      Room
	Animals   []Living
	Plants    []Living
	Source    q.Opt[Source]
	ROShare   q.Share
	Share     CareShare
	Agreement Agreement
	KeepApart bool
	Pinned    []string
	Kits      []Instrument // what the readings may have been taken with
	Usual     []UsualKit   // kits that stay at this tank, whatever is in the bag
}

// Shape is what the net volume follows from. Sizes are inner sizes.
type Shape struct {
	Length, Width, Height q.Opt[q.Centimetre]
	Level                 q.Opt[q.Centimetre] // water over the bottom pane
	Metered               q.Opt[q.Litre]      // a metered first fill beats the sum
	Substrate             Substrate
	SubstrateDepth        q.Opt[q.Centimetre]
	Porosity              q.Opt[q.Share]
	Stone, Wood           q.Opt[q.Kilogram]
}

// Light over the tank.
type Light struct {
	Name    string
	On      q.Opt[q.MinuteOfDay]
	Hours   q.Opt[q.Hours]
	Percent q.Opt[float64] // of full power
}

// Filter and its own clean flow.
type Filter struct {
	Name    string
	Clean   q.Opt[q.LitrePerHour]
	Volume  q.Opt[q.Litre]
	Cleaned q.Opt[time.Time] // last cleaning known
}

// Heater and the set point.
type Heater struct {
	Name   string
	Power  q.Opt[q.Watt]
	Target q.Opt[q.Celsius]
}

// CO2 equipment.
type CO2 struct {
	Injected bool
	On       q.Opt[q.MinuteOfDay]
	Hours    q.Opt[q.Hours]
	Cylinder q.Opt[q.Kilogram] // CO2 in a full one
	Tare     q.Opt[q.Kilogram]
	Swapped  q.Opt[time.Time]
	SwapMass q.Opt[q.Kilogram] // gross, weighed full with the regulator on, at the swap
}

// Room is where the tank stands.
type Room struct {
	Altitude q.Opt[q.Metre]
	Volume   q.Opt[q.CubicMetre]
	CO2Alarm q.Opt[bool]
}

// Living is a group of plants or animals that is there now.
type Living struct {
	Group   string // an id of PlantGroups or AnimalGroups
	Species string
	Count   int
	Since   q.Opt[q.Date]
}

// CareShare is what this customer does between visits.
type CareShare struct {
	Feeds, TopsUp, Doses, ChangesWater bool
	Pinch                              q.Opt[q.Gram] // one of this customer's pinches, weighed once
	FeedPerDay                         q.Opt[q.Gram]
}

// Agreement is the contract for visits.
type Agreement struct {
	EveryDays     q.Opt[int]
	ToleranceDays int
	Minutes       int
	Skill         string
	TwoPeople     bool
	Preferred     string // staff id
	Weekdays      int    // that the shop may come on, as bits, Monday first; 0: any
}

// AgeWeeks is how long the tank has been planted on the day, where that is known.
func (s Setup) AgeWeeks(on q.Date) q.Opt[float64] {
	if !s.SetUpOn.OK || on < s.SetUpOn.V {
		return q.Opt[float64]{}
	}
	return q.Some(float64(on-s.SetUpOn.V) / 7)
}

// HasAnimals reports whether any animal is recorded.
func (s Setup) HasAnimals() bool {
	for _, a := range s.Animals {
		if a.Count > 0 {
			return true
		}
	}
	return false
}
