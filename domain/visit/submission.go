package visit

import (
	"cmp"
	"strings"
	"time"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
)

// Field is one pair of a form as posted.
type Field struct{ Name, Value string }

// Submission is what a post says, read as far as it could be read. New turns
// it into a Record.
type Submission struct {
	Record
	Typed     []TypedReading
	Drawn     q.Opt[time.Time]  // when all samples were drawn, where that was said once
	Confirmed map[string]string // field -> value that the person said was meant
	WireGiven string
	// ActedAt is the moment of which the form spoke: what came into the tank's
	// record later was not before the person's eyes.
	ActedAt q.Opt[time.Time]
	// LeaveAsked says that the form showed the leave list, so that a blank in
	// it is an omission and not a form that has none.
	LeaveAsked bool
}

// TypedReading is a reading in the unit in which it was typed.
type TypedReading struct {
	Field   string // reading.KIND.PHASE
	Kind    q.Kind
	Phase   Phase
	Text    string
	Number  q.Typed
	Upper   q.Opt[float64] // second label of "between 10 and 25"
	Unit    q.Unit
	Lot     string
	Drawn   q.Opt[time.Time]
	Wide    q.Opt[float64] // the other reading of an ambiguous text that could not be asked about
	Settled bool
}

// Units that exist only in the visit's form.
const (
	CountedDrops q.Unit = "drops" // drops until the colour turned
	KitClass     q.Unit = "class" // a printed class, or "10..25" for between two
)

// sendingFields tell about the sending and not about the visit: a frozen body
// that is sent again is still the same body.
var sendingFields = map[string]bool{"sent": true, "offline": true}

// Canonical is the form's pairs, sorted, as typed, without blanks and without
// what only tells about the sending: what "the same body" means.
func Canonical(fields []Field) []byte {
	kept := make([]Field, 0, len(fields))
	for _, f := range fields {
		if f.Value != "" && !sendingFields[f.Name] {
			kept = append(kept, f)
		}
	}
	num.SortStable(kept, func(a, b Field) int {
		return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(a.Value, b.Value))
	})
	var b strings.Builder
	escape := func(s string) string {
		return strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(s, "\\", "\\\\"), "\n", "\\n"), "=", "\\=")
	}
	for _, f := range kept {
		b.WriteString(escape(f.Name))
		b.WriteByte('=')
		b.WriteString(escape(f.Value))
		b.WriteByte('\n')
	}
	return []byte(b.String())
}
