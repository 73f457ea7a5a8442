// Package counter is what the owner sees first: whom to phone and why, what
// waits for her word, what is out of the house, what slipped.
package counter

import (
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/triage"
	"scaperound/domain/visit"
)

// Counter is the owner's first page.
type Counter struct {
	Calls   []triage.Call // calls for help on which somebody was to go and nobody has
	Asked   []Task        // what a person asked for by a day, such as tests after a stopped filter
	Often   []Task        // what was put off twice or more
	Agreed  []Extra       // extra visits that are agreed and not made yet
	Phone   []Line        // trouble that nobody has spoken about with the customer since
	Tasks   []Task        // what only the owner can answer
	Held    []Held
	Extra   []Line // extra visits that the judgement asks for
	KeysOut []Key
	Missed  []visit.Stop // nobody could get in, or nobody has left yet
	Overdue []visit.DueTank
	Weeks   []Week // that want planning or handing out
	Skipped []Skipped
}

// Week is a week of the round that wants something from the owner.
type Week struct {
	Monday  q.Date
	Planned bool // it has a plan that is not handed out
	Changed bool // its plan was changed since it was handed out
}

// Skipped is a stop that was handed out and at which nobody was.
type Skipped struct {
	Site, SiteName, Customer, Person string
	Day                              q.Date
}

// Line is a tank about which something must be decided.
type Line struct {
	Tank, TankName         string
	Site, SiteName         string
	Customer, CustomerName string
	Phones                 []string
	Visit                  string
	Performed              time.Time
	Urgency                care.Urgency
	Why                    say.Sentence
	On                     q.Opt[q.Date] // of an extra visit
}

// Task is an open task of the owner's own.
type Task struct {
	ID, Tank, TankName, Customer, CustomerName string
	Phones                                     []string
	Opened                                     time.Time
	SkipWhy                                    string // the reason given last, of a task that was put off
	Task                                       care.Task
}

// Extra is what became of an extra visit that a judgement asked for.
type Extra struct {
	Tank, TankName, CustomerName string
	Visit                        string        // whose judgement asked
	On                           q.Opt[q.Date] // the day agreed
	With                         string        // whom it was agreed with
	Pays                         string        // included, to_bill, warranty, customers_own
	Words                        string
	By                           string // name of who decided
	At                           time.Time
}

// Held is a care sheet that waits for the owner.
type Held struct {
	Visit, Tank, TankName, CustomerName string
	Reason                              string // death, leak, damage
	Since                               time.Time
	By                                  string // who was there
}

// Key is a key that hangs with somebody.
type Key struct {
	ID, Number, SiteName, Holder string
	Out                          time.Time
}

// Quiet reports whether nothing waits.
func (c Counter) Quiet() bool {
	return len(c.Calls)+len(c.Asked)+len(c.Often)+len(c.Agreed)+len(c.Phone)+len(c.Tasks)+len(c.Held)+len(c.Extra)+len(c.KeysOut)+len(c.Missed)+len(c.Overdue)+len(c.Weeks)+len(c.Skipped) == 0
}
