// Package say turns what the domain found out into sentences.
//
// The domain never returns prose: it returns a Sentence, an id with typed
// arguments, and Text turns that into words for one reader, in that reader's
// units. Another language is another catalogue.
package say

import (
	"math"
	"strconv"
	"strings"

	"scaperound/domain/quantity"
)

// System of units in which a person reads.
type System string

// Systems that a shop or a person may choose.
const (
	Metric System = "metric"
	US     System = "us"
)

// Units says how a reader wants numbers.
type Units struct {
	System  System
	Decimal byte // '.' or ','
}

// MetricUnits is what documents carry.
var MetricUnits = Units{System: Metric, Decimal: '.'}

// Sentence is an id of the catalogue and its arguments.
type Sentence struct {
	ID   string
	Args []Arg
}

// ArgKind tells how an argument is turned into text.
type ArgKind uint8

// Kinds of arguments.
const (
	TextArg    ArgKind = iota // shown as it is: names, notes
	NumberArg                 // Num in Unit, shown with Decimals
	ReadingArg                // Num in the canonical unit of Quantity
	WordArg                   // Text is a key of the catalogue of words
	DateArg                   // Day
	ListArg                   // List, joined with commas and "and"
)

// Arg is one argument. Exactly the fields that its Kind names are set.
type Arg struct {
	Name     string
	Kind     ArgKind
	Text     string
	Num      float64
	Unit     quantity.Unit
	Quantity quantity.Kind
	Decimals int
	Day      quantity.Date
	List     []Arg
}

// S makes a sentence.
func S(id string, args ...Arg) Sentence { return Sentence{ID: id, Args: args} }

// Text is an argument shown as it is.
func Text(name, text string) Arg { return Arg{Name: name, Kind: TextArg, Text: text} }

// Word is an argument looked up in the catalogue of words.
func Word(name, key string) Arg { return Arg{Name: name, Kind: WordArg, Text: key} }

// Num is a number in a unit, rounded when it is shown.
func Num(name string, v float64, u quantity.Unit, decimals int) Arg {
	return Arg{Name: name, Kind: NumberArg, Num: v, Unit: u, Decimals: decimals}
}

// Reading is a value of a kind in its canonical unit.
func Reading(name string, k quantity.Kind, v float64) Arg {
	return Arg{Name: name, Kind: ReadingArg, Num: v, Quantity: k}
}

// Day is a civil day.
func Day(name string, d quantity.Date) Arg { return Arg{Name: name, Kind: DateArg, Day: d} }

// List joins several arguments.
func List(name string, items ...Arg) Arg { return Arg{Name: name, Kind: ListArg, List: items} }

// Render turns a sentence into text. An id that the catalogue lacks is shown
// as itself, so that nothing is ever silently empty; a test forbids that case.
func Render(s Sentence, u Units) string {
	pattern, ok := english[s.ID]
	if !ok {
		pattern = s.ID
	}
	var b strings.Builder
	for {
		open := strings.IndexByte(pattern, '{')
		if open < 0 {
			b.WriteString(pattern)
			return b.String()
		}
		end := strings.IndexByte(pattern[open:], '}')
		if end < 0 {
			b.WriteString(pattern)
			return b.String()
		}
		b.WriteString(pattern[:open])
		name := pattern[open+1 : open+end]
		if a, ok := s.arg(name); ok {
			b.WriteString(renderArg(a, u))
		} else {
			b.WriteString("…")
		}
		pattern = pattern[open+end+1:]
	}
}

func (s Sentence) arg(name string) (Arg, bool) {
	for _, a := range s.Args {
		if a.Name == name {
			return a, true
		}
	}
	return Arg{}, false
}

func renderArg(a Arg, u Units) string {
	switch a.Kind {
	case NumberArg:
		return Amount(a.Num, a.Unit, a.Decimals, u)
	case ReadingArg:
		m, _ := quantity.MeasureOf(a.Quantity)
		return Amount(a.Num, m.Unit, m.DecimalsAt(a.Num), u)
	case WordArg:
		if w, ok := words[a.Text]; ok {
			return w
		}
		return strings.ReplaceAll(a.Text, "_", " ")
	case DateArg:
		at := a.Day.Midnight()
		return at.Weekday().String() + " " + strconv.Itoa(at.Day()) + " " + at.Month().String()
	case ListArg:
		parts := make([]string, len(a.List))
		for i, x := range a.List {
			parts[i] = renderArg(x, u)
		}
		return JoinAnd(parts)
	}
	return a.Text
}

// JoinAnd writes "a, b and c".
func JoinAnd(parts []string) string {
	switch len(parts) {
	case 0:
		return ""
	case 1:
		return parts[0]
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// Amount writes a number and its unit for the reader. The value is in unit.
func Amount(v float64, unit quantity.Unit, decimals int, u Units) string {
	v, unit, decimals = forReader(v, unit, decimals, u.System)
	n := Number(v, decimals, u)
	switch sign := unit.Sign(); {
	case sign == "":
		return n
	case unit == quantity.Percent:
		return n + " %"
	default:
		return n + " " + sign
	}
}

// Number writes v with a fixed number of decimals and the reader's mark.
func Number(v float64, decimals int, u Units) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	if u.Decimal == ',' {
		s = strings.Replace(s, ".", ",", 1)
	}
	return strings.Replace(s, "-", "−", 1)
}

// forReader converts what a reader of US units expects otherwise; water
// chemistry stays in mg/L and degrees, as the kits are labelled.
func forReader(v float64, unit quantity.Unit, decimals int, sys System) (float64, quantity.Unit, int) {
	if sys != US {
		return v, unit, decimals
	}
	switch unit {
	case quantity.DegC:
		return v*9/5 + 32, quantity.DegF, 0
	case quantity.L:
		return v / quantity.LitrePerGalUS, quantity.GalUS, max(decimals, 1)
	case quantity.LH:
		return v / quantity.LitrePerGalUS, quantity.GalUSH, decimals
	case quantity.CM:
		return v / quantity.CmPerInch, quantity.Inch, max(decimals, 1)
	case quantity.M:
		return v / quantity.MPerFoot, quantity.Foot, decimals
	case quantity.M3:
		return v / quantity.M3PerFoot3, quantity.Foot3, decimals
	case quantity.Kg:
		return v * 1000 / quantity.GramPerLb, quantity.Lb, max(decimals, 1)
	}
	return v, unit, decimals
}
