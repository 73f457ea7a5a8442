package view

import (
	"net/url"
	"strconv"
	"strings"

	"scaperound/domain/fault"
)

// Form is what was typed, and what is wrong with it. The zero Form is an empty
// one.
type Form struct {
	Values url.Values
	Faults fault.Fields
	Beside map[string]string // below each field's label: what somebody else made of it meanwhile
	Was    []Pair            // what each field said when the form was drawn, sent along
}

// Field makes the named field of the form, with what was typed and its faults.
func (f Form) Field(name, label string) Field {
	return Field{Name: name, Label: label, Value: f.Values.Get(name), Faults: f.Faults.On(name), beside: f.Beside[name]}
}

// FieldWith is Field with a value of its own.
func (f Form) FieldWith(name, label, value string) Field {
	one := f.Field(name, label)
	one.Value = value
	return one
}

// Has reports whether the named field carries the value; for boxes and tiles.
func (f Form) Has(name, value string) bool {
	for _, v := range f.Values[name] {
		if v == value {
			return true
		}
	}
	return false
}

// Field is one thing to fill in. Its methods return a changed copy, so that a
// page reads as one line for each field.
type Field struct {
	Name   string
	Label  string
	Value  string
	Faults fault.Fields

	hint     string
	beside   string
	kind     string // the input's type; text where empty
	mode     string // inputmode
	fill     string // autocomplete
	max      int
	rows     int
	optional bool
	narrow   bool
	focus    bool
	list     []string
	unit     string
	units    []Option
	unitName string
	step     int
}

// Option is one of several choices.
type Option struct {
	Value string
	Label string
	Hint  string // a second, quiet line
}

// Hint is one line below the label that says what is meant.
func (f Field) Hint(text string) Field { f.hint = text; return f }

// Beside is shown next to the field: what it was last time.
func (f Field) Beside(text string) Field { f.beside = text; return f }

// Optional marks a field that may stay empty. Everything else is asked for.
func (f Field) Optional() Field { f.optional = true; return f }

// Email makes a field for an address to sign in with.
func (f Field) Email() Field { f.kind, f.mode = "email", "email"; return f }

// Phone makes a field for a telephone number.
func (f Field) Phone() Field { f.kind, f.mode = "tel", "tel"; return f }

// Password makes a field whose text is hidden; fill is current-password or
// new-password.
func (f Field) Password(fill string) Field { f.kind, f.fill, f.Value = "password", fill, ""; return f }

// Search makes a field to look for something.
func (f Field) Search() Field { f.kind = "search"; return f }

// Fill tells the browser what it may fill in by itself; off for none.
func (f Field) Fill(autocomplete string) Field { f.fill = autocomplete; return f }

// Max is the longest text, in characters.
func (f Field) Max(n int) Field { f.max = n; return f }

// Rows is the height of an area of text.
func (f Field) Rows(n int) Field { f.rows = n; return f }

// Narrow is for what is short: a number, a code.
func (f Field) Narrow() Field { f.narrow = true; return f }

// Focus puts the cursor here when the page opens. At most one in a page.
func (f Field) Focus() Field { f.focus = true; return f }

// Suggest offers these as one types.
func (f Field) Suggest(list []string) Field { f.list = list; return f }

// Unit shows the one unit that the number is in.
func (f Field) Unit(symbol string) Field { f.unit = symbol; return f }

// Units posts the unit beside the number, under its own name. With one option
// it is shown, with several it is chosen; the field's unit is the one chosen.
func (f Field) Units(name, chosen string, options ...Option) Field {
	f.unitName, f.unit, f.units = name, chosen, options
	return f
}

// Step is what one tap adds in a counter. It is 1 where it is not set.
func (f Field) Step(n int) Field { f.step = n; return f }

func (f Field) id() string { return "f-" + f.Name }

func (f Field) optionID(o Option) string { return f.id() + "-" + o.Value }

func (f Field) inputType() string {
	if f.kind == "" {
		return "text"
	}
	return f.kind
}

func (f Field) describedBy() string {
	var ids []string
	if f.hint != "" {
		ids = append(ids, f.id()+"-hint")
	}
	if f.beside != "" {
		ids = append(ids, f.id()+"-beside")
	}
	if len(f.Faults) > 0 {
		ids = append(ids, f.id()+"-fault")
	}
	return strings.Join(ids, " ")
}

func (f Field) invalid() string { return strconv.FormatBool(len(f.Faults) > 0) }

func (f Field) tapStep() string {
	if f.step == 0 {
		return "1"
	}
	return strconv.Itoa(f.step)
}

func (f Field) rowCount() string {
	if f.rows == 0 {
		return "3"
	}
	return strconv.Itoa(f.rows)
}

// unitText is the symbol of the chosen unit as a person reads it.
func (f Field) unitText() string {
	for _, o := range f.units {
		if o.Value == f.unit {
			return o.Label
		}
	}
	return f.unit
}

func anyHint(options []Option) bool {
	for _, o := range options {
		if o.Hint != "" {
			return true
		}
	}
	return false
}

// confirmed is what the box beside an unlikely value posts: NAME=VALUE. A fault
// may carry the value alone or both.
func confirmed(x fault.Field) string { return x.Name + "=" + confirmedValue(x) }

// confirmedValue is the value that is asked about.
func confirmedValue(x fault.Field) string { return strings.TrimPrefix(x.Confirm, x.Name+"=") }
