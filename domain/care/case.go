// Package care turns a visit into what happens next.
//
// Rules look at a view of the tank and return findings with wishes; one planner
// decides. The whole is a pure function of a Case.
package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Case is everything a judgement may know, as of the moment the visit was
// performed.
type Case struct {
	Setup   tank.Setup
	Profile tank.Profile
	Plan    tank.Plan
	History []visit.Record // earlier visits, the oldest first
	Now     visit.Record
	Open    []Task         // tasks that were open before this visit
	Closed  []Closed       // tasks answered at earlier visits, the oldest first; some months of them
	Memory  forecast.State // after the visit before; the zero State: the history is folded anew
	Days    []q.Date       // days on which somebody could come, the nearest first; empty: any day
}

// Closed is a task that somebody answered at an earlier visit.
type Closed struct {
	Task  Task
	State string // done, not_needed, declined
	On    q.Date
	Who   string // declined it
}

// RulesVersion is raised by hand whenever the rules decide otherwise than
// before; a test over the corpus holds it to that.
const RulesVersion = "21"
