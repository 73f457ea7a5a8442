package chem

import (
	"strings"

	"scaperound/domain/fault"
)

// Formula is the mass of a compound and of its crystal water, in g/mol.
type Formula struct {
	Mass  float64 // with the crystal water
	Water float64 // of the crystal water alone
}

// Weigh reads a formula such as "Ca(NO3)2.4H2O" and adds up its atomic weights.
// A point (also "·" or "*") separates the crystal water; brackets nest. Only
// the elements that aquarium salts are made of are known. A formula that cannot
// be read is an Invalid fault.
func Weigh(formula string) (Formula, error) {
	f := strings.TrimSpace(formula)
	f = strings.ReplaceAll(strings.ReplaceAll(f, "·", "."), "*", ".")
	if f == "" || len(f) > 60 {
		return Formula{}, fault.New(fault.Invalid, "“%s” is not a chemical formula.", formula)
	}
	var out Formula
	for i, part := range strings.Split(f, ".") {
		count, rest := leadingCount(part)
		r := formulaReader{text: rest}
		mass, ok := r.group(0)
		if !ok || r.at != len(rest) || mass == 0 || count == 0 {
			return Formula{}, fault.New(fault.Invalid, "“%s” is not a chemical formula, or holds an element that no salt here is made of.", formula)
		}
		out.Mass += float64(count) * mass
		if i > 0 && rest == "H2O" {
			out.Water += float64(count) * mass
		}
	}
	return out, nil
}

func leadingCount(s string) (int, string) {
	n, i := 0, 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' && n < 1000 {
		n = 10*n + int(s[i]-'0')
		i++
	}
	if i == 0 {
		return 1, s
	}
	return n, s[i:]
}

type formulaReader struct {
	text string
	at   int
}

// group reads atoms and brackets until the text or the enclosing bracket ends.
func (r *formulaReader) group(depth int) (mass float64, ok bool) {
	for r.at < len(r.text) {
		var unit float64
		switch c := r.text[r.at]; {
		case c == '(':
			if depth > 4 {
				return 0, false
			}
			r.at++
			if unit, ok = r.group(depth + 1); !ok || r.at >= len(r.text) || r.text[r.at] != ')' {
				return 0, false
			}
			r.at++
		case c == ')':
			return mass, depth > 0 && mass > 0
		case c >= 'A' && c <= 'Z':
			from := r.at
			r.at++
			if r.at < len(r.text) && r.text[r.at] >= 'a' && r.text[r.at] <= 'z' {
				r.at++
			}
			if unit, ok = element(r.text[from:r.at]); !ok {
				return 0, false
			}
		default:
			return 0, false
		}
		count, rest := leadingCount(r.text[r.at:])
		if count == 0 {
			return 0, false
		}
		r.at = len(r.text) - len(rest)
		mass += float64(count) * unit
	}
	return mass, depth == 0
}
