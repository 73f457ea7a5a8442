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
	Version  int
}

// longestAway, in days, is asked about beyond: mostly a mistyped year.
const longestAway = 123

// ParseAway reads the fields from, to, why and stand_in.
func ParseAway(get Fields) (Away, fault.Fields) {
	f := typed.Form{Get: get}
	from, to := mustDay(&f, "from", "Which is the first day away?"), mustDay(&f, "to", "Which is the last day away?")
	if from.OK && to.OK {
		last := strings.TrimSpace(get("to"))
		switch {
		case to.V < from.V:
			f.Faults.Add("to", fault.Impossible, "The last day lies before the first.")
		case int(to.V-from.V) > longestAway && !f.Confirmed("to", last):
			f.Faults = append(f.Faults, fault.Field{Name: "to", Kind: fault.Unlikely, Confirm: last,
				Text: "That is more than four months. Is the last day right?"})
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

// Covers reports whether the day lies in the absence.
func (a Away) Covers(d q.Date) bool { return a.From <= d && d <= a.To }
