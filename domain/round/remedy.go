package round

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// onlyAway says whether a stop could be done if somebody were there.
func (m *model) onlyAway(s *Stop) bool {
	there := *s
	there.Away = nil
	return m.openSometime(&there)
}

// thenAllowed says whether a stop may be on one of the days at all.
func (m *model) thenAllowed(s *Stop) bool {
	for day := range m.days {
		if d := m.p.From.Add(day); !(s.NotBefore.OK && d < s.NotBefore.V || s.NotAfter.OK && d > s.NotAfter.V) {
			return true
		}
	}
	return false
}

func (m *model) openSometime(s *Stop) bool {
	for day := range m.days {
		if len(appendSpans(nil, s, m.p.From.Add(day))) > 0 {
			return true
		}
	}
	return false
}

// awayFor is the first and the last of the days on which nobody is at a site.
func (m *model) awayFor(s *Stop) (first, last q.Date) {
	for day := range m.days {
		d := m.p.From.Add(day)
		if !away(s, d) {
			continue
		}
		if first == 0 {
			first = d
		}
		last = d
	}
	return first, last
}

// mostHelp is the most that a remedy asks for.
const mostHelp = 3 * Hour

// remedy finds what is cheapest in minutes: somebody who stays longer, or a site
// that opens longer, earlier or later.
func (m *model) remedy(d *draft, v int32, able []int) say.Sentence {
	var best say.Sentence
	least := mostHelp + 1
	s := &m.p.Stops[m.stopOf[v]]
	for _, ci := range able {
		c := &m.cars[ci]
		day := m.p.From.Add(c.day)
		if s.Keep.OK && (s.Keep.V.Day != day || s.Keep.V.Person != "" && s.Keep.V.Person != m.p.People[c.person].ID) ||
			s.Promised.OK && s.Promised.V.Day != day || away(s, day) || s.NotBefore.OK && day < s.NotBefore.V || s.NotAfter.OK && day > s.NotAfter.V ||
			!m.carries(d, ci, v) || m.vanTaken(d, ci) {
			continue
		}
		who, on := say.Text("who", m.p.People[c.person].Name), say.Day("day", day)
		seq := d.seq[ci]
		until := c.to
		for pos := range len(seq) + 1 {
			if m.last[v] && pos < len(seq) || pos > 0 && m.last[seq[pos-1]] {
				continue
			}
			next := slices.Insert(slices.Clone(seq), pos, v)
			c.to = until + mostHelp
			_, _, back, _, ok := m.times(d, ci, next, nil)
			c.to = until
			if more := wholeMinutes(back - until); ok && more > 0 && more < least {
				least = more
				best = say.S("round.remedy.longer", who, on, minutesArg("time", more), say.Text("at", clockText(until+more)))
			}
			if off, said, ok := m.opened(d, v, ci, pos, next); ok && off < least {
				least = off
				best = say.S(said.ID, append(said.Args, who, on, say.Text("stop", s.Name))...)
			}
		}
	}
	return best
}

// wholeMinutes rounds up: who stays that long is not some seconds short.
func wholeMinutes(s Seconds) Seconds { return (s + Minute - 1) / Minute * Minute }

// opened is what a site would have to do for a node to fit into a route where
// next has it: how much longer, earlier or later it would open.
func (m *model) opened(d *draft, v int32, ci, pos int, next []int32) (off Seconds, said say.Sentence, ok bool) {
	c := &m.cars[ci]
	s := &m.p.Stops[m.stopOf[v]]
	at := m.startFreely(d, v, ci, pos, next, 0)
	if at < 0 {
		return 0, said, false
	}
	off = m.offSpans(v, c.day, at)
	said = say.S("round.remedy.open", say.Text("at", clockText(at)))
	day := m.p.From.Add(c.day)
	for _, w := range s.Windows {
		if w.Day.OK && w.Day.V != day || !w.Day.OK && w.Weekday != day.Weekday() {
			continue
		}
		// The work takes longer than somebody opens, or as long and at the wrong
		// time: begun as late as that costs nothing more, or as late as the day
		// allows.
		begin := m.startFreely(d, v, ci, pos, next, min(w.From, w.To-s.Work))
		if begin < 0 {
			begin = at
		}
		from, to := min(w.From, begin/Minute*Minute), max(w.To, wholeMinutes(begin+s.Work))
		more := w.From - from + to - w.To
		switch {
		case w.To-w.From < s.Work && (more < off || len(m.spansOf(v, c.day)) == 0 && more <= mostHelp):
			off = more
			said = say.S("round.remedy.longer_open", minutesArg("time", more), say.Text("from", clockText(from)), say.Text("until", clockText(to)))
		case w.To-w.From >= s.Work && more < off:
			off = more
			said = say.S("round.remedy.open", say.Text("at", clockText(begin)))
		}
	}
	return off, said, off > 0
}

// startFreely is when the work at a node would begin, not before a time, if the
// site were open all day; -1 where the rest of the day does not hold then.
func (m *model) startFreely(d *draft, v int32, ci, pos int, next []int32, notBefore Seconds) Seconds {
	m.free, m.freeFrom = v+1, notBefore
	at, _, _, _, ok := m.times(d, ci, next, nil)
	m.free = 0
	if !ok {
		return -1
	}
	return at[pos].start
}

// offSpans is how far a beginning is from those that are allowed; a day without
// any counts as an hour.
func (m *model) offSpans(v int32, day int, t Seconds) Seconds {
	off := Hour
	for i, s := range m.spansOf(v, day) {
		far := max(s.lo-t, t-s.hi, 0)
		if i == 0 || far < off {
			off = far
		}
	}
	return off
}
