package care

import (
	"time"

	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Before is what is known of a tank when a visit begins.
type Before struct {
	Setup   tank.Setup
	Profile tank.Profile
	Plan    tank.Plan
	Site    visit.Named
	// Customer is who the tank belongs to, by name.
	Customer string
	Owner    string         // telephone of the shop's owner; may be empty
	History  []visit.Record // earlier visits, the oldest first
	Open     []Task
	Tests    []TestDue // asked for by the last judgement; none where there is none
}

// Submitted is what became of a post.
type Submitted struct {
	Visit, Revision string
	Evaluation      string
	Replay          bool // the same body was here before; nothing was written
	Assessment      Assessment
}

// Evaluation is the present judgement of a visit, as it was kept.
type Evaluation struct {
	ID, Revision string
	At           time.Time
	Cause        string // first, late, rules, profile
	Assessment   Assessment
	HeldFor      string // the sheet waits for the owner; empty: it does not
}
