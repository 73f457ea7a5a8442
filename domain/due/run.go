package due

import (
	"time"

	q "scaperound/domain/quantity"
)

// Run is how the one run of the planner stands.
type Run struct {
	ID      string
	Monday  q.Date
	Running bool
	Failed  bool
	Stopped bool   // somebody asked it to stop and keep the best so far
	Tries   int64  // ways to deal the week out that were weighed
	Placed  int    // stops with a place in the best so far
	Wanted  int    // stops that want one
	Says    string // what went wrong, for a person
	By      string // a name
	Begun   time.Time
	// Ill is whose day is dealt out anew; empty: the week is planned.
	Ill    string
	IllDay q.Opt[q.Date]
}

// Extra is an extra visit that a judgement asks the owner for.
type Extra struct {
	Visit, Tank, TankName, SiteName string
	On                              q.Date
}

// Ending is a kit that is used up by a day.
type Ending struct {
	Kit, Lot string
	On       q.Date // its last good day
}

// CalendarStop is a stop as a person's calendar shows it.
type CalendarStop struct {
	Job           string
	Day           q.Date
	Begin, End    int // seconds of the day
	Site, Address string
	Lat, Lon      q.Opt[float64]
	Tanks         []string
	Changed       time.Time // when it was handed out
}
