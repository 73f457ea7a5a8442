package staff

import (
	"time"

	q "scaperound/domain/quantity"
)

// Change is one line of who changed what.
type Change struct {
	ID       int64
	At       time.Time
	By       string // name; empty: the program itself
	Verb     string
	Noun     string
	NounID   string
	Was, Now []ChangeFact
}

// Thing is what the record's id stands for, as a person calls it.
type Thing struct {
	Noun string // as the record calls it
	ID   string // of the page it is shown on, where that is another's
	Name string
	At   q.Opt[time.Time] // a visit's or a call's own time
	Day  q.Opt[q.Date]    // an absence's first day
}

// ChangeFact is one value that was noted with a change.
type ChangeFact struct{ Name, Text string }

// ChangeFilter says which changes are wanted; empty fields want all.
type ChangeFilter struct {
	Person string // id
	Noun   string
	NounID string
	From   q.Opt[time.Time] // at or after
	To     q.Opt[time.Time] // before
	Before int64            // only those with a smaller ID; 0: from the newest
	Most   int
}
