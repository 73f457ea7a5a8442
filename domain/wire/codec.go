// Package wire is the only place that knows JSON. The codec is written by hand:
// it refuses unknown fields, names a fault by its path, and writes numbers with
// six significant digits, so that native and browser builds agree.
package wire

import (
	"math"
	"strconv"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// codec walks a document in both directions: one description of each type
// serves to write and to read it.
type codec struct {
	out     []byte
	first   bool // nothing written yet in the open object or list
	in      *node
	reading bool
	path    string
	faults  *fault.Fields
}

func writer() *codec { return &codec{first: true} }

func reader(n *node) *codec { return &codec{in: n, reading: true, faults: &fault.Fields{}} }

// err is what was wrong with the document.
func (c *codec) err() error {
	if len(*c.faults) == 0 {
		return nil
	}
	return &fault.Error{Kind: fault.Invalid, Msg: "The document cannot be used as it is.", Fields: *c.faults}
}

func (c *codec) fail(path, kind, format string, args ...any) {
	c.faults.Add(path, kind, format, args...)
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// find returns the value of a key of the open object, nil where it is absent or
// null.
func (c *codec) find(key string) *node {
	if c.in.kind != isObject {
		return nil
	}
	for i, k := range c.in.keys {
		if k == key {
			c.in.used[i] = true
			if c.in.list[i].kind == isNull {
				return nil
			}
			return &c.in.list[i]
		}
	}
	return nil
}

// wanted is find for a value of one kind; another kind is a fault.
func (c *codec) wanted(key string, k kind) *node {
	n := c.find(key)
	if n == nil {
		return nil
	}
	if n.kind != k {
		c.fail(join(c.path, key), faultOf(k), "This must be %s, not %s.", k, n.kind)
		return nil
	}
	return n
}

func faultOf(k kind) string {
	if k == isNumber {
		return fault.NotNumber
	}
	return fault.NotChoice
}

func (c *codec) key(key string) {
	if !c.first {
		c.out = append(c.out, ',')
	}
	c.first = false
	c.out = appendText(c.out, key)
	c.out = append(c.out, ':')
}

// text is a string; an empty one is left out.
func (c *codec) text(key string, p *string) {
	if c.reading {
		if n := c.wanted(key, isText); n != nil {
			*p = n.text
		}
		return
	}
	if *p != "" {
		c.key(key)
		c.out = appendText(c.out, *p)
	}
}

// must is a string that is always written.
func (c *codec) must(key string, p *string) {
	if c.reading || *p != "" {
		c.text(key, p)
		return
	}
	c.key(key)
	c.out = append(c.out, '"', '"')
}

// flag is a boolean; false is left out.
func (c *codec) flag(key string, p *bool) {
	if c.reading {
		if n := c.wanted(key, isBool); n != nil {
			*p = n.truth
		}
		return
	}
	if *p {
		c.key(key)
		c.out = append(c.out, "true"...)
	}
}

// number is always written; an infinity as null.
func (c *codec) number(key string, p *float64) {
	if c.reading {
		if n := c.wanted(key, isNumber); n != nil {
			*p = n.number
		}
		return
	}
	c.key(key)
	c.out = appendNumber(c.out, *p)
}

// whole is an integer; zero is left out.
func (c *codec) whole(key string, p *int) {
	if c.reading {
		n := c.wanted(key, isNumber)
		if n == nil {
			return
		}
		if n.number != math.Trunc(n.number) || math.Abs(n.number) > 1e9 {
			c.fail(join(c.path, key), fault.NotNumber, "This must be a whole number.")
			return
		}
		*p = int(n.number)
		return
	}
	if *p != 0 {
		c.key(key)
		c.out = strconv.AppendInt(c.out, int64(*p), 10)
	}
}

// end is a number whose end may be open: an infinity is written as null.
func (c *codec) end(key string, p *float64, open float64) {
	if c.reading {
		if n := c.wanted(key, isNumber); n != nil {
			*p = n.number
		} else {
			*p = open
		}
		return
	}
	c.key(key)
	c.out = appendNumber(c.out, *p)
}

// maybe is a value that may not be known.
func (c *codec) maybe(key string, p *q.Opt[float64]) { opt(c, key, p) }

func opt[T ~float64](c *codec, key string, p *q.Opt[T]) {
	if c.reading {
		if n := c.wanted(key, isNumber); n != nil {
			*p = q.Some(T(n.number))
		}
		return
	}
	if p.OK {
		c.key(key)
		c.out = appendNumber(c.out, float64(p.V))
	}
}

// day is a civil day as 2026-11-24.
func (c *codec) day(key string, p *q.Date) {
	if c.reading {
		n := c.wanted(key, isText)
		if n == nil {
			return
		}
		d, ok := q.ParseDate(n.text)
		if !ok {
			c.fail(join(c.path, key), fault.NotDate, "A day is written 2026-11-24.")
			return
		}
		*p = d
		return
	}
	c.key(key)
	c.out = appendText(c.out, p.String())
}

func (c *codec) maybeDay(key string, p *q.Opt[q.Date]) {
	if c.reading {
		if c.find(key) != nil {
			before := len(*c.faults)
			c.day(key, &p.V)
			p.OK = len(*c.faults) == before
		}
		return
	}
	if p.OK {
		c.day(key, &p.V)
	}
}

// texts is a list of strings; an empty one is left out.
func (c *codec) texts(key string, p *[]string) {
	if c.reading {
		n := c.wanted(key, isList)
		if n == nil {
			return
		}
		for i := range n.list {
			if n.list[i].kind != isText {
				c.fail(join(c.path, key)+"."+strconv.Itoa(i), fault.NotChoice, "This must be text.")
				continue
			}
			*p = append(*p, n.list[i].text)
		}
		return
	}
	if len(*p) == 0 {
		return
	}
	c.key(key)
	c.out = append(c.out, '[')
	for i, s := range *p {
		if i > 0 {
			c.out = append(c.out, ',')
		}
		c.out = appendText(c.out, s)
	}
	c.out = append(c.out, ']')
}

// object walks into an object. When reading, an absent one is skipped and what
// it holds beyond what each asks for is a fault.
func (c *codec) object(key string, each func(*codec)) bool {
	if c.reading {
		n := c.wanted(key, isObject)
		if n == nil {
			return false
		}
		c.into(n, join(c.path, key), each)
		return true
	}
	c.key(key)
	c.braces(each)
	return true
}

func (c *codec) braces(each func(*codec)) {
	c.out = append(c.out, '{')
	c.first = true
	each(c)
	c.out = append(c.out, '}')
	c.first = false
}

// into reads one object and refuses what nobody asked for.
func (c *codec) into(n *node, path string, each func(*codec)) {
	if n.kind != isObject {
		c.fail(path, fault.NotChoice, "This must be an object, not %s.", n.kind)
		return
	}
	inner := &codec{in: n, reading: true, path: path, faults: c.faults}
	each(inner)
	for i, used := range n.used {
		if !used {
			c.fail(join(path, n.keys[i]), fault.Unknown, "There is no such field.")
		}
	}
}

// list walks a list of objects; it is always written, even empty.
func list[T any](c *codec, key string, p *[]T, each func(*codec, *T)) {
	if c.reading {
		n := c.wanted(key, isList)
		if n == nil {
			return
		}
		*p = make([]T, len(n.list))
		for i := range n.list {
			c.into(&n.list[i], join(c.path, key)+"."+strconv.Itoa(i), func(c *codec) { each(c, &(*p)[i]) })
		}
		return
	}
	c.key(key)
	c.out = append(c.out, '[')
	for i := range *p {
		if i > 0 {
			c.out = append(c.out, ',')
		}
		c.braces(func(c *codec) { each(c, &(*p)[i]) })
	}
	c.out = append(c.out, ']')
}

// some is list that leaves an empty one out.
func some[T any](c *codec, key string, p *[]T, each func(*codec, *T)) {
	if c.reading || len(*p) > 0 {
		list(c, key, p, each)
	}
}

// pointer is an object that may be absent.
func pointer[T any](c *codec, key string, p **T, each func(*codec, *T)) {
	if c.reading {
		v := new(T)
		if c.object(key, func(c *codec) { each(c, v) }) {
			*p = v
		}
		return
	}
	if *p != nil {
		c.object(key, func(c *codec) { each(c, *p) })
	}
}

// word is a string type.
func word[T ~string](c *codec, key string, p *T) {
	s := string(*p)
	c.text(key, &s)
	*p = T(s)
}

// sentence carries id, arguments and metric text.
func (c *codec) sentence(key string, p *say.Sentence) {
	if !c.reading && p.ID == "" {
		return
	}
	c.object(key, func(c *codec) {
		c.must("id", &p.ID)
		some(c, "args", &p.Args, (*codec).arg)
		text := ""
		if !c.reading {
			text = say.Render(*p, say.MetricUnits)
		}
		c.text("text", &text)
	})
}

func (c *codec) arg(a *say.Arg) {
	k := int(a.Kind)
	c.text("name", &a.Name)
	c.whole("kind", &k)
	a.Kind = say.ArgKind(k)
	c.text("text", &a.Text)
	if c.reading || a.Kind == say.NumberArg || a.Kind == say.ReadingArg {
		c.number("num", &a.Num)
	}
	word(c, "unit", &a.Unit)
	word(c, "quantity", &a.Quantity)
	c.whole("decimals", &a.Decimals)
	if c.reading || a.Kind == say.DateArg {
		c.day("day", &a.Day)
	}
	some(c, "list", &a.List, (*codec).arg)
}

// appendNumber writes six significant digits, which is what readers compare.
func appendNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, "null"...)
	}
	if v == 0 {
		return append(b, '0')
	}
	f := byte('f')
	if a := math.Abs(v); a < 1e-6 || a >= 1e15 {
		f = 'e'
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	return strconv.AppendFloat(b, r, f, -1, 64)
}

