package visit

import (
	"time"

	q "scaperound/domain/quantity"
)

// StopOutcome is how a stop ended.
type StopOutcome string

// Outcomes. A stop at which nobody could get in is complete without a visit.
const (
	UnderWay      StopOutcome = "under_way"
	StopDone      StopOutcome = "done"
	StopPartly    StopOutcome = "partly"
	CouldNotEnter StopOutcome = "could_not_get_in"
)

// Stop is one call at one site, with all of its tanks.
type Stop struct {
	ID            string
	Site          string
	SiteName      string
	Customer      string
	Address       string
	Arrived, Left q.Opt[time.Time]
	Outcome       StopOutcome
	Why           string
	People        []Named
	Tanks         []StopTank
}

// Named is a key and the name that goes with it.
type Named struct{ ID, Name string }

// StopTank is a tank of the stop's site, and what was done there at the stop.
type StopTank struct {
	ID, Name  string
	KeepApart bool // comes last, with its own net
	Open      int  // open tasks
	Visit     string
	Performed q.Opt[time.Time]
}

// DueTank is a tank for which somebody should come.
type DueTank struct {
	Tank, TankName string
	Site, SiteName string
	Customer       string
	Last           q.Opt[q.Date] // last time somebody was there
	Due            q.Date
	Latest         q.Date // the end of the agreed tolerance
	Minutes        int
	Preferred      string // staff id; empty: anybody
	KeepApart      bool
	Open           int // open tasks
}
