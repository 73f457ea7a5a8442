package customer

import (
	"time"

	"scaperound/domain/fault"
	"scaperound/domain/typed"
)

// ContactNote is what was said in one call or letter. It is never changed;
// what was wrong is said in the next one.
type ContactNote struct {
	ID       string
	Customer string
	At       time.Time
	Staff    string // name of who wrote it
	TheySaid string
	WeSaid   string
}

// ParseContactNote reads the fields they_said and we_said, of which one at
// least must say something.
func ParseContactNote(get Fields) (ContactNote, fault.Fields) {
	f := typed.Form{Get: get}
	n := ContactNote{TheySaid: f.Text("they_said", MaxText), WeSaid: f.Text("we_said", MaxText)}
	if n.TheySaid == "" && n.WeSaid == "" {
		f.Faults.Add("they_said", fault.Missing, "Write down what they said, what we said, or both.")
	}
	return n, f.Faults
}

// AccessNote says how to get in. It is kept apart from the site so that no list,
// sheet or export shows it by accident, and its words are in no log.
type AccessNote struct {
	Site      string
	Note      string
	AlarmCode string
	Version   int // 0 where nothing has been written yet
	UpdatedAt time.Time
	UpdatedBy string // name; empty where nobody has
}

// ParseAccessNote reads the fields note and alarm_code; both may be empty.
func ParseAccessNote(get Fields) (AccessNote, fault.Fields) {
	f := typed.Form{Get: get}
	n := AccessNote{Note: f.Text("note", MaxText), AlarmCode: f.Line("alarm_code", MaxCode)}
	return n, f.Faults
}

// String keeps the words out of logs and error messages.
func (AccessNote) String() string { return "access note (not shown)" }

// GoString keeps the words out of %#v as well.
func (n AccessNote) GoString() string { return n.String() }
