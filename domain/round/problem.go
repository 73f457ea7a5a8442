// Package round plans who goes where on which day, and in what order.
//
// A Problem is what must be done and who is there; Solve makes a Plan of it;
// Check, which shares no code with Solve, says what a plan breaks. The package
// knows no tank, no clock and no chance: with the same problem, seed, number of
// iterations and threads the plan is the same.
//
// Times of the day are seconds of local wall time, durations are seconds, costs
// are whole numbers worth a second of driving each.
package round

import (
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Seconds is a duration, or a time of the day counted from midnight.
type Seconds int32

// Minute and Hour in seconds.
const (
	Minute Seconds = 60
	Hour   Seconds = 3600
)

// Problem is some days that want planning.
type Problem struct {
	From   q.Date // the first day
	Days   int    // how many, 1 to 62
	Places []Place
	Vans   []Van
	People []Person
	Stops  []Stop
	// Travel is driving between Places. The zero value is worked out from the
	// positions: see GreatCircle.
	Travel Travel
	// Weights of what is given up; the zero value stands for DefaultWeights.
	Weights Weights
	// Known is the plan that people go by already. A stop that it holds is moved
	// to another person or day only for what outweighs Weights.Moved.
	Known *Plan
}

// Place is a point where somebody starts, ends or works.
type Place struct {
	ID       string
	Name     string
	Lat, Lon float64 // degrees, WGS 84
	Unknown  bool    // it has no position: nothing can be planned there
}

// Van with what it can carry.
type Van struct {
	ID, Name string
	Carries  Load
}

// Load is what a stop takes out of the van. What comes back (empty cylinders,
// cans) takes the room of what went out.
type Load struct {
	WaterL    int // litres of change water
	Cylinders int
}

// Person who drives and works.
type Person struct {
	ID, Name string
	Skills   []string
	Hours    []Hours // at most one line for a weekday
	Leave    []Leave
	Special  []Shift // a day that differs from Hours
}

// Hours of a weekday.
type Hours struct {
	Weekday time.Weekday
	Shift
}

// Shift is one person's day.
type Shift struct {
	Day      q.Date  // in Person.Special only
	From, To Seconds // leaves the start not before, is at the end not after
	Start    int     // index into Places
	End      int     // index into Places
	Van      string  // ID; empty where nobody wrote down a van, and then loads are not checked
	Break    Break
}

// Break is a rest between two stops: it begins between From and To, where the
// person is then. It moves within these times as the day allows, and splits
// neither a stop nor a drive. Nobody has to take it who is back by To.
type Break struct {
	From, To Seconds // of its beginning
	Length   Seconds // none where zero
}

// Leave is a time away; both days are included.
type Leave struct{ From, To q.Date }

// Press is how hard a stop's day presses.
type Press int

// Presses. For all of them Due is the day that is wanted.
const (
	Routine  Press = iota
	NoSlip         // must not be later than tolerated
	Urgent         // must not be later than Due
	pressEnd       // one past the last
)

// Stop is one visit to a site, with all of its tanks that fall due.
type Stop struct {
	ID    string
	Name  string // of the site, for sentences
	Place int    // index into Places
	Phone string // whom to call, for lists; may be empty

	Work    Seconds  // at the site, with parking and carrying; for each of the People
	Windows []Window // the work lies within one of them; none: at any time of any day
	Away    []Leave  // nobody is at the site

	Due       q.Date
	EarlyDays int // tolerated before Due without being counted
	LateDays  int // tolerated after Due
	NotBefore q.Opt[q.Date]
	NotAfter  q.Opt[q.Date]
	Press     Press
	Weekday   q.Opt[time.Weekday] // a regular's
	Promised  q.Opt[Promise]
	Skills    []string // each of the people needs all of them
	People    int      // who work there at once, 1 (also where it is 0) or 2
	Prefer    string   // person ID: agreed with the customer
	LastBy    string   // person ID: who came last time
	Load      Load     // of a job for two: each of the two vans is reckoned with all of it
	KeptApart bool     // the last stop of each of its people's days
	Keep      q.Opt[Keep]
	Unsuited  []string // person IDs who must not go there
}

// Window is a time in which somebody can get in.
type Window struct {
	Weekday  time.Weekday
	Day      q.Opt[q.Date] // one day only; Weekday does not count then
	From, To Seconds       // the work begins not before and is done not after
}

// Promise is a time that the customer was told: the work begins within it.
type Promise struct {
	Day      q.Date
	From, To Seconds
}

// Keep holds a stop where the owner put it.
type Keep struct {
	Day    q.Date
	Person string         // ID; empty: the day only
	With   string         // ID of the second person; empty: anybody
	Start  q.Opt[Seconds] // begins exactly then
}

// Weights are what giving something up is worth, in seconds of driving.
type Weights struct {
	Unplaced   int64 // a stop that has no place
	UrgentLate int64 // a day that an urgent stop is later than Due
	SlipLate   int64 // a day that a stop that must not slip is out of tolerance
	OutOfDays  int64 // a day that a routine stop is out of tolerance, early or late
	OffDue     int64 // a day away from Due within tolerance
	Weekday    int64 // a regular on another weekday
	Moved      int64 // a stop of the known plan on another person or day
	NotPrefer  int64 // another person than the preferred one
	NotLast    int64 // another person than last time
	Uneven     int64 // an hour more work for somebody who has a full day than for somebody with none
}

// DefaultWeights keep the order: urgent on time, due within tolerance, a
// regular's weekday, driving, even load, the same person.
func DefaultWeights() Weights {
	return Weights{
		Unplaced: 2_000_000, UrgentLate: 400_000, SlipLate: 200_000, OutOfDays: 60_000, OffDue: 120,
		Weekday: 15_000, Moved: 30_000, NotPrefer: 900, NotLast: 300, Uneven: 450,
	}
}

// Travel is driving between the places of a problem.
type Travel struct {
	// Drive and Metres are of the way from place i to place j, at
	// i*len(Places)+j; Drive at Pace 100.
	Drive  []Seconds
	Metres []int32
	// Pace is how long driving takes in each hour of the day, in percent of
	// Drive; 0 stands for 100.
	Pace [24]int
	// Said is what the reader should know of where this came from.
	Said []say.Sentence
}

// Options of a search. There is no clock in here: whoever has one says when to
// stop.
type Options struct {
	Seed       uint64
	Iterations int          // of each thread; 0: until Stop says so, or a default without Stop
	Threads    int          // chains that search side by side, 1 to 8; 0: two
	Stop       func() bool  // asked from time to time, from one goroutine at a time
	Progress   func(Report) // told from time to time, from one goroutine at a time; its plan is the best so far
	// Done is how much of the given time is gone, 0 to 1; it guides the search
	// where Iterations is 0. Nil: guided by iterations.
	Done func() float64
}

// Report is how a search stands.
type Report struct {
	Iterations int   // done so far, of all threads
	Cost       int64 // of the best plan so far
	Unplaced   int   // stops without a place in it
	Plan       func() Plan
}
