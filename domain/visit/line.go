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
