package care

import (
	"cmp"
	"slices"
	"strings"

	"scaperound/domain/num"
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
	leastUnspoken = 0.1  // so much must a cause weigh that nothing speaks for
	spokenFor     = 0.4  // ln of a ratio that counts as a word for a cause: 1.5
	unspoken      = -1.6 // ln, what a cause loses that nothing speaks for
	leastOwn      = 0.15 // unless it weighs so much among those that speak of the same
	unspokenShare = 0.2  // exp of unspoken
	unexplained   = -0.7 // ln, what a cause among plants loses for each kind of distress of the animals
	triedInVain   = -1.6 // ln, what a cause loses when its remedy was given and did nothing
	furtherPower  = 0.25
	nothingID     = "nothing_wrong"
	contextGroup  = "age" // makes a cause likelier, but is no word for it
	nothingWeight = 0.3
)

// row points from a sign or fact into the causes.
type row struct {
	cause int
	ratio float64
	ln    float64
}

var rowsByWhat = func() map[string][]row {
	m := map[string][]row{}
	for i, c := range causes {
		for _, l := range c.Rows {
			m[l.What] = append(m[l.What], row{i, l.Ratio, num.Log(l.Ratio)})
		}
	}
	return m
}()

var nothingIndex = slices.IndexFunc(causes, func(c cause) bool { return c.ID == nothingID })

var lnPriors = func() []float64 {
	out := make([]float64, len(causes))
	for i, c := range causes {
		out[i] = num.Log(c.Prior)
	}
	return out
}()

// matter is what the tables say of one sign or fact.
type matter struct {
	group string
	rows  []row
}

var matters = func() map[string]*matter {
	m := map[string]*matter{}
	for what, rows := range rowsByWhat {
		m[what] = &matter{groupOf(what), rows}
	}
	return m
}()

// tally is what one group of evidence says of one cause, as logarithms.
type tally struct {
	best, rest, against float64
	any                 bool
	sign                bool // something that was seen speaks for it
	word                bool // something that is out of order speaks for it
}

// hunger marks the causes that a number alone never speaks for: water may read
// zero without hunger.
var hunger = func() []bool {
	out := make([]bool, len(causes))
	for i, c := range causes {
		out[i] = strings.HasSuffix(c.ID, "_def")
	}
	return out
}()

func (t *tally) add(ln float64) {
	switch {
	case ln < 0:
		t.against = min(t.against, ln)
	case ln > t.best:
		t.rest += t.best
		t.best = ln
	default:
		t.rest += ln
	}
}

// scales is the room in which causes are weighed, one place for each.
type scales struct {
	ln, score, usual []float64 // usual is the score where nothing speaks for it
	spoken           []bool
	group            []tally
	voices           []uint64 // the groups that speak for each, by their bits
	touched          []int
}

func (s *scales) empty() {
	if s.ln == nil {
		n := len(causes)
		*s = scales{make([]float64, n), make([]float64, n), make([]float64, n), make([]bool, n), make([]tally, n), make([]uint64, n), make([]int, 0, n)}
	}
	copy(s.ln, lnPriors)
	clear(s.score)
	clear(s.usual)
	clear(s.spoken)
	clear(s.group)
	clear(s.voices)
	s.touched = s.touched[:0]
}

