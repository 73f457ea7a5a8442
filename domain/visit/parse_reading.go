package visit

import (
	"strconv"
	"strings"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

func (r *reader) reading(name, rest string) {
	kindText, phaseText, _ := strings.Cut(rest, ".")
	kind, phase := q.Kind(kindText), Phase(phaseText)
	m, ok := q.MeasureOf(kind)
	if !ok || !known(Phases, phase) {
		r.faults.Add(name, fault.Unknown, "The form has no reading of this name.")
		return
	}
	t := TypedReading{
		Field: name, Kind: kind, Phase: phase, Text: r.one(name),
		Unit: q.Unit(r.one("unit." + rest)), Lot: r.id("kit."+rest, false),
		Drawn: r.optInstant("drawn." + rest),
	}
	switch t.Unit {
	case CountedDrops:
		n, ok := r.count(name, 0, 400)
		if !ok {
			return
		}
		t.Number = q.Typed{Value: float64(n)}
	case KitClass:
		if !r.class(&t) {
			return
		}
	default:
		if !r.measured(&t, m) {
			return
		}
	}
	r.s.Typed = append(r.s.Typed, t)
}

// class reads "10", or "10..25" for a colour between two.
func (r *reader) class(t *TypedReading) bool {
	lo, hi, two := strings.Cut(t.Text, "..")
	a, err1 := strconv.ParseFloat(lo, 64)
	b, err2 := a, error(nil)
	if two {
		b, err2 = strconv.ParseFloat(hi, 64)
	}
	if err1 != nil || err2 != nil || b < a {
		r.faults.Add(t.Field, fault.NotChoice, "“%s” is not a colour of this kit.", clip(t.Text))
		return false
	}
	t.Number = q.Typed{Value: a}
	if two {
		t.Upper = q.Some(b)
	}
	return true
}

// measured reads a number with or without a unit behind it.
func (r *reader) measured(t *TypedReading, m q.Measure) bool {
	n, bad := q.ParseNumber(t.Text, r.c.Locale)
	switch bad {
	case q.NoNumber:
		r.faults.Add(t.Field, fault.NotNumber, "“%s” is not a number.", clip(t.Text))
		return false
	case q.UnknownUnit:
		r.faults.Add(t.Field, fault.NotUnit, "The unit in “%s” is not known. %s is kept in %s.", clip(t.Text), m.Title, unitName(m.Unit))
		return false
	}
	if n.Unit != "" {
		t.Unit = q.InKind(t.Kind, n.Unit)
	}
	if t.Unit == "" && r.c.UnitOf != nil {
		t.Unit = r.c.UnitOf(t.Kind)
	}
	if t.Unit == "" {
		t.Unit = m.Unit
	}
	if _, fits := q.ToCanonical(t.Kind, n.Value, t.Unit); !fits {
		r.faults.Add(t.Field, fault.NotUnit, "%s cannot be read in %s. It is kept in %s.", m.Title, unitName(t.Unit), unitName(m.Unit))
		return false
	}
	t.Number = n
	if n.Alt.OK && !r.settle(t, m) {
		return false
	}
	canonical, _ := q.ToCanonical(t.Kind, t.Number.Value, t.Unit)
	if !m.Holds(canonical) {
		lo, _ := q.FromCanonical(t.Kind, m.Lo, t.Unit)
		hi, _ := q.FromCanonical(t.Kind, m.Hi, t.Unit)
		r.faults.Add(t.Field, fault.Impossible, "%s of %s cannot be: it lies between %s and %s.", m.Title,
			r.amount(t.Number.Value, t.Unit), r.amount(lo, t.Unit), r.amount(hi, t.Unit))
		return false
	}
	if m.Likely.Holds(canonical) {
		return true
	}
	if v, said := r.s.Confirmed[t.Field]; said && sameNumber(v, t.Number.Value) {
		t.Settled = true
		return true
	}
	if r.s.Offline {
		r.s.Flags = append(r.s.Flags, "unlikely:"+t.Field)
		return true
	}
	r.faults = append(r.faults, fault.Field{
		Name: t.Field, Kind: fault.Unlikely, Confirm: plainNumber(t.Number.Value),
		Text: m.Title + " of " + r.amount(t.Number.Value, t.Unit) + " is unusual. Is that what you read?",
	})
	return false
}

// settle decides between two readings of one text: by what is possible, by
// what the person said, or by asking. It never guesses; a post that cannot be
// asked keeps both ends.
func (r *reader) settle(t *TypedReading, m q.Measure) bool {
	first, second := t.Number.Value, t.Number.Alt.V
	a, _ := q.ToCanonical(t.Kind, first, t.Unit)
	b, _ := q.ToCanonical(t.Kind, second, t.Unit)
	t.Number.Alt = q.Opt[float64]{}
	switch said, has := r.s.Confirmed[t.Field]; {
	case !m.Holds(b):
		return true
	case !m.Holds(a):
		t.Number.Value = second
		return true
	case has && sameNumber(said, first):
		t.Settled = true
		return true
	case has && sameNumber(said, second):
		t.Number.Value, t.Settled = second, true
		return true
	case r.s.Offline:
		t.Wide = q.Some(second)
		r.s.Flags = append(r.s.Flags, "ambiguous:"+t.Field)
		return true
	}
	for _, v := range []float64{first, second} {
		r.faults = append(r.faults, fault.Field{
			Name: t.Field, Kind: fault.Ambiguous, Confirm: plainNumber(v),
			Text: "“" + clip(t.Text) + "” can be read in two ways. Is it " + r.amount(v, t.Unit) + "?",
		})
	}
	return false
}

func (r *reader) amount(v float64, u q.Unit) string {
	s := plainNumber(v)
	if r.c.Locale.Decimal == ',' {
		s = strings.Replace(s, ".", ",", 1)
	}
	if sign := u.Sign(); sign != "" {
		return s + " " + sign
	}
	return s
}

func unitName(u q.Unit) string {
	if s := u.Sign(); s != "" {
		return s
	}
	return string(u)
}

func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// sameNumber compares what was confirmed with what was read, however either
// was written.
func sameNumber(text string, v float64) bool {
	c, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return err == nil && c == v
}

// number reads an amount of work or kit in the shop's way of writing, in unit
// u or another unit of the same dimension.
func number[T ~float64](r *reader, name string, u q.Unit, lo, hi float64) q.Opt[T] {
	v := r.one(name)
	if v == "" {
		return q.Opt[T]{}
	}
	n, bad := q.ParseNumber(v, r.c.Locale)
	if bad == q.NoNumber {
		r.faults.Add(name, fault.NotNumber, "“%s” is not a number.", clip(v))
		return q.Opt[T]{}
	}
	x, ok := convert(n.Value, n.Unit, u)
	if bad == q.UnknownUnit || !ok {
		r.faults.Add(name, fault.NotUnit, "The unit in “%s” does not fit here; %s is meant.", clip(v), unitName(u))
		return q.Opt[T]{}
	}
	if n.Alt.OK {
		if alt, _ := convert(n.Alt.V, n.Unit, u); alt >= lo && alt <= hi {
			switch said, has := r.s.Confirmed[name]; {
			case x < lo || x > hi, has && sameNumber(said, n.Alt.V):
				x = alt
			case has && sameNumber(said, n.Value) || r.s.Offline:
			default:
				for _, c := range []float64{n.Value, n.Alt.V} {
					r.faults = append(r.faults, fault.Field{Name: name, Kind: fault.Ambiguous, Confirm: plainNumber(c),
						Text: "“" + clip(v) + "” can be read in two ways. Is it " + r.amount(c, u) + "?"})
				}
				return q.Opt[T]{}
			}
		}
	}
	if x < lo || x > hi {
		r.faults.Add(name, fault.Impossible, "%s cannot be: it lies between %s and %s.", r.amount(x, u), r.amount(lo, u), r.amount(hi, u))
		return q.Opt[T]{}
	}
	return q.Some(T(x))
}

// convert changes v from unit from to unit to; an empty from is to itself.
func convert(v float64, from, to q.Unit) (float64, bool) {
	if from == "" || from == to {
		return v, true
	}
	base := map[q.Unit]struct {
		dim string
		f   float64
	}{
		q.L: {"volume", 1}, q.ML: {"volume", 1e-3}, q.GalUS: {"volume", q.LitrePerGalUS}, q.GalUK: {"volume", q.LitrePerGalUK},
		q.Gr: {"mass", 1}, q.Kg: {"mass", 1e3}, q.Lb: {"mass", q.GramPerLb},
		q.CM: {"length", 1}, q.MM: {"length", 0.1}, q.Inch: {"length", q.CmPerInch},
		q.Umol: {"ppfd", 1},
	}
	a, ok1 := base[from]
	b, ok2 := base[to]
	if !ok1 || !ok2 || a.dim != b.dim {
		return 0, false
	}
	return v * a.f / b.f, true
}
