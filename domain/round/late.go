package round

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Slip is a stop that begins later than planned.
type Slip struct {
	Stop, Person string // IDs
	Was, Now     Seconds
	Call         bool         // somebody is to be phoned, for Why
	Phone        string       // may be empty
	Why          say.Sentence // what no longer holds; its ID is empty where all does
}

// Lateness is what follows from running late.
type Lateness struct {
	Slips []Slip // in the order of the day; the late stop first
	Back  Seconds
	Over  bool // back after the end of the shift
	Words []say.Sentence
}

// Late says what slips when a stop of a person's day begins by seconds later
// than planned, and whom to phone: where a promised time or the time in which
// somebody opens is missed. Of a job for two the other person's day slips too.
// ok is false where the plan does not hold that stop.
func Late(p Problem, plan Plan, person string, day q.Date, stop string, by Seconds) (l Lateness, ok bool) {
	m := compile(&p)
	ri := slices.IndexFunc(plan.Routes, func(r Route) bool { return r.Person == person && r.Day == day })
	if ri < 0 {
		return l, false
	}
	r := &plan.Routes[ri]
	first := slices.IndexFunc(r.Visits, func(v Visit) bool { return v.Stop == stop })
	if first < 0 || m.carOf(person, day) < 0 {
		return l, false
	}
	seen := map[string]bool{}
	l.Back, l.Over = m.slip(&l, plan, r, first, r.Visits[first].Start+max(by, 0), seen)
	if l.Over {
		l.Words = append(l.Words, say.S("round.late.over", say.Text("who", m.nameOf(person)), say.Text("at", clockText(l.Back))))
	}
	for _, s := range l.Slips {
		if s.Call {
			l.Words = append(l.Words, s.Why)
		}
	}
	return l, true
}

// slip follows a route from a stop that begins at start, and lists what comes
// later than planned.
func (m *model) slip(l *Lateness, plan Plan, r *Route, first int, start Seconds, seen map[string]bool) (back Seconds, over bool) {
	if seen[r.Person] {
		return r.Back, false
	}
	seen[r.Person] = true
	ci := m.carOf(r.Person, r.Day)
	if ci < 0 {
		return r.Back, false
	}
	c := &m.cars[ci]
	free, prev := Seconds(0), c.start
	for i := first; i < len(r.Visits); i++ {
		v := &r.Visits[i]
		node, ok := m.nodeOf(v.Stop)
		if !ok {
			continue
		}
		now := start
		if i > first {
			arrive := m.clk.arrive(free, m.drive[int(prev)*m.points+int(node)])
			if r.Break.OK && r.Break.V >= r.Visits[i-1].Done && r.Break.V < v.Start {
				arrive = max(arrive+c.bLen, v.Start)
			}
			now = max(arrive, v.Start)
			if b := m.begin(node, c.day, now); b < never {
				now = b
			}
		}
		if i > first && now <= v.Start {
			return r.Back, false
		}
		l.Slips = append(l.Slips, m.slipOf(r, v, node, c, now))
		if v.With != "" {
			m.slipOther(l, plan, r, v, now, seen)
		}
		free, prev = now+m.work[node], node
	}
	back = m.clk.arrive(free, m.drive[int(prev)*m.points+int(c.end)])
	if n := len(r.Visits); n > 0 && r.Break.OK && r.Break.V >= r.Visits[n-1].Done {
		back += c.bLen
	}
	back = max(back, r.Back)
	return back, back > c.to
}

func (m *model) slipOther(l *Lateness, plan Plan, r *Route, v *Visit, now Seconds, seen map[string]bool) {
	for i := range plan.Routes {
		o := &plan.Routes[i]
		if o.Person != v.With || o.Day != r.Day {
			continue
		}
		at := slices.IndexFunc(o.Visits, func(x Visit) bool { return x.Stop == v.Stop })
		if at < 0 {
			return
		}
		if back, over := m.slip(l, plan, o, at, now, seen); over {
			l.Words = append(l.Words, say.S("round.late.over", say.Text("who", m.nameOf(o.Person)), say.Text("at", clockText(back))))
		}
	}
}

func (m *model) slipOf(r *Route, v *Visit, node int32, c *car, now Seconds) Slip {
	s := &m.p.Stops[m.stopOf[node]]
	out := Slip{Stop: v.Stop, Person: r.Person, Was: v.Start, Now: now, Phone: s.Phone}
	args := []say.Arg{say.Text("stop", s.Name), say.Text("at", clockText(now)), say.Text("was", clockText(v.Start))}
	open := *s
	open.Promised, open.Keep = q.Opt[Promise]{}, q.Opt[Keep]{}
	inside := slices.ContainsFunc(appendSpans(nil, &open, r.Day), func(x span) bool { return x.lo <= now && now <= x.hi })
	switch {
	case s.Promised.OK && (s.Promised.V.Day != r.Day || now > s.Promised.V.To):
		out.Call, out.Why = true, say.S("round.late.promise", append(args, say.Text("until", clockText(s.Promised.V.To)))...)
	case !inside:
		out.Call, out.Why = true, say.S("round.late.window", args...)
	case s.Keep.OK && s.Keep.V.Start.OK && now != s.Keep.V.Start.V:
		out.Call, out.Why = true, say.S("round.late.kept", args...)
	}
	return out
}
