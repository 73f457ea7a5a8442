package wire

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"scaperound/domain/fault"
)

// kind of a JSON value.
type kind uint8

const (
	isNull kind = iota
	isBool
	isNumber
	isText
	isList
	isObject
)

var kindNames = [...]string{"null", "true or false", "a number", "text", "a list", "an object"}

func (k kind) String() string { return kindNames[k] }

// node is one JSON value as read.
type node struct {
	kind   kind
	truth  bool
	number float64
	text   string
	list   []node   // of a list, or the values of an object
	keys   []string // of an object, in the order of the document
	used   []bool   // keys that somebody asked for
	from   int      // where it stands in the document
	to     int
}

// child returns an object's value of a key, nil where there is none.
func (n *node) child(key string) *node {
	for i, k := range n.keys {
		if k == key {
			return &n.list[i]
		}
	}
	return nil
}

// Limits of what is read.
const (
	maxBytes = 1 << 20
	maxDepth = 32
)

// parser reads one JSON document strictly: no trailing text, no key twice, no
// broken UTF-8.
type parser struct {
	in    string
	at    int
	depth int
	wide  bool // a number that no float holds is infinite, not a fault
}

func parse(b []byte) (node, error) { return parseWith(b, false) }

func parseWith(b []byte, wide bool) (node, error) {
	if len(b) > maxBytes {
		return node{}, fault.New(fault.TooLarge, "The document is larger than 1 MiB.")
	}
	return parseAny(b, wide)
}

// parseLong reads a document of our own, which may be larger than what others
// may hand in.
func parseLong(b []byte) (node, error) { return parseAny(b, false) }

func parseAny(b []byte, wide bool) (node, error) {
	p := &parser{in: string(b), wide: wide}
	if !utf8.ValidString(p.in) {
		return node{}, fault.New(fault.Malformed, "The document is not UTF-8.")
	}
	n, ok := p.value()
	p.space()
	if !ok || p.at < len(p.in) {
		at := min(p.at, len(p.in))
		line := 1 + strings.Count(p.in[:at], "\n")
		if !ok {
			n = node{}
		}
		return n, fault.New(fault.Malformed, "This is not JSON from line %d, byte %d on.", line, at)
	}
	return n, nil
}

func (p *parser) space() {
	for p.at < len(p.in) && strings.IndexByte(" \t\r\n", p.in[p.at]) >= 0 {
		p.at++
	}
}

func (p *parser) value() (node, bool) {
	p.space()
	from := p.at
	n, ok := p.read()
	n.from, n.to = from, p.at
	return n, ok
}

func (p *parser) read() (node, bool) {
	if p.at >= len(p.in) || p.depth >= maxDepth {
		return node{}, false
	}
	switch c := p.in[p.at]; {
	case c == '{':
		return p.object()
	case c == '[':
		return p.array()
	case c == '"':
		s, ok := p.str()
		return node{kind: isText, text: s}, ok
	case c == '-' || c >= '0' && c <= '9':
		return p.num()
	}
	for _, w := range [...]struct {
		text string
		node node
	}{{"true", node{kind: isBool, truth: true}}, {"false", node{kind: isBool}}, {"null", node{}}} {
		if strings.HasPrefix(p.in[p.at:], w.text) {
			p.at += len(w.text)
			return w.node, true
		}
	}
	return node{}, false
}

// take consumes c after white space.
func (p *parser) take(c byte) bool {
	p.space()
	if p.at < len(p.in) && p.in[p.at] == c {
		p.at++
		return true
	}
	return false
}

func (p *parser) object() (node, bool) {
	p.at++
	p.depth++
	defer func() { p.depth-- }()
	n := node{kind: isObject}
	if p.take('}') {
		return n, true
	}
	known := map[string]bool{}
	for {
		p.space()
		if p.at >= len(p.in) || p.in[p.at] != '"' {
			return n, false
		}
		start := p.at
		key, ok := p.str()
		if !ok {
			return n, false
		}
		if known[key] {
			p.at = start
			return n, false
		}
		known[key] = true
		if !p.take(':') {
			return n, false
		}
		v, ok := p.value()
		if !ok {
			return n, false
		}
		n.keys, n.list = append(n.keys, key), append(n.list, v)
		if p.take('}') {
			n.used = make([]bool, len(n.keys))
			return n, true
		}
		if !p.take(',') {
			return n, false
		}
	}
}

