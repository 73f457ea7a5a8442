package web

import (
	"math"
	"net/url"
	"slices"
	"strings"

	"scaperound/domain/calc"
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// page is the sentence with its blanks, and the answer.
func (a *benchAsk) page() view.BenchCalc {
	out := view.BenchCalc{
		Action: benchPath(a.def.Name, nil), Form: view.Form{Values: a.query, Faults: a.faults},
		Tank: a.tank.shown(benchPath(a.def.Name, nil)), Valid: a.def.Valid, Answer: a.shown(),
	}
	pieces, rest := a.def.Pieces()
	for _, piece := range pieces {
		p := view.BenchPiece{Words: strings.Trim(piece.Words, ",: ")}
		if piece.Blank != nil {
			b := a.blank(piece.Blank)
			p.Blank = &b
		}
		out.Pieces = append(out.Pieces, p)
	}
	for _, in := range rest {
		if in.Hidden {
			continue
		}
		b := a.blank(in)
		out.More = append(out.More, b)
		out.Opened = out.Opened || len(b.Faults) > 0 || a.query.Get(in.Key) != ""
	}
	if len(a.def.Example()) > 0 && (len(a.raw) == 0 || len(a.open) > 0) {
		out.Example = benchPath(a.def.Name, exampleQuery(a.def, a.units))
	}
	return out
}

// exampleQuery fills the form with the example as the reader writes it.
func exampleQuery(d *calc.Def, units say.Units) url.Values {
	ex := d.Example()
	query := url.Values{}
	for i := range d.In {
		in := &d.In[i]
		if v, ok := ex[in.Key]; ok {
			setInput(query, in, v, strings.Join(ex["of"].Words, ""), units)
		}
	}
	return query
}

// setInput writes a value into an address.
func setInput(query url.Values, in *calc.Input, v calc.Value, of string, units say.Units) {
	text, unit := in.Write(v, of, units)
	if in.Shape == calc.Words {
		query[in.Key] = v.Words
		return
	}
	query.Set(in.Key, text)
	if unit != "" && len(in.Dimension(of).Scales) > 1 {
		query.Set(in.Key+".unit", string(unit))
	}
}

// blank is one input as the form shows it.
func (a *benchAsk) blank(in *calc.Input) view.Blank {
	f := view.Form{Values: a.query, Faults: a.faults}.Field(in.Key, upper(in.Title))
	for _, alias := range in.Aliases {
		if f.Value == "" {
			f.Value = a.query.Get(alias)
		}
	}
	b := view.Blank{Field: f, Kind: view.BlankNumber, Note: a.notes[in.Key]}
	of := a.query.Get("of")
	switch {
	case in.YesNo:
		b.Kind, b.Options = view.BlankChoice, []view.Option{{Value: "1", Label: "yes"}, {Value: "0", Label: "no"}}
		if b.Value == "" && in.Default.V == 0 {
			b.Value = "0"
		}
		return b
	case in.Shape == calc.Words:
		b.Kind, b.Options, b.Chosen = view.BlankWords, choicesOf(in), a.query[in.Key]
		if v, ok := a.raw[in.Key]; ok {
			b.Chosen = v.Words
		}
		if in.Optional {
			b.Note = "none ticked: the usual ones"
		}
		return b
	case in.Shape == calc.Word:
		b.Kind, b.Options = view.BlankWord, choicesOf(in)
		if in.Optional || b.Value == "" {
			b.Options = append([]view.Option{{Label: "choose"}}, b.Options...)
		}
		if v := b.Value; v != "" && !slices.ContainsFunc(b.Options, func(o view.Option) bool { return o.Value == v }) {
			b.Options = append(b.Options, view.Option{Value: v, Label: v})
		}
		return b
	case in.Shape == calc.Numbers:
		b.Kind, b.Note = view.BlankNumbers, joined(" · ", b.Note, "several, with spaces between them")
	}
	dim := in.Dimension(of)
	chosen := q.Unit(a.query.Get(in.Key + ".unit"))
	units := dim.Units(a.units.System)
	if !slices.Contains(units, chosen) {
		chosen = units[0]
	}
	options := make([]view.Option, len(units))
	for i, u := range units {
		options[i] = view.Option{Value: string(u), Label: typed.Sign(u)}
	}
	b.Field = b.Units(in.Key+".unit", string(chosen), options...)
	b.Span = a.spanText(in, dim, chosen)
	if in.Default.OK {
		text, _ := in.Write(calc.Num(in.Default.V), of, say.Units{System: a.units.System, Decimal: a.units.Decimal})
		b.Note = joined(" · ", b.Note, "taken as "+text+" where blank")
	}
	return b
}

// spanText says where an input may lie, in its chosen unit.
func (a *benchAsk) spanText(in *calc.Input, dim typed.Dimension, u q.Unit) string {
	s := a.def.Span(in.Key, a.sound(in))
	if !s.OK {
		return ""
	}
	end := func(v float64) string { return spanFigure(dim.In(v, u), a.units) }
	switch {
	case math.IsInf(s.Lo, 0) && math.IsInf(s.Hi, 0):
		return ""
	case math.IsInf(s.Hi, 1):
		return "from " + end(s.Lo)
	case math.IsInf(s.Lo, -1):
		return "up to " + end(s.Hi)
	}
	return end(s.Lo) + " to " + end(s.Hi)
}

// sound are the other inputs where an answer is there; with faults about, a span by
// them would say nothing.
func (a *benchAsk) sound(but *calc.Input) map[string]calc.Value {
	if len(a.open) > 0 || len(a.faults) > 0 || a.err != nil {
		return nil
	}
	out := map[string]calc.Value{}
	for k, v := range a.raw {
		out[k] = v
	}
	return out
}

// spanFigure writes an end with at most four digits, thousands apart.
func spanFigure(v float64, units say.Units) string {
	if math.Abs(v) >= 10000 {
		whole := say.Number(v, 0, units)
		sign, digits := "", whole
		if cut, neg := strings.CutPrefix(whole, "−"); neg {
			sign, digits = "−", cut
		}
		for i := len(digits) - 3; i > 0; i -= 3 {
			digits = digits[:i] + "\u202f" + digits[i:]
		}
		return sign + digits
	}
	text, _ := benchFigure(rounded(v, 4), "", false, units)
	return text
}

// choicesOf are the words of an input; salts with their names.
func choicesOf(in *calc.Input) []view.Option {
	out := make([]view.Option, 0, len(in.Choices))
	for _, c := range in.Choices {
		o := view.Option{Value: c, Label: c}
		if s, err := salt.Find(c); err == nil {
			o.Label = c + ", " + s.Name
			if in.Shape == calc.Words {
				o.Label, o.Hint = c, s.Name
			}
		}
		out = append(out, o)
	}
	return out
}
