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
	case !open && m.onlyAway(s):
		first, last := m.awayFor(s)
		why("away", say.Day("day", first), say.Day("until", last))
	case !open && !m.thenAllowed(s):
		why("not_then")
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
	case !slices.ContainsFunc(able, func(ci int) bool { return !m.vanTaken(d, ci) }):
		why("van")
		c := &m.cars[able[0]]
		u.Remedy = say.S("round.remedy.van", say.Text("who", m.p.People[c.person].Name), say.Day("day", m.p.From.Add(c.day)))
		return
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
