package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// States in the order of a tank's life.
var States = []State{Starting, Running, Resting, Ended}

// Title is the state in words.
func (s State) Title() string {
	switch s {
	case Starting:
		return "Starting"
	case Running:
		return "Running"
	case Resting:
		return "Resting"
	case Ended:
		return "Ended"
	}
	return string(s)
}

// FallsDue reports whether visits to a tank in this state fall due.
func (s State) FallsDue() bool { return s == Starting || s == Running }

// Card is what is said of a tank once, not by date.
type Card struct {
	ID, Name       string
	State          State
	SetUpOn        q.Opt[q.Date]
	EndedOn        q.Opt[q.Date]
	Pinned         []string
	KeepApartSince q.Opt[q.Date]
	KeepApartUntil q.Opt[q.Date]
	Version        int // of the row

	Site, SiteName         string
	Customer, CustomerName string
}

// KeptApart reports whether own net, no exchange with other tanks and the last
// stop of the day hold for the tank on the day.
func (c Card) KeptApart(on q.Date) bool {
	return c.KeepApartSince.OK && c.KeepApartSince.V <= on && (!c.KeepApartUntil.OK || on <= c.KeepApartUntil.V)
}

// Summary is one line of a list of tanks.
type Summary struct {
	ID, Name               string
	State                  State
	Site, SiteName         string
	Customer, CustomerName string
	SetUpOn                q.Opt[q.Date]
	LastVisit              q.Opt[time.Time]
	NextOn                 q.Opt[q.Date]
	OpenTasks              int
	KeptApart              bool
}

// Listing is one page of a list of tanks and how many there are in all.
type Listing struct {
	Tanks []Summary
	Total int
}

// Order of a list of tanks.
type Order string

// Orders of a list of tanks.
const (
	ByName      Order = "name"
	BySite      Order = "site"
	ByLastVisit Order = "last"
	ByNext      Order = "next"
)

// ListFilter narrows a list of tanks. The zero filter is every tank.
type ListFilter struct {
	State  State  // empty: all that are not ended; "all": every one
	Search string // as typed
	Site   string // id; empty: all
	Order  Order
	Today  q.Date // on the shop's calendar
	Offset int
	Limit  int
}

// AllStates as a filter shows ended tanks too.
const AllStates State = "all"

// New is a tank that is about to be made.
type New struct {
	ID      string // empty: the store makes one
	Name    string
	Site    string // id
	State   State
	SetUpOn q.Opt[q.Date]
	Pinned  []string
}

// Dated says since when a record is true, when it was written down and by whom.
type Dated struct {
	Since    time.Time
	Recorded time.Time
	Author   string // name of the person; empty where none is known
}

// SetupVersion is one set-up row.
type SetupVersion struct {
	Dated
	Setup
}

// Change is one line of a tank's history.
type Change struct {
	Dated
	What  string // setup, state, agreement, share, source, profile, dosing, site
	Now   string // what it is since then, in short
	Other string // id of what it points to, where it does: a profile, a source
}

// MaxName is the longest name of a tank, a kit, a profile or a source, in characters.
const MaxName = 80

// Place is a site by name, for a choice.
type Place struct{ ID, Name, Customer string }

// Versions says how often each dated record of a tank was written. A form
// carries the number it was drawn with; another number when it comes back means
// that somebody else was there.
type Versions struct{ Setup, Agreement, Share, Source, Profile, Dosing Written }

// Written is how often a dated record was written down, and since when the
// newest of it is true.
type Written struct {
	Times  int
	Newest q.Opt[time.Time]
}

// LastReading is the newest reading of a kind and the one before it.
type LastReading struct {
	Kind  q.Kind
	Phase string
	At    time.Time
	q.Interval
	Before q.Opt[float64]
}
