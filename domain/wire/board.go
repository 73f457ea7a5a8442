package wire

import (
	"reflect"
	"slices"
	"strings"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// Board is what a tablet takes along of one tank, so that a visit can be judged
// there as the server would judge it.
type Board struct {
	Rules string // care.RulesVersion of the program that made it
	At    time.Time
	Case  care.Case // without a visit of now
	Units say.Units // of whoever takes it along
	Zone  Zone
	// Typed are the units in which this person types where no kit says otherwise,
	// but for those of the program.
	Typed map[q.Kind]q.Unit
	// Decimal is the shop's decimal mark.
	Decimal string
}

// Zone is the shop's clock for a while, as differences from UTC.
type Zone []Shift

// Shift is a difference from UTC that holds from a moment on.
type Shift struct {
	From   time.Time
	Offset time.Duration
}

func (z Zone) at(t time.Time) time.Duration {
	for _, s := range slices.Backward(z) {
		if !t.Before(s.From) {
			return s.Offset
		}
	}
	if len(z) > 0 {
		return z[0].Offset
	}
	return 0
}

// Wall turns local wall time into an instant. A doubled hour is its first; a
// skipped one moves forward by what was skipped.
func (z Zone) Wall(d q.Date, m q.MinuteOfDay) time.Time {
	as := d.Midnight().Add(time.Duration(m) * time.Minute)
	before, after := z.at(as.Add(-24*time.Hour)), z.at(as.Add(24*time.Hour))
	for _, off := range []time.Duration{before, after} {
		if t := as.Add(-off); z.at(t) == off {
			return t
		}
	}
	return as.Add(-before)
}

// Local is the shop's day and minute of an instant.
func (z Zone) Local(t time.Time) (q.Date, q.MinuteOfDay) {
	l := t.UTC().Add(z.at(t))
	return q.DateOf(l), q.MinuteOfDay(l.Hour()*60 + l.Minute())
}

// EncodeBoard writes a board.
func EncodeBoard(b Board) []byte { return appendWhole(nil, reflect.ValueOf(b)) }

// DecodeBoard reads what EncodeBoard of the same version wrote.
func DecodeBoard(doc []byte) (Board, error) {
	var b Board
	n, err := parseLong(doc)
	if err != nil {
		return b, err
	}
	err = readWhole(&n, reflect.ValueOf(&b).Elem(), "board")
	if err == nil && b.Rules != care.RulesVersion {
		err = fault.New(fault.Malformed, "The tank's document was made by rules of version %s, and this page judges by version %s.", b.Rules, care.RulesVersion)
	}
	return b, err
}

// context is what a form is read against.
func (b *Board) context() visit.Context {
	decimal := byte('.')
	if b.Decimal != "" {
		decimal = b.Decimal[0]
	}
	return visit.Context{
		Tank: b.Case.Setup.ID, Locale: q.Locale{Decimal: decimal},
		UnitOf: func(k q.Kind) q.Unit {
			if u, ok := b.Typed[k]; ok {
				return u
			}
			m, _ := q.MeasureOf(k)
			return m.Unit
		},
		Wall: b.Zone.Wall, Local: b.Zone.Local, Kits: b.Case.Setup.Kits, Can: b.Case.Setup.CanLitres,
	}
}

// Judge says what a form means so far, as Preview writes it. form is a list of
// the form's [name, value]; now is the device's clock, RFC 3339.
func Judge(board, form []byte, now string) ([]byte, error) {
	b, err := DecodeBoard(board)
	if err != nil {
		return nil, err
	}
	fields, err := formPairs(form)
	if err != nil {
		return nil, err
	}
	at, ok := q.ParseInstant(now)
	if !ok {
		return nil, fault.New(fault.Malformed, "The time of the device cannot be read.")
	}
	c := b.context()
	rec, faults := ReadSoFar(fields, b.Case, at, c)
	return Preview(care.Assess(b.with(rec)), faults, b.Units), nil
}

// ReadSoFar reads a form that is still being filled in: what cannot be read yet
// is left out and named.
func ReadSoFar(fields []visit.Field, known care.Case, at time.Time, c visit.Context) (visit.Record, fault.Fields) {
	// The leave list and the like are asked for at the end, not while one types.
	own := slices.DeleteFunc(slices.Clone(fields), func(f visit.Field) bool { return strings.HasPrefix(f.Name, "leave.asked") })
	num.SortStable(own, func(a, b visit.Field) int { return compareText(a.Name, b.Name) })
	sub, faults := visit.Parse(own, c)
	rec, err := visit.New(sub, known.Setup, at, c)
	if err != nil {
		faults = append(faults, fault.Of(err).Fields...)
	}
	return rec, faults
}

// with is the case of a visit: what came before it, and what it says of tasks.
func (b *Board) with(rec visit.Record) care.Case {
	c := b.Case
	c.History = slices.DeleteFunc(slices.Clone(c.History), func(r visit.Record) bool { return r.Visit == rec.Visit })
	taken := make([]time.Time, len(c.History))
	for i := range c.History {
		taken[i] = c.History[i].Performed
	}
	rec.Performed = visit.Apart(rec.Performed, taken)
	c.Now = rec
	c.History = slices.DeleteFunc(c.History, func(r visit.Record) bool { return r.Performed.After(rec.Performed) })
	c.Open = slices.Clone(c.Open)
	for _, a := range rec.Tasks {
		for i := range c.Open {
			if c.Open[i].ID == a.Task && a.State == "skipped" {
				c.Open[i].Skips++
			}
		}
	}
	return c
}

func formPairs(form []byte) ([]visit.Field, error) {
	n, err := parse(form)
	if err != nil {
		return nil, err
	}
	out := make([]visit.Field, 0, len(n.list))
	for i := range n.list {
		p := &n.list[i]
		if p.kind != isList || len(p.list) != 2 || p.list[0].kind != isText || p.list[1].kind != isText {
			return nil, fault.New(fault.Malformed, "The form is not a list of names and values.")
		}
		out = append(out, visit.Field{Name: p.list[0].text, Value: p.list[1].text})
	}
	return out, nil
}
