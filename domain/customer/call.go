package customer

import (
	"time"

	q "scaperound/domain/quantity"
)

// Call is all that one wants to know with the customer on the phone.
type Call struct {
	Customer  Customer
	Sites     []Site
	Tanks     []TankLine // in the order of the sites, then by name
	Away      []Away     // under way or to come, the next first
	Problems  []ProblemLine
	Sheets    []SheetLine   // the newest care sheet given for each tank, the newest first
	Notes     []ContactNote // the newest first
	MoreNotes bool          // there are older ones
	NoteID    string        // for the note of this call, so that it is kept once
}

// TankLine is how one tank of a site stands.
type TankLine struct {
	ID, Name  string
	Site      string // a site's ID
	SiteName  string
	State     string // starting, running, resting or ended
	KeepApart bool
	VisitAt   q.Opt[time.Time] // of the last visit, when it was performed
	VisitKind string
	VisitBy   string           // name
	Outcome   string           // of that visit's stop; empty where it was part of none
	Judged    q.Opt[q.Date]    // the day that the last judgement asks for
	EveryDays q.Opt[int]       // what is agreed
	SheetAt   q.Opt[time.Time] // when the newest care sheet was given
}

// Next is the day on which the tank is due: what the last judgement asked for,
// else the agreed interval after the last visit. day gives the shop's day of an
// instant. A tank that rests or has ended is never due.
func (t TankLine) Next(day func(time.Time) q.Date) q.Opt[q.Date] {
	switch {
	case t.State != "starting" && t.State != "running":
		return q.Opt[q.Date]{}
	case t.Judged.OK:
		return t.Judged
	case t.VisitAt.OK && t.EveryDays.OK:
		return q.Some(day(t.VisitAt.V).Add(t.EveryDays.V))
	}
	return q.Opt[q.Date]{}
}

// SheetLine is a care sheet that was given.
type SheetLine struct {
	Visit, TankName string
	Document        string // as it was frozen
	GivenAt         time.Time
}

// ProblemLine is an open problem of a tank.
type ProblemLine struct {
	ID, Tank, TankName string
	Title              string
	Belief, Next       string
	OpenedAt           time.Time
}

// List says which part of a list is wanted.
type List struct {
	Sort     string // one of the list's sorts; the first where it is not known
	Archived bool   // those archived instead of the others
	Page     int    // from 1
}

// PerPage is how many rows a page of a list has.
const PerPage = 50

// CustomerSorts are the ways to sort the customers; the first is the usual one.
func CustomerSorts() []string { return []string{"name", "town", "visit", "contact"} }

// SiteSorts are the ways to sort the sites; the first is the usual one.
func SiteSorts() []string { return []string{"name", "customer", "town", "visit"} }

// Line of the list of customers.
type Line struct {
	ID        string
	Name      string
	Kind      Kind
	Phones    []string
	Towns     []string
	Sites     int
	Tanks     int
	LastVisit q.Opt[time.Time]
	Contact   q.Opt[time.Time] // last note of what was said
}

// SiteLine of the list of sites.
type SiteLine struct {
	ID, Name      string
	Customer      string // ID
	CustomerName  string
	Address, Town string
	Tanks         int
	KeysOut       int
	LastVisit     q.Opt[time.Time]
	AwayNow       bool
}

// Found is what a search brought up, the best first.
type Found struct {
	Customers []FoundCustomer
	Tanks     []FoundTank
	More      bool // there is more than is shown
}

// FoundCustomer is a customer with those sites that fit or belong to one who does.
type FoundCustomer struct {
	ID, Name string
	Phones   []string
	Archived bool
	Sites    []FoundSite
}

// FoundSite is a site of a customer who was found.
type FoundSite struct {
	ID, Name, Address, Town string
	Archived                bool
}

// FoundTank is a tank that fits.
type FoundTank struct {
	ID, Name, State string
	Site, SiteName  string // ID and name
	Customer        string // name
}
