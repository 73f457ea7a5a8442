// Package typed reads what a person typed into a form: every fault is collected
// under its field's name, and nothing is guessed.
package typed

import (
	"slices"
	"strings"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Fields gives the text typed in the named field, empty where there is none.
// Several texts of one name, as of confirm, are joined with line ends.
type Fields func(name string) string

// Form is a form that is being read. Faults grow in the order of reading.
type Form struct {
	Get    Fields
	Units  say.Units // how this person writes numbers, and their units
	Faults fault.Fields
}

// Line reads a text of one line with its spaces tidied, of at most so many
// characters.
func (f *Form) Line(name string, most int) string {
	s := strings.Join(strings.Fields(f.Get(name)), " ")
	f.check(name, s, most)
	return s
}

// Name reads a line that must not be empty; ask says what to type.
func (f *Form) Name(name string, most int, ask string) string {
	s := f.Line(name, most)
	if s == "" {
		f.Faults.Add(name, fault.Missing, "%s", ask)
	}
	return s
}

// Text reads a text of several lines; line ends become \n.
func (f *Form) Text(name string, most int) string {
	s := strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(f.Get(name), "\r\n", "\n"), "\r", "\n"))
	f.check(name, s, most)
	return s
}

// Lines reads a text whose lines count one by one; empty ones do not.
func (f *Form) Lines(name string, most int) []string {
	var out []string
	for l := range strings.Lines(f.Text(name, most)) {
		if l = strings.Join(strings.Fields(l), " "); l != "" {
			out = append(out, l)
		}
	}
	return out
}

func (f *Form) check(name, s string, most int) {
	switch n := utf8.RuneCountInString(s); {
	case n > most:
		f.Faults.Add(name, fault.TooLong, "This is %d characters long; at most %d are kept. Please shorten it.", n, most)
	case !utf8.ValidString(s) || HasUnseen(s):
		f.Faults.Add(name, fault.Impossible, "This contains signs that cannot be seen. Please type it again.")
	}
}

// Choice reads one of several; none stands for an empty field. What is not
// among them is a fault with the sentence ask.
func Choice[T ~string](f *Form, name string, none T, all []T, ask string) T {
	switch v := T(strings.TrimSpace(f.Get(name))); {
	case v == "":
		return none
	case slices.Contains(all, v):
		return v
	default:
		f.Faults.Add(name, fault.NotChoice, "%s", ask)
		return none
	}
}

// Must reads one of several that has to be chosen.
func Must[T ~string](f *Form, name string, all []T, ask string) T {
	v := Choice(f, name, "", all, ask)
	if v == "" && strings.TrimSpace(f.Get(name)) == "" {
		f.Faults.Add(name, fault.Missing, "%s", ask)
	}
	return v
}

// Tick reads a box: on posts something, off nothing.
func (f *Form) Tick(name string) bool { return f.Get(name) != "" }

// Day reads a date; blank is not known.
func (f *Form) Day(name string) q.Opt[q.Date] {
	text := strings.TrimSpace(f.Get(name))
	if text == "" {
		return q.Opt[q.Date]{}
	}
	d, ok := q.ParseDate(text)
	switch {
	case !ok:
		f.Faults.Add(name, fault.NotDate, "“%s” is not a date. A date is year, month, day: 2026-11-24.", short(text))
		return q.Opt[q.Date]{}
	case d < q.NewDate(1950, 1, 1) || d > q.NewDate(2200, 1, 1):
		f.Faults.Add(name, fault.Impossible, "The year of %s cannot be right.", short(text))
		return q.Opt[q.Date]{}
	}
	return q.Some(d)
}

// Past reads a date that may not lie behind today; what is the thing that
// happened then: "A movement".
func (f *Form) Past(name, what string, today q.Date) q.Opt[q.Date] {
	d := f.Day(name)
	if d.OK && d.V > today {
		f.Faults.Add(name, fault.Impossible, "%s cannot lie in the future.", what)
		return q.Opt[q.Date]{}
	}
	return d
}

// Clock reads a time of day such as 07:45; blank is not known.
func (f *Form) Clock(name string) q.Opt[q.MinuteOfDay] {
	text := strings.TrimSpace(f.Get(name))
	if text == "" {
		return q.Opt[q.MinuteOfDay]{}
	}
	m, ok := q.ParseMinute(text)
	if !ok {
		f.Faults.Add(name, fault.NotDate, "“%s” is not a time of day. A time is hours and minutes: 07:45.", short(text))
		return q.Opt[q.MinuteOfDay]{}
	}
	return q.Some(m)
}

// short is a typed text as a fault repeats it.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