func (p *parser) array() (node, bool) {
	p.at++
	p.depth++
	defer func() { p.depth-- }()
	n := node{kind: isList}
	if p.take(']') {
		return n, true
	}
	for {
		v, ok := p.value()
		if !ok {
			return n, false
		}
		n.list = append(n.list, v)
		if p.take(']') {
			return n, true
		}
		if !p.take(',') {
			return n, false
		}
	}
}

func (p *parser) digits() bool {
	from := p.at
	for p.at < len(p.in) && p.in[p.at] >= '0' && p.in[p.at] <= '9' {
		p.at++
	}
	return p.at > from
}

func (p *parser) is(set string) bool {
	return p.at < len(p.in) && strings.IndexByte(set, p.in[p.at]) >= 0
}

func (p *parser) num() (node, bool) {
	start := p.at
	if p.is("-") {
		p.at++
	}
	if p.is("0") {
		p.at++
	} else if !p.digits() {
		return node{}, false
	}
	if p.is(".") {
		p.at++
		if !p.digits() {
			return node{}, false
		}
	}
	if p.is("eE") {
		p.at++
		if p.is("+-") {
			p.at++
		}
		if !p.digits() {
			return node{}, false
		}
	}
	v, err := strconv.ParseFloat(p.in[start:p.at], 64)
	if (err != nil || math.IsInf(v, 0)) && !p.wide {
		p.at = start
		return node{}, false
	}
	return node{kind: isNumber, number: v}, true
}

func (p *parser) str() (string, bool) {
	p.at++
	start := p.at
	for p.at < len(p.in) {
		switch c := p.in[p.at]; {
		case c == '"':
			s := p.in[start:p.at]
			p.at++
			return s, true
		case c == '\\':
			return p.escaped(start)
		case c < 0x20:
			return "", false
		}
		p.at++
	}
	return "", false
}

// escaped reads on from the first backslash of a text.
func (p *parser) escaped(start int) (string, bool) {
	var b strings.Builder
	b.WriteString(p.in[start:p.at])
	for p.at < len(p.in) {
		c := p.in[p.at]
		p.at++
		switch {
		case c == '"':
			return b.String(), true
		case c < 0x20:
			return "", false
		case c != '\\':
			b.WriteByte(c)
			continue
		}
		if p.at >= len(p.in) {
			return "", false
		}
		e := p.in[p.at]
		p.at++
		if i := strings.IndexByte(`"\/bfnrt`, e); i >= 0 {
			b.WriteByte("\"\\/\b\f\n\r\t"[i])
			continue
		}
		r, ok := p.escapedRune(e)
		if !ok {
			return "", false
		}
		b.WriteRune(r)
	}
	return "", false
}

// escapedRune reads what follows \u, a pair of surrogates where there is one.
func (p *parser) escapedRune(e byte) (rune, bool) {
	if e != 'u' {
		return 0, false
	}
	r, ok := p.hex()
	if !ok || r < 0xd800 || r > 0xdfff {
		return r, ok
	}
	if !strings.HasPrefix(p.in[p.at:], `\u`) {
		return 0, false
	}
	p.at += 2
	low, ok := p.hex()
	if !ok || r >= 0xdc00 || low < 0xdc00 || low > 0xdfff {
		return 0, false
	}
	return 0x10000 + (r-0xd800)<<10 + (low - 0xdc00), true
}

func (p *parser) hex() (rune, bool) {
	if p.at+4 > len(p.in) {
		return 0, false
	}
	v, err := strconv.ParseUint(p.in[p.at:p.at+4], 16, 16)
	p.at += 4
	return rune(v), err == nil
}
