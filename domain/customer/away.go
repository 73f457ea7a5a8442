package customer

import (
	"strings"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Away is a time in which nobody of the site's people is there. Both days are
// included.
type Away struct {
	ID, Site string
	From, To q.Date
	Why      string
	StandIn  string // who stands in: name, phone, what they do
	Off      bool   // it was called off
	Version  int
}

// longestAway and farthestAway, in days, are asked about beyond: mostly a
// mistyped year.
const (
	longestAway  = 123
	farthestAway = 500
)

// ParseAway reads the fields from, to, why and stand_in; today is the shop's day.
// What cannot be is refused. What is unlikely is asked about: an absence that is
// over, one far ahead, a very long one.
func ParseAway(get Fields, today q.Date) (Away, fault.Fields) {
	f := typed.Form{Get: get}
	from, to := mustDay(&f, "from", "Which is the first day away?"), mustDay(&f, "to", "Which is the last day away?")
	ask := func(name, text string) {
		if typed := strings.TrimSpace(get(name)); !f.Confirmed(name, typed) {
			f.Faults = append(f.Faults, fault.Field{Name: name, Kind: fault.Unlikely, Confirm: typed, Text: text})
		}
	}
	if from.OK && to.OK {
		switch {
		case to.V < from.V:
			f.Faults.Add("to", fault.Impossible, "The last day lies before the first.")
		case to.V < today:
			ask("to", "That is over already. Is the last day right?")
		case int(from.V-today) > farthestAway:
			ask("from", "That is more than a year ahead. Is the first day right?")
		case int(to.V-from.V) > longestAway:
			ask("to", "That is more than four months. Is the last day right?")
		}
	}
	a := Away{From: from.V, To: to.V, Why: f.Line("why", MaxLine), StandIn: f.Line("stand_in", MaxLine)}
	return a, f.Faults
}

// mustDay reads a day that has to be there; ask is the question where it is not.
func mustDay(f *typed.Form, name, ask string) q.Opt[q.Date] {
	if strings.TrimSpace(f.Get(name)) == "" {
		f.Faults.Add(name, fault.Missing, "%s", ask)
		return q.Opt[q.Date]{}
	}
	return f.Day(name)
}

// Overlaps reports whether two absences have a day in common.
func (a Away) Overlaps(b Away) bool { return a.From <= b.To && b.From <= a.To }

// Covers reports whether the day lies in the absence.
func (a Away) Covers(d q.Date) bool { return a.From <= d && d <= a.To }
