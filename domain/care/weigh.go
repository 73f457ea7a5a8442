package care

import (
	"cmp"
	"math"
	"slices"

	"scaperound/domain/num"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// How causes are weighed. Each cause has a prior and a table of likelihood
// ratios: how much more often a sign or fact is met when the cause is true than
// when it is not (10 strong, 4 moderate, 2 weak; below 1 speaks against). Signs
// of one thing are not independent: fish at the surface and fast breathing are
// one observation of short breath, so evidence is put in groups, the strongest
// of a group counts in full and each further one by its fourth root. Several
// groups multiply. "Nothing wrong" and "none of these" are weighed beside the
// causes. The figures are judgement (evidence C), the order of signs for
// nutrients follows the mobility of the elements (Marschner).

// likelihood is one row of a cause's table: a sign or a fact and its ratio.
type likelihood struct {
	What  string
	Ratio float64
}

// cause is one explanation.
type cause struct {
	ID    string
	Prior float64
	Needs string // a fact without which it cannot be; "" always
	Rows  []likelihood
}

// trouble is what a group of signs that nobody explains does to "nothing wrong".
const (
	troubleRatio  = 0.12
	noneWeight    = 0.02 // prior of "none of these"
	leastWeight   = 0.01 // smaller shares are not shown
	furtherPower  = 0.25
	nothingID     = "nothing_wrong"
	nothingWeight = 0.3
)

// row points from a sign or fact into the causes.
type row struct {
	cause int
	ratio float64
}

var rowsByWhat = func() map[string][]row {
	m := map[string][]row{}
	for i, c := range causes {
		for _, l := range c.Rows {
			m[l.What] = append(m[l.What], row{i, l.Ratio})
		}
	}
	return m
}()

var causeIndex = func() map[string]int {
	m := map[string]int{}
	for i, c := range causes {
		m[c.ID] = i
	}
	return m
}()

// piece is one sign or fact that is true here.
type piece struct {
	what  string
	group string
	sign  bool
}

// Weigh ranks the causes for what was seen and read; the shares and that of
// "none of these" add up to 1.
func Weigh(v *View) ([]Cause, float64) {
	pieces := seen(v)
	type tally struct{ best, rest, against float64 }
	groups := map[string][]tally{}
	var order []string
	for _, p := range pieces {
		rows := rowsByWhat[p.what]
		if len(rows) == 0 {
			continue
		}
		g, ok := groups[p.group]
		if !ok {
			g = make([]tally, len(causes))
			groups[p.group] = g
			order = append(order, p.group)
		}
		for _, r := range rows {
			t := &g[r.cause]
			l := num.Log(r.ratio)
			switch {
			case l < 0:
				t.against = min(t.against, l)
			case l > t.best:
				t.rest += t.best
				t.best = l
			default:
				t.rest += l
			}
		}
	}
	score := make([]float64, len(causes))
	total := 0.0
	for i, c := range causes {
		if c.Needs != "" && !v.facts[c.Needs] {
			continue
		}
		s := num.Log(c.Prior)
		for _, g := range order {
			t := groups[g][i]
			s += t.best + furtherPower*t.rest + t.against
		}
		score[i] = num.Exp(s)
		total += score[i]
	}
	nothing := nothingWeight * scoreOfNothing(v, pieces)
	none := noneWeight
	for _, p := range pieces {
		if p.sign && troubling[p.group] {
			none = noneWeight * 3
		}
	}
	i := causeIndex[nothingID]
	total += nothing - score[i]
	score[i] = nothing
	total += none
	var out []Cause
	for i, c := range causes {
		w := score[i] / total
		if w < leastWeight {
			continue
		}
		k := Cause{ID: c.ID, Weight: w}
		k.For, k.Against = evidence(i, pieces)
		out = append(out, k)
	}
	slices.SortStableFunc(out, func(a, b Cause) int { return cmp.Compare(b.Weight, a.Weight) })
	if math.IsNaN(none / total) {
		return nil, 1
	}
	return out, none / total
}

// seen lists the signs of this visit and the derived facts, signs first, facts
// in the order of the table.
func seen(v *View) []piece {
	out := make([]piece, 0, len(v.Now.Signs)+len(v.facts))
	for _, s := range v.Now.Signs {
		out = append(out, piece{s.ID, groupOf(s.ID), true})
	}
	for _, name := range factNames {
		if v.facts[name] {
			out = append(out, piece{name, groupOf(name), false})
		}
	}
	return out
}

// factNames are the facts that speak for or against a cause, in a fixed order.
var factNames = func() []string {
	var names []string
	for what := range rowsByWhat {
		if _, sign := visit.SignOf(what); !sign {
			names = append(names, what)
		}
	}
	for what := range troublingFacts {
		if !slices.Contains(names, what) {
			names = append(names, what)
		}
	}
	slices.Sort(names)
	return names
}()

// scoreOfNothing falls with every group of trouble that was seen and with every
// reading that is out.
func scoreOfNothing(v *View, pieces []piece) float64 {
	s := 1.0
	done := map[string]bool{}
	for _, p := range pieces {
		if r, ok := reassuring[p.what]; ok {
			s *= r
		}
		if done[p.group] {
			continue
		}
		if p.sign && troubling[p.group] || !p.sign && troublingFacts[p.what] {
			done[p.group] = true
			s *= troubleRatio
		}
	}
	return s
}

func evidence(i int, pieces []piece) (pro, con []Evidence) {
	for _, p := range pieces {
		for _, r := range rowsByWhat[p.what] {
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
