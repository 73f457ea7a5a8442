//go:build !js || calc

// In the browser only the builds of tests have the calculations: with them comes
// the whole registry, which the page has no room for.

package wire

import (
	"math"
	"strconv"

	"scaperound/domain/calc"
	"scaperound/domain/fault"
	"scaperound/domain/say"
)

// Calc answers one line {"id","calc","in"} with one line
// {"id","value","unit","lo","hi","steps","source","warnings"} or {"id","fault"},
// without a newline at its end. Numbers have twelve significant digits; an end
// that is open is null.
func Calc(line []byte) []byte {
	n, err := parseWide(line)
	id := "null"
	if x := n.child("id"); x != nil {
		id = compact(string(line[x.from:x.to]))
	}
	if err != nil {
		return calcFault(id, err)
	}
	a, d, err := evaluate(&n)
	if err != nil {
		return calcFault(id, err)
	}
	c := writer()
	c.braces(func(c *codec) {
		c.key("id")
		c.out = append(c.out, id...)
		c.twelve("value", a.Value)
		c.plain("unit", string(a.Unit))
		c.twelve("lo", a.Lo)
		c.twelve("hi", a.Hi)
		list(c, "steps", &a.Steps, func(c *codec, s *calc.Step) {
			c.plain("name", s.Name)
			if s.Formula != "" {
				c.plain("formula", s.Formula)
			}
			if s.Filled != "" {
				c.plain("numbers", s.Filled)
			}
			c.twelve("value", s.Value)
			c.plain("unit", string(s.Unit))
		})
		c.plain("source", string(d.Source))
		list(c, "warnings", &a.Warn, func(c *codec, s *say.Sentence) {
			c.plain("id", s.ID)
			c.plain("text", say.Render(*s, say.MetricUnits))
		})
	})
	return c.out
}

func evaluate(n *node) (calc.Answer, *calc.Def, error) {
	name := ""
	raw := map[string]calc.Value{}
	r := reader(n)
	var faults fault.Fields
	r.into(n, "", func(c *codec) {
		c.find("id")
		c.text("calc", &name)
		in := c.wanted("in", isObject)
		if in == nil {
			return
		}
		for i, key := range in.keys {
			switch v, given, ok := calcValue(&in.list[i]); {
			case !ok:
				faults.Add(key, fault.NotNumber, "%s wants a number, a word, or several of one kind.", key)
			case given:
				raw[key] = v
			}
		}
	})
	if err := r.err(); err != nil {
		f := fault.Of(err).Fields[0]
		return calc.Answer{}, nil, notOneObject(": " + f.Name + ": " + f.Text)
	}
	d, err := calc.Find(name)
	if err == nil {
		err = faults.Err()
	}
	if err != nil {
		return calc.Answer{}, nil, err
	}
	a, err := d.Run(raw)
	return a, d, err
}

func notOneObject(why string) error {
	return fault.New(fault.Malformed, "The line is not one object {\"id\",\"calc\",\"in\"}%s", why)
}

// parseWide reads a line as parse does, but a number beyond what a float holds
// is one that its calculation refuses, by its name.
func parseWide(line []byte) (node, error) {
	n, err := parseWith(line, true)
	switch {
	case err != nil:
		return n, notOneObject(": " + fault.Of(err).Msg)
	case n.kind != isObject:
		return n, notOneObject(".")
	}
	return n, nil
}

// calcValue reads a number, a string or a list of either; null is the same as
// leaving the key out. A string with a number in it is that number.
func calcValue(n *node) (v calc.Value, given, ok bool) {
	switch n.kind {
	case isNull:
		return calc.Value{}, false, true
	case isBool:
		if n.truth {
			return calc.Num(1), true, true
		}
		return calc.Num(0), true, true
	case isNumber:
		return calc.Num(n.number), true, !math.IsInf(n.number, 0)
	case isText:
		if x, err := strconv.ParseFloat(n.text, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
			return calc.Num(x), true, true
		}
		return calc.WordOf(n.text), true, true
	case isList:
		for i := range n.list {
			switch e := &n.list[i]; {
			case e.kind == isNumber && !math.IsInf(e.number, 0):
				v.Nums = append(v.Nums, e.number)
			case e.kind == isText:
				v.Words = append(v.Words, e.text)
			default:
				return calc.Value{}, false, false
			}
		}
		return v, true, len(v.Nums) == 0 || len(v.Words) == 0
	}
	return calc.Value{}, false, false
}

func calcFault(id string, err error) []byte {
	f := fault.Of(err)
	text := f.Msg
	if len(f.Fields) == 1 {
		text = f.Fields[0].Text
	}
	if text == "" {
		text = "It cannot be computed."
	}
	c := writer()
	c.braces(func(c *codec) {
		c.key("id")
		c.out = append(c.out, id...)
		c.plain("fault", text)
		some(c, "faults", (*[]fault.Field)(&f.Fields), func(c *codec, x *fault.Field) {
			c.plain("field", x.Name)
			c.plain("kind", x.Kind)
			c.plain("text", x.Text)
		})
	})
	return c.out
}

func (c *codec) twelve(key string, v float64) {
	c.key(key)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.out = append(c.out, "null"...)
		return
	}
	c.out = strconv.AppendFloat(c.out, v, 'g', 12, 64)
}

// plain is a string for a terminal, where nothing needs to be safe in a page.
func (c *codec) plain(key, s string) {
	c.key(key)
	c.out = appendPlain(c.out, s)
}

// compact leaves out the white space between the parts of a document that has
// been read.
func compact(doc string) string {
	out := make([]byte, 0, len(doc))
	text := false
	for i := 0; i < len(doc); i++ {
		switch b := doc[i]; {
		case text && b == '\\':
			out = append(out, b, doc[i+1])
			i++
			continue
		case b == '"':
			text = !text
		case !text && (b == ' ' || b == '\t' || b == '\n' || b == '\r'):
			continue
		}
		out = append(out, doc[i])
	}
	return string(out)
}
