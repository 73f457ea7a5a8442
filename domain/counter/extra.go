package counter

import (
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Decided is what the owner decided about an extra visit.
type Decided string

// Decisions.
const (
	Agreed    Decided = "agreed"
	Declined  Decided = "declined"
	NotNeeded Decided = "not_needed"
)

// Decisions in the order of a form.
var Decisions = []Decided{Agreed, Declined, NotNeeded}

// Title is the decision in words.
func (d Decided) Title() string {
	switch d {
	case Agreed:
		return "Agreed: we come"
	case Declined:
		return "The customer declined"
	}
	return "Not needed"
}

// Payers are who can pay for an extra visit.
var Payers = []string{"included", "to_bill", "warranty", "customers_own"}

// Decision is what is decided about the extra visit that a visit's judgement
// asked for.
type Decision struct {
	Visit   string
	Decided Decided
	On      q.Opt[q.Date] // of one that is agreed
	With    string        // whom it was agreed with, or who declined
	Pays    string        // one of Payers
	Words   string
}

// ParseDecision reads the fields decided, on, with, pays and words. today is the
// shop's day; an agreed visit lies on it or after it.
func ParseDecision(get typed.Fields, today q.Date) (Decision, fault.Fields) {
	f := typed.Form{Get: get}
	d := Decision{Decided: typed.Must(&f, "decided", Decisions, "Choose what was decided."), With: f.Line("with", 120), Words: f.Text("words", 1000)}
	on := f.Day("on")
	pays := typed.Choice(&f, "pays", "", Payers, "Choose who pays.")
	switch d.Decided {
	case Agreed:
		d.On, d.Pays = on, pays
		switch {
		case len(f.Faults.On("on")) > 0:
		case !on.OK:
			f.Faults.Add("on", fault.Missing, "On which day do we come?")
		case on.V < today:
			f.Faults.Add("on", fault.Impossible, "That day is over.")
		}
		if d.With == "" {
			f.Faults.Add("with", fault.Missing, "With whom was it agreed?")
		}
		if pays == "" && len(f.Faults.On("pays")) == 0 {
			f.Faults.Add("pays", fault.Missing, "Who pays?")
		}
	case Declined:
		if d.With == "" {
			f.Faults.Add("with", fault.Missing, "Who declined?")
		}
		if d.Words == "" {
			f.Faults.Add("words", fault.Missing, "In which words? It matters when something dies later.")
		}
	}
	return d, f.Faults
}
