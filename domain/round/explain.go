package round

import (
	"slices"
	"strings"

	"scaperound/domain/say"
)

// explain says for each stop without a place why, and the cheapest thing that
// would let it in.
func (m *model) explain(d *draft, p *Plan) {
	for i := range p.Unplaced {
		u := &p.Unplaced[i]
		if s, ok := m.byStop[u.Stop]; ok {
			m.explainOne(d, &m.p.Stops[s], u)
		}
	}
}

func (m *model) explainOne(d *draft, s *Stop, u *Unplaced) {
	at := say.Text("stop", s.Name)
	why := func(id string, args ...say.Arg) { u.Why = append(u.Why, say.S("round.why."+id, append(args, at)...)) }
	v, _ := m.nodeOf(s.ID)
	switch {
	case len(m.cars) == 0:
		why("nobody")
		return
	case !m.usable(s.Place):
		why("no_position")
		u.Remedy = say.S("round.remedy.position", at)
		return
	case m.count(s.ID) > 1:
		why("twice")
		return
	}
	able := m.able(s)
	if len(able) == 0 {
		why("skill", say.Text("skill", strings.Join(s.Skills, ", ")))
		u.Remedy = say.S("round.remedy.skill", say.Text("skill", strings.Join(s.Skills, ", ")), at)
		return
	}
	open := false
	for day := range m.days {
		open = open || len(m.spansOf(v, day)) > 0
	}
	switch {
	case !open && s.Promised.OK && (s.Promised.V.Day < m.p.From || s.Promised.V.Day >= m.p.From.Add(m.days)):
		why("promised_elsewhen", say.Day("day", s.Promised.V.Day))
		return
	case !open && s.Keep.OK:
		why("keep", say.Day("day", s.Keep.V.Day))
	case !open && s.Promised.OK:
		why("promise", say.Day("day", s.Promised.V.Day))
	case !open:
		why("closed")
	case !m.carriedByAny(v, able):
		why("load")
		u.Remedy = say.S("round.remedy.load", say.Text("litres", itoa(s.Load.WaterL)), say.Text("cylinders", itoa(s.Load.Cylinders)))
		return
	case !slices.ContainsFunc(able, func(ci int) bool { return m.cost[int(v)*len(m.cars)+ci] != forbid }):
		why("keep_person")
		return
	case !m.fitsAlone(v, able):
		why("hours")
	case m.twin[v] >= 0:
		why("two")
		return
	case s.KeptApart:
		why("last")
	default:
		why("full")
	}
	if r := m.remedy(d, v, able); r.ID != "" {
		u.Remedy = r
	}
}

func (m *model) count(id string) int {
	n := 0
	for i := range m.p.Stops {
		if m.p.Stops[i].ID == id {
			n++
		}
	}
	return n
}

// able lists the shifts of people with the skills.
func (m *model) able(s *Stop) []int {
	var out []int
	bare := *s
	bare.Keep.OK = false
	for ci := range m.cars {
		if m.allowed(&bare, &m.cars[ci]) {
			out = append(out, ci)
		}
	}
	return out
}

func (m *model) carriedByAny(v int32, able []int) bool {
	return slices.ContainsFunc(able, func(ci int) bool {
		return m.load[v][0] <= m.cars[ci].room[0] && m.load[v][1] <= m.cars[ci].room[1]
	})
}

// fitsAlone says whether some shift has time for the stop if it does nothing else.
func (m *model) fitsAlone(v int32, able []int) bool {
	empty := m.emptyDraft()
	return slices.ContainsFunc(able, func(ci int) bool {
		if m.cost[int(v)*len(m.cars)+ci] == forbid {
			return false
		}
		_, _, _, _, ok := m.times(empty, ci, []int32{v}, nil)
		return ok
	})
}

// remedy finds what is cheapest in minutes: somebody who stays longer, or a site
// that opens earlier or later. At most three hours are thought of.
func (m *model) remedy(d *draft, v int32, able []int) say.Sentence {
	const most = 3 * Hour
	var best say.Sentence
	least := most + 1
	s := &m.p.Stops[m.stopOf[v]]
	for _, ci := range able {
		c := &m.cars[ci]
		day := m.p.From.Add(c.day)
		if s.Keep.OK && (s.Keep.V.Day != day || s.Keep.V.Person != "" && s.Keep.V.Person != m.p.People[c.person].ID) ||
			s.Promised.OK && s.Promised.V.Day != day || away(s, day) || s.NotBefore.OK && day < s.NotBefore.V || s.NotAfter.OK && day > s.NotAfter.V || !m.carries(d, ci, v) {
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
			c.to = until + most
			_, _, back, _, ok := m.times(d, ci, next, nil)
			c.to = until
			if more := back - until; ok && more > 0 && more < least {
				least = more
				best = say.S("round.remedy.longer", who, on, minutesArg("time", more), say.Text("at", clockText(back)))
			}
			m.free = v + 1
			at, _, _, _, ok := m.times(d, ci, next, nil)
			m.free = 0
			if !ok {
				continue
			}
			if off := m.offSpans(v, c.day, at[pos].start); off > 0 && off < least {
				least = off
				best = say.S("round.remedy.open", who, on, say.Text("stop", s.Name), say.Text("at", clockText(at[pos].start)))
			}
		}
	}
	return best
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
