package tank

import (
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Problem is a trouble that is worked at over several visits, by whoever comes,
// so that the customer hears one story.
type Problem struct {
	ID       string
	Tank     string
	TankName string
	Title    string
	Belief   string // what we take for the cause
	Next     string // what we do next
	Told     string // what the customer is told while it is open; empty: nothing
	OpenedAt time.Time
	OpenedBy string // name
	ClosedAt q.Opt[time.Time]
	Tries    []Try // the newest first
	Version  int
}

// Try is something that was done about a problem, and what came of it.
type Try struct {
	ID            string
	At            time.Time
	Staff         string // name
	Tried, Result string
}

// The longest texts of a problem, in characters.
const (
	MaxProblemTitle = 120
	MaxProblemText  = 2000
	MaxProblemTold  = 300 // it stands on a care sheet
)

// ParseProblem reads the fields title, belief, next and told.
func ParseProblem(get typed.Fields) (Problem, fault.Fields) {
	f := typed.Form{Get: get}
	p := Problem{Title: f.Name("title", MaxProblemTitle, "Say in a few words what is wrong."), Belief: f.Text("belief", MaxProblemText), Next: f.Text("next", MaxProblemText), Told: f.Text("told", MaxProblemTold)}
	return p, f.Faults
}

// ParseTry reads the fields tried and result.
func ParseTry(get typed.Fields) (Try, fault.Fields) {
	f := typed.Form{Get: get}
	t := Try{Tried: f.Text("tried", MaxProblemText), Result: f.Text("result", MaxProblemText)}
	if t.Tried == "" {
		f.Faults.Add("tried", fault.Missing, "Say what was tried.")
	}
	return t, f.Faults
}
