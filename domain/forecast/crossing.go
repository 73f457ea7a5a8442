package forecast

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Verdict is how a question about a date is answered.
type Verdict string

// Verdicts.
const (
	NotEnough Verdict = "not_enough" // too little is known to say
	Already   Verdict = "already"    // it is so now
	Around    Verdict = "around"     // at Days, between Lo and Hi
	NotWithin Verdict = "not_within" // not in the time asked about
)

// Range answers when something will be. Days count from the state's day.
type Range struct {
	Verdict Verdict
	Days    int           // as probably earlier as later, where Around
	Lo      int           // one in ten that it is earlier, where Around or NotWithin and OpenLo is false
	Hi      q.Opt[int]    // one in ten that it is later; not known: beyond the time asked about
	Within  int           // the time asked about
	Early   q.Opt[int]    // with NotWithin: one in ten that it comes by this day all the same
	Day     q.Opt[q.Date] // of Days
}

// Side of a limit.
type Side bool

// Sides: what is asked is when the value goes below or above the limit.
const (
	Below Side = false
	Above Side = true
)

// Crossing answers on which day within so many (1 to 730) a kind of Kinds goes
// below or above a limit in its canonical unit, under the course. A cylinder's
// limit is its content in kg.
func Crossing(s State, setup tank.Setup, c Course, k q.Kind, side Side, limit float64, within int) Range {
	i, ok := indexOf(k)
	within = max(1, min(within, 730))
	r := Range{Verdict: NotEnough, Within: within}
	if !s.Usable() || !ok || !finite(limit) || !s.says(i) {
		return r
	}
	next := s.Day
	if c.Every > 0 {
		next = s.Day.Add(c.Every)
	}
	run := runner{s: s, setup: &setup, course: &c, next: next}
	mid, lo, hi := -1, -1, -1
	gear := i >= moves
	for d := 0; d <= within && hi < 0; d++ {
		if gear {
			if d > 0 {
				run.s.Flow.carry(1)
				run.s.Cylinder.carry(1)
			}
		} else if d > 0 {
			run.to(s.Day.Add(d))
		}
		e := run.one(i)
		first, last := e.Lo, e.Hi
		if side == Above {
			first, last = -e.Hi, -e.Lo
			e.Value = -e.Value
		}
		lim := limit
		if side == Above {
			lim = -limit
		}
		if lo < 0 && first < lim {
			lo = d
		}
		if mid < 0 && e.Value < lim {
			mid = d
		}
		if hi < 0 && last < lim {
			hi = d
		}
	}
	switch {
	case mid < 0:
		r.Verdict = NotWithin
		if lo >= 0 {
			r.Early = q.Some(lo)
		}
		return r
	case mid == 0:
		r.Verdict = Already
	default:
		r.Verdict = Around
	}
	r.Days, r.Lo = mid, max(lo, 0)
	r.Day = q.Some(s.Day.Add(mid))
	if hi >= 0 {
		r.Hi = q.Some(hi)
	}
	return r
}

// says reports whether enough is known of a kind to answer for it.
func (s *State) says(i int) bool {
	switch kinds[i] {
	case q.Flow:
		return s.Flow.Known
	case q.CylinderGross:
		return s.Cylinder.Known
	}
	return true
}

func (r *runner) one(i int) Expected {
	switch {
	case i < moves:
		return r.s.expected(i, r.s.Day)
	case kinds[i] == q.Flow:
		return r.s.Flow.expected(r.s.Day)
	}
	return r.s.Cylinder.expected(r.s.Day)
}
