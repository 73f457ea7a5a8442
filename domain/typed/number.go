package typed

import (
	"math"
	"slices"
	"strings"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// A Scale is one unit in which a measure may be typed:
// canonical = typed·Factor + Offset.
type Scale struct {
	Unit           q.Unit
	Factor, Offset float64
}

// A Dimension is what a number measures. The first scale is the canonical one;
// US is what a reader of US units starts with, empty where that is the same.
type Dimension struct {
	Scales []Scale
	US     q.Unit
}

// Dimensions of what a tank's records hold.
var (
	Length       = Dimension{[]Scale{{q.CM, 1, 0}, {q.MM, 0.1, 0}, {q.Inch, q.CmPerInch, 0}}, q.Inch}
	Volume       = Dimension{[]Scale{{q.L, 1, 0}, {q.ML, 1e-3, 0}, {q.GalUS, q.LitrePerGalUS, 0}, {q.GalUK, q.LitrePerGalUK, 0}}, q.GalUS}
	SmallDose    = Dimension{Scales: []Scale{{q.ML, 1, 0}, {q.L, 1e3, 0}}}
	Mass         = Dimension{[]Scale{{q.Kg, 1, 0}, {q.Gr, 1e-3, 0}, {q.Lb, q.GramPerLb / 1e3, 0}}, q.Lb}
	SmallMass    = Dimension{Scales: []Scale{{q.Gr, 1, 0}, {q.Kg, 1e3, 0}}}
	FlowRate     = Dimension{[]Scale{{q.LH, 1, 0}, {q.GalUSH, q.LitrePerGalUS, 0}}, q.GalUSH}
	Warmth       = Dimension{[]Scale{{q.DegC, 1, 0}, {q.DegF, 5.0 / 9, -160.0 / 9}}, q.DegF}
	Percent      = Dimension{Scales: []Scale{{q.Percent, 1, 0}}}
	PercentOfOne = Dimension{Scales: []Scale{{q.Percent, 0.01, 0}}} // canonical is a share, 0 to 1
	Brightness   = Dimension{Scales: []Scale{{q.Umol, 1, 0}}}
)

// Plain is a number with a unit that has no other, or with none at all.
func Plain(u q.Unit) Dimension { return Dimension{Scales: []Scale{{u, 1, 0}}} }

// OfKind is the dimension of what is measured at a tank.
func OfKind(k q.Kind) Dimension {
	m, _ := q.MeasureOf(k)
	var d Dimension
	for _, u := range q.UnitsFor(k) {
		zero, _ := q.ToCanonical(k, 0, u)
		one, _ := q.ToCanonical(k, 1, u)
		d.Scales = append(d.Scales, Scale{u, one - zero, zero})
	}
	switch m.Unit {
	case q.DegC:
		d.US = q.DegF
	case q.LH:
		d.US = q.GalUSH
	}
	return d
}

func (d Dimension) scale(u q.Unit) (Scale, bool) {
	for _, s := range d.Scales {
		if s.Unit == u {
			return s, true
		}
	}
	return Scale{}, false
}

// Units lists the units for a reader, the reader's own first.
func (d Dimension) Units(sys say.System) []q.Unit {
	var out []q.Unit
	for _, s := range d.Scales {
		out = append(out, s.Unit)
	}
	if i := slices.Index(out, d.US); sys == say.US && i > 0 {
		out = append([]q.Unit{d.US}, slices.Delete(out, i, i+1)...)
	}
	return out
}

// In is a canonical value in one of the dimension's units.
func (d Dimension) In(v float64, u q.Unit) float64 {
	s, ok := d.scale(u)
	if !ok {
		return v
	}
	return (v - s.Offset) / s.Factor
}

// Show writes a canonical value as a field shows it, in the reader's own unit,
// with at most three decimals.
func (d Dimension) Show(v q.Opt[float64], units say.Units) string {
	if !v.OK {
		return ""
	}
	return plainNumber(d.In(v.V, d.Units(units.System)[0]), units)
}

// A Measure is one number that a form asks for. Possible and Likely are in the
// canonical unit.
type Measure struct {
	Name     string // of the field; its unit is posted as Name.unit
	What     string // begins a sentence: "The length"
	Dim      Dimension
	Possible q.Range // outside is refused
	Likely   q.Range // outside is asked about once
}

// Number reads a measure typed in the unit that stands beside the field, unless
// the text names its own. Blank is not known. A text that can be read in two
// ways is settled by what is possible, and else asked about. was is the value
// that the form was drawn with: typed as it was shown, it keeps its exact value.
func (f *Form) Number(m Measure, was q.Opt[float64]) q.Opt[float64] {
	typed := strings.TrimSpace(f.Get(m.Name))
	own := m.Dim.Units(f.Units.System)[0]
	beside := q.Unit(strings.TrimSpace(f.Get(m.Name + ".unit")))
	if typed == "" {
		return q.Opt[float64]{}
	}
	if was.OK && typed == m.Dim.Show(was, f.Units) && (beside == "" || beside == own) {
		return was
	}
	t, bad := q.ParseNumber(typed, q.Locale{Decimal: f.Units.Decimal})
	switch bad {
	case q.NoNumber:
		f.Faults.Add(m.Name, fault.NotNumber, "“%s” is not a number.", short(typed))
		return q.Opt[float64]{}
	case q.UnknownUnit:
		f.Faults.Add(m.Name, fault.NotUnit, "The unit in “%s” is not known here; type %s.", short(typed), m.Dim.accepts())
		return q.Opt[float64]{}
	}
	unit := m.unitOf(t, beside, own)
	s, fits := m.Dim.scale(unit)
	if !fits {
		f.Faults.Add(m.Name, fault.NotUnit, "%s is not measured in %s; type %s.", m.What, short(sign(unit)), m.Dim.accepts())
		return q.Opt[float64]{}
	}
	v, settled := f.settle(m, t, s, typed)
	if !settled {
		return q.Opt[float64]{}
	}
	behind := ""
	if t.Unit == "" {
		behind = unit.Sign()
	}
	said := strings.TrimSpace(short(typed) + " " + behind)
	if !m.Possible.Holds(v) {
		f.Faults.Add(m.Name, fault.Impossible, "%s cannot be %s.", m.What, said)
		return q.Opt[float64]{}
	}
	if !m.Likely.Holds(v) && !f.Confirmed(m.Name, typed) {
		f.ask(m.Name, fault.Unlikely, typed, m.What+" is seldom "+said+". Is that right?")
		return q.Opt[float64]{}
	}
	return q.Some(v)
}

// unitOf is the unit that the text names, or the one beside the field.
func (m Measure) unitOf(t q.Typed, beside, own q.Unit) q.Unit {
	switch {
	case t.Unit == "d": // a degree of hardness, without saying which
		for _, s := range m.Dim.Scales {
			if s.Unit == q.DKH || s.Unit == q.DGH || s.Unit == q.DegC {
				return s.Unit
			}
		}
		return t.Unit
	case t.Unit != "":
		return t.Unit
	case beside != "":
		return beside
	}
	return own
}

// settle turns the typed number into the canonical unit, asking where the text
// can be read in two ways that are both possible.
func (f *Form) settle(m Measure, t q.Typed, s Scale, typed string) (float64, bool) {
	v := t.Value*s.Factor + s.Offset
	if !t.Alt.OK {
		return v, true
	}
	other := t.Alt.V*s.Factor + s.Offset
	switch {
	case m.Possible.Holds(v) && m.Possible.Holds(other):
		if !f.Confirmed(m.Name, typed) {
			meant := plainNumber(t.Value, f.Units)
			f.ask(m.Name, fault.Ambiguous, typed, "“"+short(typed)+"” can be read as "+meant+" or as "+plainNumber(t.Alt.V, f.Units)+
				". Type it without a mark between the thousands, or say that "+meant+" is meant.")
			return 0, false
		}
	case m.Possible.Holds(other):
		return other, true
	}
	return v, true
}

func (f *Form) ask(name, kind, typed, text string) {
	f.Faults = append(f.Faults, fault.Field{Name: name, Kind: kind, Confirm: typed, Text: text})
}

// Confirmed reports whether the post says "yes, I mean it" for what is typed in
// the field.
func (f *Form) Confirmed(name, typed string) bool {
	return slices.Contains(strings.Split(f.Get("confirm"), "\n"), name+"="+typed)
}

// Whole reads a measure that counts things.
func (f *Form) Whole(m Measure, was q.Opt[int]) q.Opt[int] {
	old := q.Opt[float64]{V: float64(was.V), OK: was.OK}
	v := f.Number(m, old)
	if !v.OK {
		return q.Opt[int]{}
	}
	if v.V != math.Trunc(v.V) {
		f.Faults.Add(m.Name, fault.Impossible, "%s is a whole number.", m.What)
		return q.Opt[int]{}
	}
	return q.Some(int(v.V))
}

func (d Dimension) accepts() string {
	var signs []string
	for _, s := range d.Scales {
		if x := sign(s.Unit); x != "" && !slices.Contains(signs, x) {
			signs = append(signs, x)
		}
	}
	if len(signs) == 0 {
		return "a number alone"
	}
	return strings.Join(signs, " or ")
}

// sign is a unit as a person reads it, telling the two gallons apart.
func sign(u q.Unit) string {
	switch u {
	case q.GalUS:
		return "US gal"
	case q.GalUK:
		return "UK gal"
	}
	return u.Sign()
}

// Sign is a unit as a list of units shows it.
func Sign(u q.Unit) string { return sign(u) }

func plainNumber(v float64, units say.Units) string {
	s := strings.Replace(say.Number(v, 3, units), "−", "-", 1)
	if !strings.ContainsAny(s, ".,") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".,")
}

// Float is any known quantity as a bare number.
func Float[T ~float64](o q.Opt[T]) q.Opt[float64] { return q.Opt[float64]{V: float64(o.V), OK: o.OK} }

// As gives a bare number its unit.
func As[T ~float64](o q.Opt[float64]) q.Opt[T] { return q.Opt[T]{V: T(o.V), OK: o.OK} }
