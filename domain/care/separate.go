package care

import (
	"math"
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// Separator is something that nobody has looked at yet and that would tell the
// first two causes apart.
type Separator struct {
	For, Against string // causes: it would speak for the one, rather than the other
	Sign         string // to look for
	Kind         q.Kind // or to read
	Phase        visit.Phase
	Say          say.Sentence
}

// readable are facts that one more reading would decide.
var readable = map[string]struct {
	kind  q.Kind
	phase visit.Phase
}{
	"tan_present": {q.TAN, visit.Before}, "tan_zero": {q.TAN, visit.Before}, "no2_present": {q.Nitrite, visit.Before}, "no2_zero": {q.Nitrite, visit.Before},
	"no3_low": {q.Nitrate, visit.Before}, "no3_enough": {q.Nitrate, visit.Before}, "no3_over": {q.Nitrate, visit.Before},
	"po4_low": {q.Phosphate, visit.Before}, "po4_enough": {q.Phosphate, visit.Before}, "k_low": {q.Potassium, visit.Before}, "k_enough": {q.Potassium, visit.Before},
	"mg_low": {q.Magnesium, visit.Before}, "mg_enough": {q.Magnesium, visit.Before}, "ca_low": {q.Calcium, visit.Before}, "ca_enough": {q.Calcium, visit.Before},
	"gh_low": {q.GH, visit.Before}, "gh_enough": {q.GH, visit.Before}, "kh_gone": {q.KH, visit.Before}, "o2_short": {q.Oxygen, visit.Morning}, "o2_enough": {q.Oxygen, visit.Morning},
	"gas_over": {q.GasTotal, visit.Before}, "flow_low": {q.Flow, visit.Before}, "flow_fine": {q.Flow, visit.Before}, "co2_alarm": {q.Acidity, visit.Late}, "co2_low": {q.Acidity, visit.Late},
	"light_short": {q.PPFD, visit.Before}, "light_much": {q.PPFD, visit.Before}, "metal": {q.Copper, visit.Before}, "chlorine_in_source": {q.TotalChlorine, visit.FromSource},
	"cylinder_low": {q.CylinderGross, visit.Before}, "temp_high": {q.Temperature, visit.Before}, "temp_low": {q.Temperature, visit.Before},
}

// leastFirst and leastSecond are the weights from which two causes are worth
// telling apart, and
// clearFirst the multiple of it beyond which the first stands.
const (
	leastFirst  = 0.2
	leastSecond = 0.1
	clearFirst  = 6
)

// separators finds what would tell the first two causes apart: the sign and the
// reading whose likelihoods differ most between them.
func separators(v *View) []Separator {
	if len(v.Causes) < 2 || v.Causes[0].Weight < leastFirst || v.Causes[1].Weight < leastSecond || v.Causes[0].ID == nothingID || v.Causes[0].Weight > clearFirst*v.Causes[1].Weight {
		return nil
	}
	first, second := causeIndex(v.Causes[0].ID), causeIndex(v.Causes[1].ID)
	if first < 0 || second < 0 {
		return nil
	}
	var sign, read string
	signLn, readLn := math.Ln2, math.Ln2 // a doubling is the least that helps
	for _, rows := range [...][]likelihood{causes[first].Rows, causes[second].Rows} {
		for _, l := range rows {
			ln := lnRatio(first, l.What) - lnRatio(second, l.What)
			if d, ok := visit.SignOf(l.What); ok {
				if math.Abs(ln) > math.Abs(signLn) && !v.Has(l.What) && seenAgain[d.Group] {
					sign, signLn = l.What, ln
				}
				continue
			}
			r, ok := readable[l.What]
			if ok && math.Abs(ln) > math.Abs(readLn) && !v.readIn(r.kind, r.phase) && (v.Injected || r.phase != visit.Late) {
				read, readLn = l.What, ln
			}
		}
	}
	between := func(ln float64) Separator {
		if ln < 0 {
			return Separator{For: causes[second].ID, Against: causes[first].ID}
		}
		return Separator{For: causes[first].ID, Against: causes[second].ID}
	}
	var out []Separator
	if read != "" {
		s := between(readLn)
		s.Kind, s.Phase = readable[read].kind, readable[read].phase
		m, _ := q.MeasureOf(s.Kind)
		s.Say = say.S("separate.read", say.Text("what", m.Title), say.Word("cause", "cause."+causes[first].ID), say.Word("other", "cause."+causes[second].ID))
		out = append(out, s)
	}
	if sign != "" {
		s := between(signLn)
		s.Sign = sign
		s.Say = say.S("separate.sign", say.Text("sign", visit.SignTitle(sign)), say.Word("cause", "cause."+s.For), say.Word("other", "cause."+s.Against))
		out = append(out, s)
	}
	return out
}

func (v *View) readIn(k q.Kind, p visit.Phase) bool {
	if k == q.Flow && v.Flow.Now.OK {
		return true // by the bucket
	}
	if p == visit.Before {
		_, ok := v.Tank(k)
		return ok
	}
	_, ok := v.Now.Reading(k, p)
	return ok
}

func causeIndex(id string) int {
	return slices.IndexFunc(causes, func(c cause) bool { return c.ID == id })
}

// lnRatio is what a cause's table says of a sign or fact, 0 where nothing.
func lnRatio(cause int, what string) float64 {
	if m, ok := matters[what]; ok {
		for _, r := range m.rows {
			if r.cause == cause {
				return r.ln
			}
		}
	}
	return 0
}
