package counter

import (
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Story is one task from its opening to its end.
type Story struct {
	Task
	State  string // open, done, not_needed, declined, withdrawn
	Asked  bool   // a person asked for it, not a judgement
	Closed q.Opt[time.Time]
	Closer string // name
	Who    string // who declined
	Words  string // in their words
	Reason string // why it is not needed
	Skips  []Skip // the oldest first
}

// Skip is one time that a task was put off.
type Skip struct {
	At     time.Time
	By     string // name
	Reason string // no_time, no_part, customer_said_no, could_not_reach, not_needed
	Words  string
}

// Answer is what a visit said of a task that was open before it.
type Answer struct {
	Task   care.Task
	State  string // done, not_needed, declined, skipped
	Reason string // why it was skipped
	Who    string // who declined
	Words  string // theirs, or what stands in the way
}

// AskWhy is how often a task is put off before it is asked why in words.
const AskWhy = 2

// Closing is how a task ends outside a visit.
type Closing struct {
	State  string // done, not_needed, declined
	Who    string // who declined
	Words  string
	Reason string
}

// Closings are the states of a closing, in the order of a form.
var Closings = []string{"done", "not_needed", "declined"}

// ParseClosing reads the fields state, who, words and reason.
func ParseClosing(get typed.Fields) (Closing, fault.Fields) {
	f := typed.Form{Get: get}
	c := Closing{State: typed.Must(&f, "state", Closings, "Choose how it ends.")}
	who, words, reason := f.Line("who", 120), f.Text("words", 1000), f.Text("reason", 500)
	switch c.State {
	case "declined":
		c.Who, c.Words = who, words
		if who == "" {
			f.Faults.Add("who", fault.Missing, "Who declined?")
		}
		if words == "" {
			f.Faults.Add("words", fault.Missing, "In which words? It matters when something dies later.")
		}
	case "not_needed":
		c.Reason = reason
		if reason == "" {
			f.Faults.Add("reason", fault.Missing, "Why is it not needed?")
		}
	}
	return c, f.Faults
}

// OwnersOnly reports whether nobody but the owner closes the task.
func (s Story) OwnersOnly() bool { return s.Task.Task.Who == care.Owner }
