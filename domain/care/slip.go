package care

import (
	"math"
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// slipKinds are read against their own past for a decimal mark that went astray.
// What can fall to nothing within a fortnight is only looked at upwards.
var slipKinds = []struct {
	kind   q.Kind
	upOnly bool
}{
	{q.Temperature, false}, {q.KH, false}, {q.GH, false}, {q.EC, false}, {q.TDS, false}, {q.Calcium, true}, {q.Magnesium, true},
	{q.Nitrate, true}, {q.Phosphate, true}, {q.Potassium, true}, {q.Iron, true},
}

const (
	slipLooks  = 3    // earlier readings, which must agree with one another
	slipDays   = 200  // and be no older
	slipAgree  = 0.35 // of their median, beyond what the kit can mean
	slipFactor = 10.0 // one place of the decimal mark
)

// slips finds readings of the tank's water that are about ten times, or a tenth
// of, what the last ones were: a comma for a point, or one digit too many. Nothing
// follows from such a number until it was read again; ammonia, nitrite and pH are
// never set aside so.
func (v *View) slips() []q.Kind {
	if v.since("dosed_something") || v.Has("double_dose_given", "salt_added_recently") {
		return nil // then a jump may be what it seems
	}
	var out []q.Kind
	for _, s := range slipKinds {
		now, ok := v.Tank(s.kind)
		if !ok || now.Value <= 0 {
			continue
		}
		least := 1
		if s.upOnly {
			least = 2 // what is dosed and eaten moves more
		}
		usual, ok := v.usually(s.kind, least)
		if !ok || usual <= 0 {
			continue
		}
		near := func(x float64) bool {
			return math.Abs(x-usual) <= max(slipAgree*usual, usualHalf(s.kind, usual))
		}
		up, down := near(now.Value/slipFactor), near(now.Value*slipFactor)
		if s.kind == q.KH && down && v.sour() {
			down = false // a KH that is gone shows in the pH
		}
		if near(now.Value) || !up && (!down || s.upOnly) || v.mayBeMixed(s.kind, usual, now.Value) {
			continue
		}
		out = append(out, s.kind)
	}
	return out
}

// mayBeMixed reports a reading that a change with the source's own water explains:
// it lies between what was there and what the source holds.
func (v *View) mayBeMixed(k q.Kind, was, is float64) bool {
	s := v.Source(k)
	return s.OK && is >= min(was, s.V) && is <= max(was, s.V) && math.Abs(s.V-was) > usualHalf(k, was)
}

// sour reports a pH that only water without KH has.
func (v *View) sour() bool {
	r, ok := v.Tank(q.Acidity)
	return ok && r.Value < 6.3 && !v.Injected
}

// usually is the median of the last readings of a kind, where there are so many
// at least and they agree.
func (v *View) usually(k q.Kind, least int) (float64, bool) {
	var olds []float64
	for i := len(v.History) - 1; i >= 0 && len(olds) < slipLooks && v.Now.Day-v.History[i].Day <= slipDays; i-- {
		if x, ok := readOf(&v.History[i], k, visit.Late, visit.Before, visit.Morning); ok {
			olds = append(olds, x.Value)
		}
	}
	if len(olds) < least {
		return 0, false
	}
	slices.Sort(olds)
	median := olds[len(olds)/2]
	if len(olds)%2 == 0 {
		median = (olds[len(olds)/2-1] + median) / 2
	}
	for _, x := range olds {
		if math.Abs(x-median) > max(slipAgree*median, usualHalf(k, median)) {
			return 0, false
		}
	}
	return median, true
}

// setAside takes the kinds out of this visit; they are kept in Aside.
func (v *View) setAside(kinds []q.Kind) {
	for _, k := range kinds {
		r, _ := v.Tank(k)
		v.Aside = append(v.Aside, r)
	}
	if len(kinds) > 0 {
		v.Now = without(v.Now, kinds)
	}
}

func (v *View) asideOf(k q.Kind) (visit.Reading, bool) {
	for _, r := range v.Aside {
		if r.Kind == k {
			return r, true
		}
	}
	return visit.Reading{}, false
}

// without is the record less its readings of the tank's own water of the kinds.
func without(r visit.Record, kinds []q.Kind) visit.Record {
	r.Readings = slices.DeleteFunc(slices.Clone(r.Readings), func(x visit.Reading) bool {
		return slices.Contains(kinds, x.Kind) && (x.Phase == visit.Before || x.Phase == visit.Late || x.Phase == visit.Morning)
	})
	return r
}