// Weigh ranks the causes for what was seen and read; the shares and that of
// "none of these" add up to 1.
func Weigh(v *View) ([]Cause, float64) {
	pieces := seen(v)
	v.scales.empty()
	ln, spoken, group, voices, touched := v.scales.ln, v.scales.spoken, v.scales.group, v.scales.voices, v.scales.touched
	groups := 0
	for i := range pieces {
		p := &pieces[i]
		if p.heard || len(p.rows) == 0 {
			continue
		}
		for j := i; j < len(pieces); j++ {
			o := &pieces[j]
			if len(o.rows) == 0 || o.group != p.group {
				continue
			}
			o.heard = true
			word := !calm(o.what)
			for _, r := range o.rows {
				t := &group[r.cause]
				if !t.any {
					t.any = true
					touched = append(touched, r.cause)
				}
				t.add(r.ln)
				t.sign = t.sign || o.sign && r.ln > 0
				t.word = t.word || word && r.ln >= spokenFor
			}
		}
		for _, k := range touched {
			t := group[k]
			ln[k] += t.best + furtherPower*t.rest + t.against
			if t.word && p.group != contextGroup {
				voices[k] |= 1 << min(groups, 63)
				spoken[k] = spoken[k] || !hunger[k] || t.sign
			}
			group[k] = tally{}
		}
		touched, groups = touched[:0], groups+1
	}
	leaveOpen(pieces, ln)
	score, usual := v.scales.score, v.scales.usual
	total := 0.0
	for i, c := range causes {
		if c.Needs != "" && !v.facts[c.Needs] || i == nothingIndex {
			continue
		}
		if !spoken[i] {
			ln[i] += unspoken
		}
		if v.Tried[c.ID] {
			ln[i] += triedInVain
		}
		score[i] = num.Exp(ln[i])
		usual[i] = min(score[i], c.Prior*unspokenShare)
		total += score[i]
	}
	score[nothingIndex] = nothingWeight * scoreOfNothing(pieces, everywhere)
	none := noneWeight
	if slices.ContainsFunc(pieces, func(p piece) bool { return p.sign && p.troubles }) {
		none *= 3
	}
	if weak(pieces) {
		none *= 4
	}
	total += score[nothingIndex] + none
	var calmly [realms]float64 // nothing being wrong, realm by realm
	for r := range calmly {
		calmly[r] = nothingWeight * scoreOfNothing(pieces, r)
	}
	var out []Cause
	for i, c := range causes {
		if score[i] == 0 {
			continue
		}
		w := score[i] / total
		own, leads := w, false
		if i != nothingIndex {
			own, leads = among(i, voices, score, usual, calmly[realm[i]]+none)
			leads = leads && score[i] >= calmly[realm[i]]
		}
		if w < leastWeight && own < leastOwn || !spoken[i] && i != nothingIndex && w < leastUnspoken {
			continue
		}
		k := Cause{ID: c.ID, Weight: w, Own: own, Leads: leads}
		k.For, k.Against = evidence(i, pieces)
		out = append(out, k)
	}
	// Of two troubles that are both there, what concerns the animals is named first.
	presses := func(c Cause) int {
		if v.Animals && c.Own >= 0.3 && realm[causeIndex(c.ID)] != 1 && c.ID != nothingID {
			return 1
		}
		return 0
	}
	num.SortStable(out, func(a, b Cause) int { return cmp.Or(presses(b)-presses(a), cmp.Compare(b.Weight, a.Weight)) })
	return out, none / total
}

// realms is how many there are; everywhere stands for all of them.
const (
	realms     = 3
	everywhere = -1
)

// realm parts what grows from what lives in the water and keeps it running, and
// disease from both: causes of one realm stand in each other's place, those of
// two may well be true together.
var realm = func() []int {
	grows := map[string]bool{"co2_unstable": true, "light_excess": true, "direct_sun": true, "new_tank_diatoms": true, "grazing": true}
	out := make([]int, len(causes))
	for i, c := range causes {
		switch {
		case c.ID == "disease":
			out[i] = 2
		case c.Needs == "plants" || grows[c.ID]:
			out[i] = 1
		}
	}
	return out
}()

// among is the share of a cause among those of its realm and those that speak of
// what speaks for it: what else is the matter in a tank says nothing against it.
// It leads where none of them weighs more.
func among(i int, voices []uint64, score, usual []float64, rest float64) (own float64, leads bool) {
	sum := rest
	leads = true
	for j := range score {
		if j == nothingIndex {
			continue
		}
		if realm[j] == realm[i] || voices[j]&voices[i] != 0 {
			sum += score[j]
			leads = leads && score[j] <= score[i]
		} else {
			sum += usual[j]
		}
	}
	return score[i] / sum, leads
}
