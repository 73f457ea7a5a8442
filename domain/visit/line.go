package visit

import "time"

// Line is a visit in one line of a list.
type Line struct {
	ID        string
	Kind      Kind
	Performed time.Time
	By        string // name
	Status    string // of its judgement: all_well, watching, please_do; empty: none
	Urgency   string
	Given     bool // a care sheet was given
}

// Own is a visit in the list of who made it.
type Own struct {
	Visit     string // id
	Tank      string // name
	Performed time.Time
}

// Revision is one version of a visit in a line.
type Revision struct {
	ID       string
	No       int
	Received time.Time
	By       string // name of who sent it
	Reason   string
}
