package customer

import (
	"time"

	q "scaperound/domain/quantity"
)

// Call is all that one wants to know with the customer on the phone.
type Call struct {
	Customer Customer
	Sites    []Site
	Tanks    []TankLine
	Away     []Away // under way or to come
	Notes    []ContactNote
	MoreNote bool // there are older ones than Notes
	Problems []ProblemLine
}

// TankLine is how one tank of a site stands.
type TankLine struct {
	ID, Name  string
	Site      string // a site's ID
	State     string // starting, running, resting or ended
	VisitAt   q.Opt[time.Time]
	VisitKind string
	VisitBy   string           // name
	Outcome   string           // of the stop; empty where it was not part of one
	NextOn    q.Opt[q.Date]    // from the last judgement, else from the agreement
	Late      bool             // the day is past
	SheetAt   q.Opt[time.Time] // the newest care sheet given
	KeepApart bool
}

// ProblemLine is an open problem of a tank.
type ProblemLine struct {
	ID, Tank, TankName string
	Title              string
	Belief, Next       string
	OpenedAt           time.Time
}

// Line of a list of customers.
type Line struct {
	ID        string
	Name      string
	Kind      Kind
	Phones    []string
	Places    []string // towns or names of the sites, at most a few
	Tanks     int
	LastVisit q.Opt[time.Time]
	Contact   q.Opt[time.Time]
	Archived  bool
}

// SiteLine of a list of sites.
type SiteLine struct {
	ID, Name      string
	Customer      string // ID
	CustomerName  string
	Address, Town string
	Tanks         int
	KeysOut       int
	LastVisit     q.Opt[time.Time]
	AwayNow       bool
	Archived      bool
}

// Found is what a search brought up.
type Found struct {
	Customers []FoundCustomer
	Tanks     []FoundTank
	More      bool // there is more than is shown
}

// FoundCustomer is a customer with those of the sites that fit.
type FoundCustomer struct {
	ID, Name string
	Phones   []string
	Archived bool
	Sites    []FoundSite
}

// FoundSite is a site that fits, or that belongs to a customer who does.
type FoundSite struct{ ID, Name, Address, Town string }

// FoundTank is a tank that fits.
type FoundTank struct {
	ID, Name, State          string
	Site, SiteName, Customer string // ID of the site; the names
}
