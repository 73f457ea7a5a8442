// Package due says what falls due and who there is to do it with: each tank's
// agreement, its history and what the judgement of its last visit asks become
// stops of a week; people, vans, promises and roads become the rest of the
// planner's problem.
package due

import (
	"slices"
	"strconv"
	"strings"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// Working is how a member of the staff goes on rounds.
type Working struct {
	Person string            // a staff id
	Hours  []customer.Window // when they work, at most one for a weekday, Monday first
	Break  Break
	Start  q.Opt[customer.Position] // not known: from the shop
	End    q.Opt[customer.Position] // not known: back to the shop
	Skills []string                 // the words that agreements ask for, folded by Skill
	Van    string                   // a van's id; empty: none of the shop's
	// Version is raised by each change; 0 is somebody who does not go on rounds.
	Version int
}

// Break is a pause of Minutes that is taken within From and To. Zero minutes are
// no break.
type Break struct {
	Minutes  int
	From, To q.MinuteOfDay
}

// HoursField is the name of the form's field for the hours of a weekday, where
// 1 is Monday.
func HoursField(weekday int) string { return "hours." + strconv.Itoa(weekday) }

// The longest texts that are kept, in characters.
const (
	maxName = 80
	maxLine = 200
)

var breakMinutes = typed.Measure{Name: "break", What: "The break", Dim: typed.Plain(q.Minute), Possible: q.Range{Lo: 0, Hi: 180}, Likely: q.Range{Lo: 0, Hi: 90}}

// ParseWorking reads the form of when and how somebody works, and says every
// fault of it. Person and Version are those of was.
func ParseWorking(get typed.Fields, units say.Units, was Working) (Working, fault.Fields) {
	f := typed.Form{Get: get, Units: units}
	w := Working{Person: was.Person, Version: was.Version}
	for day := 1; day <= 7; day++ {
		name := HoursField(day)
		hours, why := customer.ParseWindows(day, get(name))
		if why != "" {
			f.Faults.Add(name, fault.NotDate, "%s", why)
		}
		if len(hours) > 1 {
			f.Faults.Add(name, fault.Impossible, "One span a day, from the first minute to the last; the break is typed below.")
		}
		w.Hours = append(w.Hours, hours...)
	}
	w.Break = parseBreak(&f, was.Break)
	w.Start = parsePlace(&f, "start", was.Start)
	w.End = parsePlace(&f, "end", was.End)
	w.Skills = Skills(f.Line("skills", maxLine))
	w.Van = f.Line("van", maxName)
	return w, f.Faults
}

func parseBreak(f *typed.Form, was Break) Break {
	minutes := f.Whole(breakMinutes, q.Some(was.Minutes))
	from, to := f.Clock("break_from"), f.Clock("break_to")
	b := Break{Minutes: minutes.V, From: from.V, To: to.V}
	switch {
	case !minutes.OK && len(f.Faults.On("break")) == 0 && (from.OK || to.OK):
		f.Faults.Add("break", fault.Missing, "How long is the break? Without one, leave its times empty too.")
	case b.Minutes == 0:
		return Break{}
	case !from.OK && len(f.Faults.On("break_from")) == 0:
		f.Faults.Add("break_from", fault.Missing, "From when may the break begin?")
	case !to.OK && len(f.Faults.On("break_to")) == 0:
		f.Faults.Add("break_to", fault.Missing, "By when is the break over?")
	case from.OK && to.OK && int(to.V-from.V) < b.Minutes:
		f.Faults.Add("break_to", fault.Impossible, "%d minutes do not fit between %s and %s.", b.Minutes, from.V, to.V)
	}
	return b
}

func parsePlace(f *typed.Form, name string, was q.Opt[customer.Position]) q.Opt[customer.Position] {
	p, ok, why := customer.ParsePosition(f.Get(name))
	switch {
	case why != "":
		f.Faults.Add(name, fault.Impossible, "%s", why)
	case ok && was.OK && p.String() == was.V.String():
		return was
	}
	return q.Opt[customer.Position]{V: p, OK: ok}
}

// Typed is what ParseWorking reads.
func (w Working) Typed() map[string]string {
	out := map[string]string{"skills": strings.Join(w.Skills, ", "), "van": w.Van}
	for day := 1; day <= 7; day++ {
		if l := customer.WindowLine(w.Hours, day); l != "" {
			out[HoursField(day)] = l
		}
	}
	if w.Break.Minutes > 0 {
		out["break"], out["break_from"], out["break_to"] = strconv.Itoa(w.Break.Minutes), w.Break.From.String(), w.Break.To.String()
	}
	if w.Start.OK {
		out["start"] = w.Start.V.String()
	}
	if w.End.OK {
		out["end"] = w.End.V.String()
	}
	return out
}

// Skill is a skill's name as two of them are compared.
func Skill(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// Skills reads a list of skills, each once, in order.
func Skills(s string) []string {
	out := []string{}
	for part := range strings.SplitSeq(strings.ReplaceAll(s, ";", ","), ",") {
		if one := Skill(part); one != "" && !slices.Contains(out, one) {
			out = append(out, one)
		}
	}
	slices.Sort(out)
	return out
}

// Leave is a time in which somebody does not work. Both days are included.
type Leave struct {
	ID, Person string
	From, To   q.Date
	Why        string
}

// longestLeave, in days, is asked about beyond: mostly a mistyped year.
const longestLeave = 60

// ParseLeave reads the fields from, to and why. A leave without its last day is
// one day long. today is the shop's day.
func ParseLeave(get typed.Fields, today q.Date) (Leave, fault.Fields) {
	f := typed.Form{Get: get}
	from, to := f.Day("from"), f.Day("to")
	last := strings.TrimSpace(get("to"))
	switch {
	case !from.OK && len(f.Faults.On("from")) == 0:
		f.Faults.Add("from", fault.Missing, "Which is the first day off?")
	case from.OK && last == "" && from.V < today:
		f.Faults.Add("from", fault.Impossible, "That day is over.")
	case from.OK && last == "":
		to = from
	case from.OK && to.OK && to.V >= from.V && to.V < today:
		f.Faults.Add("to", fault.Impossible, "Those days are over.")
	case from.OK && to.OK && to.V < from.V:
		f.Faults.Add("to", fault.Impossible, "The last day lies before the first.")
	case from.OK && to.OK && int(to.V-from.V) > longestLeave && !f.Confirmed("to", last):
		f.Faults = append(f.Faults, fault.Field{Name: "to", Kind: fault.Unlikely, Confirm: last, Text: "That is more than two months. Is the last day right?"})
	}
	return Leave{From: from.V, To: to.V, Why: f.Line("why", maxLine)}, f.Faults
}

// Covers reports whether the day lies in the leave.
func (l Leave) Covers(d q.Date) bool { return l.From <= d && d <= l.To }
