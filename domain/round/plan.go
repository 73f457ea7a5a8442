package round

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Plan is who goes where and when.
type Plan struct {
	Routes   []Route    // one for each shift, by day and then as the people are listed; also those without a stop
	Unplaced []Unplaced // in the order of the problem
	GaveUp   []GivenUp  // what was given up, the gravest first
	Said     []say.Sentence
	Cost     Cost
}

// Route is one person's day.
type Route struct {
	Day       q.Date
	Person    string // ID
	Leave     Seconds
	Back      Seconds // at the end point
	Break     q.Opt[Seconds]
	Visits    []Visit
	HomeDrive Seconds // the way from the last stop to the end point
	HomeM     int32
}

// Visit is a stop with its times.
type Visit struct {
	Stop   string  // ID
	Drive  Seconds // the way to it
	Metres int32
	Arrive Seconds
	Start  Seconds // of the work
	Done   Seconds
	With   string // ID of the second person of a job for two
}

// Unplaced is a stop that found no place.
type Unplaced struct {
	Stop string // ID
	Why  []say.Sentence
	// Remedy is the cheapest thing that would let it in; its ID is empty where
	// nothing is known.
	Remedy say.Sentence
}

// What may be given up.
const (
	GaveUrgent  = "urgent"  // an urgent stop is late
	GaveSlip    = "slip"    // one that must not slip is out of tolerance
	GaveDue     = "due"     // a routine one is out of tolerance
	GaveWeekday = "weekday" // a regular on another weekday
	GaveMoved   = "moved"   // not where the known plan has it
	GavePrefer  = "prefer"  // not the preferred person
	GaveLast    = "last"    // not who came last
)

// GivenUp is one thing that a plan gave up.
type GivenUp struct {
	Stop string // ID
	Kind string // one of the Gave constants
	Days int    // late (positive) or early (negative), where days are meant
	Say  say.Sentence
}

// Cost of a plan, part by part, in seconds of driving or what is worth as much.
type Cost struct {
	Total    int64
	Unplaced int64
	Urgent   int64
	Due      int64 // slips, out of tolerance, off the due day
	Weekday  int64
	Moved    int64
	Drive    int64 // seconds at pace 100
	Uneven   int64
	Person   int64 // not the preferred or the last person
	Metres   int64 // not part of Total
}

// Breach is a rule that a plan breaks, or a figure in it that is not true.
type Breach struct {
	Rule   string // one of the Breach constants
	Day    q.Date
	Person string // ID; may be empty
	Stop   string // ID; may be empty
	Say    say.Sentence
}

// Rules that Check looks at.
const (
	BreachWindow   = "window"
	BreachHours    = "hours"
	BreachSkill    = "skill"
	BreachLoad     = "load"
	BreachVan      = "van"
	BreachLock     = "lock"
	BreachPromise  = "promise"
	BreachLast     = "last"
	BreachTogether = "together"
	BreachBreak    = "break"
	BreachTimes    = "times"
	BreachMissing  = "missing"
	BreachTwice    = "twice"
	BreachUnknown  = "unknown"
	BreachAway     = "away"
	BreachCost     = "cost"
)