const hexDigits = "0123456789abcdef"

// appendText writes a JSON string that is also safe inside a script element.
func appendText(b []byte, s string) []byte { return appendQuoted(b, s, true) }

// appendPlain writes a JSON string as a person would.
func appendPlain(b []byte, s string) []byte { return appendQuoted(b, s, false) }

func appendQuoted(b []byte, s string, safe bool) []byte {
	b = append(b, '"')
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', c)
			i++
		case c == '\n':
			b = append(b, '\\', 'n')
			i++
		case !safe && (c == '\t' || c == '\r' || c == '\b' || c == '\f'):
			b = append(b, '\\', "btn?fr"[c-'\b'])
			i++
		case c < 0x20 || safe && (c == '<' || c == '>' || c == '&'):
			b = append(b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
			i++
		case c < utf8.RuneSelf:
			b = append(b, c)
			i++
		default:
			r, n := utf8.DecodeRuneInString(s[i:])
			if r == utf8.RuneError && n == 1 {
				b = append(b, `\ufffd`...)
			} else if r == '\u2028' || r == '\u2029' {
				b = append(b, `\u202`...)
				b = append(b, hexDigits[r&15])
			} else {
				b = append(b, s[i:i+n]...)
			}
			i += n
		}
	}
	return append(b, '"')
}
