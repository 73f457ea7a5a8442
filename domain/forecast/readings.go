package forecast

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// readings conditions on what was read of the water before the work, and
// returns how probable it is that something unusual happened.
func (s *State) readings(setup *tank.Setup, v *visit.Record) (ln float64) {
	ln = s.sourceReadings(v)
	for i := range moves {
		r, ok := v.Tankwater(kinds[i])
		if !ok && i == lnNO3 {
			if x, got := v.Tankwater(q.NitrateN); got {
				r, ok = x, true
				for _, p := range [...]*float64{&r.Value, &r.Lo, &r.Hi} {
					*p *= 4.4266
				}
			}
		}
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(i, widened(r))
		on, sc := s.shownBy(i, i)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		if seen := &s.Seen[i]; p.wrong > disbelieved && seen.Wrong > disbelieved {
			// Twice in a row it is not the readings that are wrong.
			gap := sc.of(r.Value) - mean
			s.widen(i, min(math.Abs(gap), 30), 1)
			mean, vr = s.along(on[:])
			p = m.read(mean, vr, sc)
		}
		s.shrink(on[:], mean, vr, p.m, p.v)
		s.bound()
		ln += lnOf(p.evidence)
		side := 0.0
		if vr > 0 {
			side = (p.m - mean) / math.Sqrt(vr)
		}
		s.Seen[i] = Sight{Count: s.Seen[i].Count + 1, Last: v.Day, Value: r.Value, Guess: p.guess, Wrong: p.wrong, Side: side, Expired: expired(setup, &r, v.Day)}
	}
	return ln
}

// disbelieved is from which probability a reading counts as wrong.
const disbelieved = 0.5

// shownBy is the sum of terms that a kit shows of a term, and on what scale: a
// kit is off by a share.
func (s *State) shownBy(term, kind int) (on [2]weighed, sc scale) {
	if term < nutrient {
		return [2]weighed{{term, 1}, {kitNO3 + kind, 1}}, scale{true, offset[kind]}
	}
	return [2]weighed{{term, 1}, {kitNO3 + kind, math.Max(0, s.Mean[term])}}, scale{}
}

func (s *State) sourceReadings(v *visit.Record) (ln float64) {
	for _, c := range [...]struct{ term, kind int }{{inNO3, lnNO3}, {inGH, gh}, {inKH, kh}} {
		r, ok := v.Reading(kinds[c.kind], visit.FromSource)
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(c.kind, widened(r))
		on, sc := s.shownBy(c.term, c.kind)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		s.shrink(on[:], mean, vr, p.m, p.v)
		ln += lnOf(p.evidence)
	}
	s.bound()
	return ln
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// widened gives a bare number what it can mean.
func widened(r visit.Reading) q.Interval {
	i := r.Interval
	if math.IsNaN(i.Lo) || math.IsNaN(i.Hi) || r.Lot == "" && i.Lo == i.Hi && i.Value != 0 {
		i = visit.MeaningOf(r.Kind, r.Value)
	}
	return i
}

func expired(setup *tank.Setup, r *visit.Reading, on q.Date) bool {
	for i := range setup.Kits {
		if k := &setup.Kits[i]; r.Lot != "" && k.Lot == r.Lot {
			return k.Expired(on)
		}
	}
	return false
}

// after conditions on what was read after the change.
func (s *State) after(setup *tank.Setup, v *visit.Record) {
	for i := range moves {
		r, ok := v.Reading(kinds[i], visit.After)
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(i, widened(r))
		on, sc := s.shownBy(i, i)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		s.shrink(on[:], mean, vr, p.m, p.v)
	}
	s.bound()
}
