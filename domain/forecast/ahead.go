package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Course is what is assumed of the days to come.
type Course struct {
	Plan  tank.Plan
	Share q.Share // of the water changed at each visit; 0: none
	Every int     // days between changes; 0: none in the time asked about
}

// Expected is one kind on one day, before that day's work, in the kind's
// canonical unit; a cylinder's is its content in kg.
type Expected struct {
	Kind   q.Kind
	Day    q.Date
	Value  float64 // as probably above as below
	Lo, Hi float64 // central 80 %
}

// Ahead answers for each of the days, in their order, what is expected of every
// kind of Kinds under the course. Days before the state's own are passed over.
// Nothing is said of a kind of which nothing is known.
func Ahead(s State, setup tank.Setup, c Course, on []q.Date) []Expected {
	if !s.Usable() {
		return nil
	}
	out := make([]Expected, 0, len(on)*Tracked)
	next := s.Day
	if c.Every > 0 {
		next = s.Day.Add(c.Every)
	}
	r := runner{s: s, setup: &setup, course: &c, next: next}
	for _, d := range on {
		if d < r.s.Day || d-s.Day > 3650 {
			continue
		}
		r.to(d)
		out = r.say(out, d)
	}
	return out
}

// Moved is the state as it will stand on a day from its own on, at most ten years,
// before that day's work. What is asked of it for that day is answered at once.
func Moved(s State, setup tank.Setup, c Course, on q.Date) State {
	if !s.Usable() || on <= s.Day || on-s.Day > 3650 {
		return s
	}
	r := runner{s: s, setup: &setup, course: &c, next: s.Day.Add(c.Every)}
	r.to(on)
	return r.s
}

type runner struct {
	s      State
	setup  *tank.Setup
	course *Course
	next   q.Date
}

// to moves the state to the day, with the changes that fall before it.
func (r *runner) to(d q.Date) {
	for r.course.Every > 0 && r.next < d {
		r.days(r.next)
		r.change()
		r.next = r.next.Add(r.course.Every)
	}
	r.days(d)
}

func (r *runner) days(d q.Date) {
	net := float64(volumeOf(r.setup))
	for r.s.Day < d {
		step := min(d-r.s.Day, 28)
		iv := between(&r.s, r.setup, &r.course.Plan, visit.DosesBetween{How: "not_known"}, float64(step), net, r.s.Day.Add(int(step)))
		r.s.carry(&iv, r.setup)
		r.s.Flow.carry(float64(step))
		r.s.Cylinder.carry(float64(step))
		r.s.Day += step
	}
}

func (r *runner) change() {
	share := clamp(float64(r.course.Share), 0, 1)
	c := change{since: r.s.SinceFull, sd: usual.Change, topoff: r.setup.Topoff, source: sourceOf(r.setup), share: share, refilled: true}
	r.s.push(water{work: &c})
	r.s.bound()
	r.s.SinceFull = 0
}

func (r *runner) say(out []Expected, d q.Date) []Expected {
	for i := range moves {
		out = append(out, r.s.expected(i, d))
	}
	if r.s.Flow.Known {
		out = append(out, r.s.Flow.expected(d))
	}
	if r.s.Cylinder.Known {
		out = append(out, r.s.Cylinder.expected(d))
	}
	return out
}

func (f *FlowState) expected(d q.Date) Expected {
	m, sd := f.Mean[lnNow], usual.Spread[moves]*math.Sqrt(math.Max(0, f.Cov[0]))
	return Expected{q.Flow, d, num.Exp(m), num.Exp(plus(m, -z80, sd)), num.Exp(plus(m, z80, sd))}
}

func (c *CylinderState) expected(d q.Date) Expected {
	m, sd := c.Mean[0], math.Sqrt(math.Max(0, c.Cov[0]))
	return Expected{q.CylinderGross, d, math.Max(0, m), math.Max(0, plus(m, -z80, sd)), math.Max(0, plus(m, z80, sd))}
}

// expected is one term as a value and its interval.
func (s *State) expected(i int, d q.Date) Expected {
	m := s.Mean[i]
	sd := z80 * usual.Spread[i] * math.Sqrt(math.Max(0, s.Cov[at(i, i)]))
	e := Expected{Kind: kinds[i], Day: d}
	if i < nutrient {
		e.Value, e.Lo, e.Hi = concentration(i, m), concentration(i, m-sd), concentration(i, m+sd)
		return e
	}
	e.Value, e.Lo, e.Hi = math.Max(0, m), math.Max(0, m-sd), math.Max(0, m+sd)
	return e
}
