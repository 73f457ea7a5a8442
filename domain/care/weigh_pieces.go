package care

import (
	"slices"
	"strings"

	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// piece is one sign or fact that is true here.
type piece struct {
	what      string
	group     string
	rows      []row
	sign      bool
	suffers   bool    // a sign that animals suffer
	troubles  bool    // out of order by itself
	reassures float64 // what it does to "nothing wrong"; 0 where it says nothing of that
	heard     bool    // its group is done
}

// leaveOpen takes weight from the causes among plants for each kind of distress of
// the animals that they do not explain.
func leaveOpen(pieces []piece, ln []float64) {
	for i, p := range pieces {
		if !p.suffers || slices.ContainsFunc(pieces[:i], func(o piece) bool { return o.sign && o.group == p.group }) {
			continue
		}
		for k, c := range causes {
			if c.Needs == "plants" || c.ID == "supersat_normal" {
				explains := slices.ContainsFunc(pieces, func(o piece) bool {
					return o.group == p.group && slices.ContainsFunc(o.rows, func(r row) bool { return r.cause == k && r.ln > 0 })
				})
				if !explains {
					ln[k] += unexplained
				}
			}
		}
	}
}

// calm reports whether something is as it should be: that makes a cause likelier,
// but is no word for it.
func calm(what string) bool {
	return what == "plants_growing" || what == "animals_normal" ||
		strings.HasSuffix(what, "_fine") || strings.HasSuffix(what, "_enough") || strings.HasSuffix(what, "_zero")
}

// weakRatio is the ratio up to which a sign is a hint and no more.
const weakRatio = 3

// weak reports whether all that was seen amounts to hints: then nobody knows.
func weak(pieces []piece) bool {
	for _, p := range pieces {
		if p.group == contextGroup {
			continue
		}
		for _, r := range p.rows {
			if r.ratio > weakRatio {
				return false
			}
		}
	}
	return true
}

// seen lists the signs of this visit and then the facts, in the order in which
// they were found.
func seen(v *View) []piece {
	out := make([]piece, 0, len(v.Now.Signs)+len(v.factList))
	add := func(what string, sign bool) {
		p := piece{what: what, sign: sign, reassures: reassuring[what]}
		if m, ok := matters[what]; ok {
			p.group, p.rows = m.group, m.rows
		} else {
			p.group = groupOf(what)
		}
		p.suffers = sign && distress[p.group]
		p.troubles = sign && troubling[p.group] || !sign && troublingFacts[what]
		if sign || p.rows != nil || p.troubles || p.reassures != 0 {
			out = append(out, p)
		}
	}
	for _, s := range v.Now.Signs {
		add(s.ID, true)
	}
	for _, f := range v.factList {
		add(f, false)
	}
	return out
}

// scoreOfNothing falls with every group of trouble that was seen and with every
// reading that is out, in a realm or everywhere.
func scoreOfNothing(pieces []piece, in int) float64 {
	s := 1.0
	for i, p := range pieces {
		if p.reassures != 0 {
			s *= p.reassures
		}
		if p.suffers {
			return 0 // something is wrong, though nobody may know what
		}
		if !p.troubles {
			continue
		}
		if in != everywhere && !speaksIn(pieces, p.group, in) {
			continue // the trouble of another realm
		}
		if !slices.ContainsFunc(pieces[:i], func(o piece) bool { return o.group == p.group && o.troubles }) {
			s *= troubleRatio
		}
	}
	return s
}

// speaksIn reports whether a group speaks for a cause of the realm, or for none at
// all.
func speaksIn(pieces []piece, group string, in int) bool {
	none := true
	for _, p := range pieces {
		if p.group != group {
			continue
		}
		for _, r := range p.rows {
			if r.ln > 0 && realm[r.cause] == in {
				return true
			}
			none = none && r.ln <= 0
		}
	}
	return none
}

func evidence(i int, pieces []piece) (pro, con []Evidence) {
	for _, p := range pieces {
		for _, r := range p.rows {
			if r.cause != i {
				continue
			}
			e := Evidence{What: p.what, Say: p.say()}
			if r.ratio >= 1.5 {
				pro = append(pro, e)
			} else if r.ratio < 1 {
				con = append(con, e)
			}
		}
	}
	return pro, con
}

func (p piece) say() say.Sentence {
	if p.sign {
		return say.S("evidence.sign", say.Text("sign", visit.SignTitle(p.what)))
	}
	return say.S("fact." + p.what)
}
