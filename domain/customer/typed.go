package customer

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Fields gives the text typed in the named field, empty where there is none.
type Fields func(name string) string

// line reads a text of one line with its spaces tidied.
func line(fs *fault.Fields, get Fields, name string, most int) string {
	s := strings.Join(strings.Fields(get(name)), " ")
	checkText(fs, name, s, most)
	return s
}

// text reads a text of several lines; line ends become \n.
func text(fs *fault.Fields, get Fields, name string, most int) string {
	s := strings.TrimSpace(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(get(name)))
	checkText(fs, name, s, most)
	return s
}

func checkText(fs *fault.Fields, name, s string, most int) {
	// Postgres keeps no NUL, and nothing else that cannot be seen is meant.
	unseen := func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }
	switch n := utf8.RuneCountInString(s); {
	case n > most:
		fs.Add(name, fault.TooLong, "This is %d characters long; at most %d are kept. Please shorten it.", n, most)
	case !utf8.ValidString(s) || strings.ContainsFunc(s, unseen):
		fs.Add(name, fault.Impossible, "This contains signs that are not text. Please type it again.")
	}
}

func choice[T ~string](fs *fault.Fields, get Fields, name string, none T, all []T, ask string) T {
	switch v := T(strings.TrimSpace(get(name))); {
	case v == "":
		return none
	case slices.Contains(all, v):
		return v
	default:
		fs.Add(name, fault.NotChoice, "%s", ask)
		return v
	}
}

// short is a typed text as a fault repeats it.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// measure is one number that a card asks for.
type measure struct {
	name     string
	what     string             // begins a sentence: "The hose"
	unit     q.Unit             // canonical
	per      map[q.Unit]float64 // canonical units in one of each that is accepted
	possible q.Range            // in the canonical unit
	likely   q.Range
}

// number reads a measure typed in the unit that stands beside the field, unless
// the text names its own. Blank is not known. A text that can be read in two
// ways is settled by what is possible, and else asked about.
func number(fs *fault.Fields, get Fields, m measure, units say.Units) q.Opt[float64] {
	typed := strings.TrimSpace(get(m.name))
	if typed == "" {
		return q.Opt[float64]{}
	}
	t, bad := q.ParseNumber(typed, q.Locale{Decimal: units.Decimal})
	switch bad {
	case q.NoNumber:
		fs.Add(m.name, fault.NotNumber, "“%s” is not a number.", short(typed))
		return q.Opt[float64]{}
	case q.UnknownUnit:
		fs.Add(m.name, fault.NotUnit, "The unit in “%s” is not known here; type %s.", short(typed), m.accepts())
		return q.Opt[float64]{}
	}
	unit := t.Unit
	if unit == "" {
		unit = q.Unit(strings.TrimSpace(get(m.name + ".unit")))
	}
	if unit == "" {
		unit = m.unit
	}
	factor, fits := m.per[unit]
	if !fits {
		fs.Add(m.name, fault.NotUnit, "%s is not measured in %s; type %s.", m.what, short(unit.Sign()), m.accepts())
		return q.Opt[float64]{}
	}
	v := t.Value * factor
	if t.Alt.OK {
		other := t.Alt.V * factor
		switch {
		case m.possible.Holds(v) && m.possible.Holds(other):
			if !confirmed(get, m.name, typed) {
				*fs = append(*fs, fault.Field{Name: m.name, Kind: fault.Ambiguous, Confirm: m.name + "=" + typed,
					Text: "“" + short(typed) + "” can be read as " + plainNumber(t.Value, units) + " or as " + plainNumber(t.Alt.V, units) +
						". Type it without a mark between the thousands, or say that " + plainNumber(t.Value, units) + " is meant."})
				return q.Opt[float64]{}
			}
		case m.possible.Holds(other):
			v = other
		}
	}
	if !m.possible.Holds(v) {
		fs.Add(m.name, fault.Impossible, "%s cannot be %s.", m.what, strings.TrimSpace(typed+" "+unitBehind(t, unit)))
		return q.Opt[float64]{}
	}
	if !m.likely.Holds(v) && !confirmed(get, m.name, typed) {
		*fs = append(*fs, fault.Field{Name: m.name, Kind: fault.Unlikely, Confirm: m.name + "=" + typed,
			Text: m.what + " is seldom " + strings.TrimSpace(short(typed)+" "+unitBehind(t, unit)) + ". Is that right?"})
		return q.Opt[float64]{}
	}
	return q.Some(v)
}

// unitBehind is the unit's sign where the text did not name it itself.
func unitBehind(t q.Typed, unit q.Unit) string {
	if t.Unit != "" {
		return ""
	}
	return unit.Sign()
}

func (m measure) accepts() string {
	if len(m.per) == 1 {
		return "a number alone"
	}
	signs := make([]string, 0, len(m.per))
	for u := range m.per {
		signs = append(signs, u.Sign())
	}
	slices.Sort(signs)
	return strings.Join(signs, " or ")
}

func plainNumber(v float64, units say.Units) string {
	s := strings.Replace(say.Number(v, 3, units), "−", "-", 1)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".,")
}

// confirmed reports whether the post says "yes, I mean it" for what is typed
// in the field. Several are posted under one name, so the reader joins them
// with line ends.
func confirmed(get Fields, name, typed string) bool {
	return slices.Contains(strings.Split(get("confirm"), "\n"), name+"="+typed)
}
