package view

import "net/url"

// RecordForm is the form of a record that is true since a day.
type RecordForm struct {
	Form    Form
	Action  string
	Version int
	// Theirs is what somebody else wrote meanwhile; nil where nobody did. It
	// stands beside each field in which it differs from what is typed.
	Theirs url.Values
	Units  map[string][]Option // by field: the units it may be typed in
	Cancel Link
}

// Field is a field of the form.
func (p RecordForm) Field(name, label string) Field {
	f := p.Form.Field(name, label)
	if text, differs := p.theirs(name); differs {
		f = f.Beside("Somebody else wrote: " + orNothing(text))
	}
	return f
}

// Measure is a field for a number, with the units it may be typed in.
func (p RecordForm) Measure(name, label string) Field {
	chosen := p.Form.Values.Get(name + ".unit")
	units := p.Units[name]
	if chosen == "" && len(units) > 0 {
		chosen = units[0].Value
	}
	f := p.Field(name, label)
	if len(units) == 0 {
		return f
	}
	return f.Units(name+".unit", chosen, units...)
}

// Pick is a field for one of several, so that what somebody else chose is named
// by its label.
func (p RecordForm) Pick(name, label string, options []Option) Field {
	f := p.Form.Field(name, label)
	if id, differs := p.theirs(name); differs {
		for _, o := range options {
			if o.Value == id {
				id = o.Label
				break
			}
		}
		f = f.Beside("Somebody else chose: " + orNothing(id))
	}
	return f
}

// Box is a field that is on or off.
func (p RecordForm) Box(name, label string) Field {
	f := p.Form.Field(name, label)
	if text, differs := p.theirs(name); differs {
		said := "no"
		if text != "" {
			said = "yes"
		}
		f = f.Hint("Somebody else chose: " + said)
	}
	return f
}

// On reports whether a box is ticked.
func (p RecordForm) On(name string) bool { return p.Form.Values.Get(name) != "" }

func (p RecordForm) theirs(name string) (text string, differs bool) {
	if p.Theirs == nil {
		return "", false
	}
	text = p.Theirs.Get(name)
	return text, text != p.Form.Values.Get(name)
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}
