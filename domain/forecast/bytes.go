package forecast

import (
	"encoding/binary"
	"math"

	q "scaperound/domain/quantity"
)

// Bytes is the state as it is stored: each of its numbers in turn, eight bytes
// each, the smallest first. The zero State is no bytes.
func (s *State) Bytes() []byte {
	if s.Version == 0 {
		return nil
	}
	out := make([]byte, 0, 8*512)
	s.each(func(v float64) float64 {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
		return v
	})
	return out
}

// StateOf reads what Bytes wrote. ok is false for anything else, also for a
// state of another version: the tank's visits are then to be folded anew.
func StateOf(b []byte) (s State, ok bool) {
	short := false
	s.each(func(float64) float64 {
		if len(b) < 8 {
			short = true
			return 0
		}
		v := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		if !finite(v) {
			short = true
		}
		return v
	})
	if short || len(b) > 0 || s.Version != Version {
		return State{}, false
	}
	return s, true
}

// each hands every number of the state to f, in a settled order, and puts what
// f returns in its place.
func (s *State) each(f func(float64) float64) {
	number := func(p *float64) { *p = f(*p) }
	count := func(p *int) { *p = int(f(float64(*p))) }
	day := func(p *q.Date) { *p = q.Date(f(float64(*p))) }
	flag := func(p *bool) {
		v := 0.0
		if *p {
			v = 1
		}
		*p = f(v) != 0
	}
	count(&s.Version)
	day(&s.Day)
	day(&s.SetUpOn)
	count(&s.Visits)
	for i := range s.Mean {
		number(&s.Mean[i])
	}
	for i := range s.Cov {
		number(&s.Cov[i])
	}
	number(&s.SinceFull)
	number(&s.Share)
	number(&s.Every)
	for i := range s.Seen {
		x := &s.Seen[i]
		count(&x.Count)
		day(&x.Last)
		number(&x.Value)
		number(&x.Guess)
		number(&x.Wrong)
		number(&x.Side)
		flag(&x.Expired)
	}
	number(&s.Turn.Missed)
	number(&s.Turn.Rates)
	s.Flow.each(number, flag)
	s.Cylinder.each(number, flag)
}

func (f *FlowState) each(number func(*float64), flag func(*bool)) {
	flag(&f.Known)
	for i := range f.Mean {
		number(&f.Mean[i])
	}
	for i := range f.Cov {
		number(&f.Cov[i])
	}
}

func (c *CylinderState) each(number func(*float64), flag func(*bool)) {
	flag(&c.Known)
	number(&c.Gross)
	for i := range c.Mean {
		number(&c.Mean[i])
	}
	for i := range c.Cov {
		number(&c.Cov[i])
	}
}
