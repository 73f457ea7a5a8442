package customer

import (
	"strings"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
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
	var fs fault.Fields
	var a Away
	var okFrom, okTo bool
	a.From, okFrom = day(&fs, get, "from", "Which is the first day away?")
	a.To, okTo = day(&fs, get, "to", "Which is the last day away?")
	if okFrom && okTo {
		typed := strings.TrimSpace(get("to"))
		switch {
		case a.To < a.From:
			fs.Add("to", fault.Impossible, "The last day lies before the first.")
		case int(a.To-a.From) > longestAway && !confirmed(get, "to", typed):
			fs = append(fs, fault.Field{Name: "to", Kind: fault.Unlikely, Confirm: "to=" + typed,
				Text: "That is more than four months. Is the last day right?"})
		}
	}
	a.Why = line(&fs, get, "why", MaxLine)
	a.StandIn = line(&fs, get, "stand_in", MaxLine)
	return a, fs
}

// Covers reports whether the day lies in the absence.
func (a Away) Covers(d q.Date) bool { return a.From <= d && d <= a.To }

// day reads a civil date that must be there.
func day(fs *fault.Fields, get Fields, name, ask string) (q.Date, bool) {
	typed := strings.TrimSpace(get(name))
	if typed == "" {
		fs.Add(name, fault.Missing, "%s", ask)
		return 0, false
	}
	d, ok := q.ParseDate(typed)
	if !ok {
		fs.Add(name, fault.NotDate, "“%s” is not a day; write it like 2026-11-24.", short(typed))
	}
	return d, ok
}
