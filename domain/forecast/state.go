package forecast

import (
	q "scaperound/domain/quantity"
)

// Version of State. A stored state of another version is not read: fold the
// tank's visits anew.
const Version = 2

// The terms of a tank's water. The first six change from day to day; the rest
// are what is learnt about the tank.
const (
	lnNO3 = iota // ln(mg/L + c0)
	lnPO4
	lnK
	lnFe
	gh // °d
	kh // °d

	eatNO3   // ln of the plants' uptake where there is plenty, mg/L a day
	eatPO4   // likewise
	eatK     // likewise
	eatFe    // likewise
	lossFe   // ln of the first-order loss, 1/d
	feedNO3  // ln of what the feed makes against what is usual for it
	feedPO4  // likewise
	driftK   // mg/L a day beyond the balance
	driftGH  // °d a day beyond the balance
	driftKH  // °d a day beyond the balance
	sinkKH   // ln of the soil's sink against the usual
	given    // ln of what is really dosed against the plan
	evap     // ln of the share of the water that evaporates in a day
	inNO3    // source water, mg/L
	inGH     // source water, °d
	inKH     // source water, °d
	kitNO3   // ln of what the kit shows against the truth
	kitPO4   // likewise
	kitK     // likewise
	kitFe    // likewise
	kitGH    // likewise
	kitKH    // likewise
	terms    // how many there are
	moves    = gh + 2
	coeffs   = terms * (terms + 1) / 2
	nutrient = 4 // how many are carried as ln(c + c0)
)

// State is what is known of a tank after a visit, its work included. It is plain
// numbers, to be stored with the evaluation. The zero State knows nothing.
type State struct {
	Version int
	Day     q.Date // of the last visit folded in
	SetUpOn q.Date // of the set-up that it speaks of; 0 where that is not known
	Visits  int

	Mean [terms]float64
	Cov  [coeffs]float64 // lower triangle by rows

	SinceFull float64 // days since the tank was last filled to its level
	Share     float64 // of the water usually changed; 0: never yet
	Every     float64 // usual days between visits; 0: not known

	Flow     FlowState
	Cylinder CylinderState
	Seen     [Tracked]Sight
	Turn     Turn
}

// Sight is what was last read of one kind.
type Sight struct {
	Count   int
	Last    q.Date
	Value   float64 // as read, canonical unit
	Guess   float64 // what was expected to be read
	Wrong   float64 // probability that the last reading was wrong, 0 to 1
	Side    float64 // standardised departure of the last reading
	Expired bool    // the kit was past its date
}

// Turn is what the last interval showed to have changed, as probabilities.
type Turn struct {
	Missed float64 // doses were missed far beyond the usual
	Rates  float64 // the plants' uptake or the feed changed
}

// Tracked is how many kinds are followed.
const Tracked = 8

// kinds in the order of Seen.
var kinds = [Tracked]q.Kind{q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.GH, q.KH, q.Flow, q.CylinderGross}

// Kinds are the readings that a forecast follows; the cylinder's is its weight.
func Kinds() []q.Kind { return kinds[:] }

func indexOf(k q.Kind) (int, bool) {
	for i, x := range kinds {
		if x == k {
			return i, true
		}
	}
	return 0, false
}

// Usable reports whether the state can be carried on: it is of this version and
// has seen a visit.
func (s *State) Usable() bool { return s.Version == Version && s.Visits > 0 }
