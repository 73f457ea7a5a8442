package calc

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"scaperound/domain/fault"
)

// Value is one typed input: numbers, or words. A single number may stand where
// several are wanted, and the other way round is a fault.
type Value struct {
	Nums  []float64
	Words []string
}

// Num is a value of one number.
func Num(v float64) Value { return Value{Nums: []float64{v}} }

// WordOf is a value of one word.
func WordOf(s string) Value { return Value{Words: []string{s}} }

// ParseValue reads the text behind an equals sign: a number, several separated by
// commas, semicolons or spaces, or else words separated by commas or semicolons.
// Numbers are written with a decimal point.
func ParseValue(text string) Value {
	text = strings.TrimSpace(text)
	var v Value
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '[' || r == ']' }) {
		n, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			v.Nums = nil
			break
		}
		v.Nums = append(v.Nums, n)
	}
	if v.Nums == nil && text != "" {
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '[' || r == ']' }) {
			if w = strings.Trim(strings.TrimSpace(w), `"`); w != "" {
				v.Words = append(v.Words, w)
			}
		}
	}
	return v
}

// Args are the checked inputs of one evaluation.
type Args struct {
	def  *Def
	vals map[string]Value // by canonical key
}

// take resolves aliases and checks every input; all faults are told at once.
func (d *Def) take(raw map[string]Value) (Args, error) {
	a := Args{def: d, vals: make(map[string]Value, len(d.In))}
	var faults fault.Fields
	keys := make([]string, 0, len(raw))
	for k := range raw {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		in := d.named(k)
		if in == nil {
			faults.Add(k, fault.Unknown, "%s takes no %s; it takes %s.", d.Name, k, d.keyList())
			continue
		}
		if _, twice := a.vals[in.Key]; twice {
			faults.Add(k, fault.Impossible, "%s is given twice.", in.Key)
			continue
		}
		if text, kind := in.wrong(raw[k]); text != "" {
			faults.Add(k, kind, "%s", text)
			continue
		}
		a.vals[in.Key] = raw[k]
	}
	for i := range d.In {
		in := &d.In[i]
		if _, ok := a.vals[in.Key]; ok || in.Optional || slices.ContainsFunc(faults, func(f fault.Field) bool { return d.named(f.Name) == in }) {
			continue
		}
		faults.Add(in.Key, fault.Missing, "%s is missing: %s.", in.Key, in.describe())
	}
	return a, faults.Err()
}

func (d *Def) keyList() string {
	if len(d.In) == 0 {
		return "nothing"
	}
	keys := make([]string, len(d.In))
	for i, in := range d.In {
		keys[i] = in.Key
	}
	return strings.Join(keys, ", ")
}

func (in *Input) describe() string {
	s := in.Title
	if sign := in.Unit.Sign(); sign != "" {
		s += " in " + sign
	}
	return s
}

// wrong says why a value does not fit, or returns nothing.
func (in *Input) wrong(v Value) (text, kind string) {
	switch in.Shape {
	case Word, Words:
		if len(v.Words) == 0 {
			for _, n := range v.Nums { // "1" may be a word too
				v.Words = append(v.Words, strconv.FormatFloat(n, 'g', -1, 64))
			}
		}
		if len(v.Words) == 0 || in.Shape == Word && len(v.Words) > 1 && in.Choices != nil {
			return in.Key + " wants a word: " + in.describe() + ".", fault.Missing
		}
		return "", ""
	case Number:
		if len(v.Nums) != 1 {
			return in.Key + " wants one number: " + in.describe() + ".", fault.NotNumber
		}
	case Numbers:
		if len(v.Nums) == 0 {
			return in.Key + " wants numbers: " + in.describe() + ".", fault.NotNumber
		}
	}
	for _, n := range v.Nums {
		if math.IsNaN(n) || math.IsInf(n, 0) {
			return in.Key + " wants a number.", fault.NotNumber
		}
		if in.Hi == noLimit && n < 0 {
			return in.Key + " cannot be below 0; here it is " + figure(n) + ".", fault.Impossible
		}
		if (in.Lo != 0 || in.Hi != 0) && (n < in.Lo || n > in.Hi) {
			return in.Key + " must lie from " + figure(in.Lo) + " to " + figure(in.Hi) + "; here it is " + figure(n) + ".", fault.Impossible
		}
	}
	return "", ""
}

// F returns a number, its default, or zero where an optional one is not given.
func (a Args) F(key string) float64 {
	if v, ok := a.vals[key]; ok && len(v.Nums) > 0 {
		return v.Nums[0]
	}
	if in := a.def.named(key); in != nil {
		return in.Default.V
	}
	return 0
}

// Has reports whether an input was given.
func (a Args) Has(key string) bool { _, ok := a.vals[key]; return ok }

// List returns the numbers of an input.
func (a Args) List(key string) []float64 { return a.vals[key].Nums }

// Word returns a word, or other where none was given.
func (a Args) Word(key, other string) string {
	if v, ok := a.vals[key]; ok && len(v.Words) > 0 {
		return strings.Join(v.Words, ",")
	}
	return other
}

// WordList returns the words of an input.
func (a Args) WordList(key string) []string { return a.vals[key].Words }

// figure writes a number with six digits, as the steps show them.
func figure(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
