package calc

import (
	"math"
	"strconv"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// farthest is more than any input may be; ranges are the calculation's own to tell.
const farthest = 1e12

// mostNumbers is how many numbers an input of several takes.
const mostNumbers = 500

// Read reads the inputs of a form: a number in the unit that stands beside it as
// KEY.unit, a word, or several of either. Aliases are read where the key is blank.
// What is required and blank is in open, and no fault. Faults are in the form.
func (d *Def) Read(f *typed.Form) (raw map[string]Value, open []*Input) {
	raw = map[string]Value{}
	of := d.formText(f, d.named("of"))
	for i := range d.In {
		in := &d.In[i]
		text := d.formText(f, in)
		if text == "" {
			if !in.Optional {
				open = append(open, in)
			}
			continue
		}
		if v, ok := d.readOne(f, in, text, of); ok {
			raw[in.Key] = v
		}
	}
	return raw, open
}

// formText is what is typed for an input, under its key or an alias.
func (d *Def) formText(f *typed.Form, in *Input) string {
	if in == nil {
		return ""
	}
	text := strings.TrimSpace(f.Get(in.Key))
	for _, alias := range in.Aliases {
		if text == "" {
			text = strings.TrimSpace(f.Get(alias))
		}
	}
	return text
}

func (d *Def) readOne(f *typed.Form, in *Input, text, of string) (Value, bool) {
	before := len(f.Faults)
	var v Value
	switch {
	case in.Shape == Word:
		v = WordOf(text)
	case in.Shape == Words:
		v.Words = strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == ',' || r == ';' || r == ' ' })
	case in.YesNo:
		switch text {
		case "0", "no":
			v = Num(0)
		case "1", "yes", "on":
			v = Num(1)
		default:
			f.Faults.Add(in.Key, fault.NotChoice, "Choose yes or no.")
		}
	case in.Shape == Numbers:
		v = d.readNumbers(f, in, text, of)
	default:
		v = Num(d.readNumber(f, in, text, of).V)
	}
	return v, len(f.Faults) == before
}

// readNumber reads one number; the unit beside it may stand under an alias too.
func (d *Def) readNumber(f *typed.Form, in *Input, text, of string) quantity.Opt[float64] {
	one := typed.Form{Units: f.Units, Get: func(name string) string {
		if name == in.Key {
			return text
		}
		return f.Get(name)
	}}
	v := one.Number(in.Measure(of), quantity.Opt[float64]{})
	f.Faults = append(f.Faults, one.Faults...)
	return v
}

// readNumbers reads several numbers, apart by spaces, lines or semicolons.
func (d *Def) readNumbers(f *typed.Form, in *Input, text, of string) Value {
	var v Value
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\r' || r == '\t' || r == ';' || r == '\u00a0' })
	if len(parts) > mostNumbers {
		f.Faults.Add(in.Key, fault.TooLong, "These are %d numbers; at most %d are taken.", len(parts), mostNumbers)
		return v
	}
	for _, p := range parts {
		p = strings.Trim(p, ",")
		if p == "" {
			continue
		}
		if strings.Contains(p, ",") && f.Units.Decimal != ',' {
			f.Faults.Add(in.Key, fault.Ambiguous, "“%s” can be read as one number or as several. Put a space between numbers, and a point before decimals.", p)
			return Value{}
		}
		n := d.readNumber(f, in, p, of)
		if !n.OK {
			return Value{}
		}
		v.Nums = append(v.Nums, n.V)
	}
	if len(v.Nums) == 0 {
		f.Faults.Add(in.Key, fault.NotNumber, "Type numbers with spaces between them.")
	}
	return v
}

// Measure is the input as the parser of forms reads it.
func (in *Input) Measure(of string) typed.Measure {
	all := quantity.Range{Lo: -farthest, Hi: farthest}
	return typed.Measure{Name: in.Key, What: upperFirst(in.Title), Dim: in.Dimension(of), Possible: all, Likely: all}
}

func upperFirst(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Write is a value of the input as a form of a reader shows it, and its unit. Six
// digits are kept, and nobody can take the text for another number.
func (in *Input) Write(v Value, of string, units say.Units) (text string, unit quantity.Unit) {
	if len(v.Words) > 0 {
		return strings.Join(v.Words, "\n"), ""
	}
	dim := in.Dimension(of)
	unit = dim.Units(units.System)[0]
	parts := make([]string, len(v.Nums))
	for i, n := range v.Nums {
		parts[i] = plainText(dim.In(n, unit), units.Decimal)
	}
	return strings.Join(parts, " "), unit
}

// plainText writes six digits without an exponent. A number with three decimals gets
// a fourth, since a mark before three digits can be read as one between thousands.
func plainText(v float64, decimal byte) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil || math.IsInf(r, 0) {
		return ""
	}
	s := strconv.FormatFloat(r, 'f', -1, 64)
	if at := strings.IndexByte(s, '.'); at >= 0 {
		if len(s)-at-1 == 3 {
			s += "0"
		}
		if decimal == ',' {
			s = strings.Replace(s, ".", ",", 1)
		}
	}
	return s
}
