package round

import (
	"slices"

	q "scaperound/domain/quantity"
)

// span is a time in which work may begin, both ends included.
type span struct{ lo, hi Seconds }

// compileSpans says when the work of each node may begin on each day.
func (m *model) compileSpans() {
	m.spanOf = make([]uint32, m.nodes*m.days+1)
	for v := range m.nodes {
		s := &m.p.Stops[m.stopOf[v]]
		for day := range m.days {
			m.spanOf[v*m.days+day] = uint32(len(m.spans))
			m.spans = appendSpans(m.spans, s, m.p.From.Add(day))
		}
	}
	m.spanOf[m.nodes*m.days] = uint32(len(m.spans))
}

func appendSpans(to []span, s *Stop, d q.Date) []span {
	if away(s, d) || s.NotBefore.OK && d < s.NotBefore.V || s.NotAfter.OK && d > s.NotAfter.V {
		return to
	}
	lo, hi := Seconds(0), 24*Hour-max(s.Work, 0)
	if s.Promised.OK {
		if s.Promised.V.Day != d {
			return to
		}
		lo, hi = max(lo, s.Promised.V.From), min(hi, s.Promised.V.To)
	}
	if s.Keep.OK {
		if s.Keep.V.Day != d {
			return to
		}
		if s.Keep.V.Start.OK {
			lo, hi = max(lo, s.Keep.V.Start.V), min(hi, s.Keep.V.Start.V)
		}
	}
	first := len(to)
	if len(s.Windows) == 0 && lo <= hi {
		return append(to, span{lo, hi})
	}
	for _, w := range s.Windows {
		if w.Day.OK && w.Day.V != d || !w.Day.OK && w.Weekday != d.Weekday() {
			continue
		}
		if a, b := max(lo, w.From), min(hi, w.To-s.Work); a <= b {
			to = append(to, span{a, b})
		}
	}
	slices.SortFunc(to[first:], func(a, b span) int { return int(a.lo - b.lo) })
	// Spans that touch are one.
	end := first
	for i := first; i < len(to); i++ {
		if end > first && to[i].lo <= to[end-1].hi+1 {
			to[end-1].hi = max(to[end-1].hi, to[i].hi)
			continue
		}
		to[end] = to[i]
		end++
	}
	return to[:end]
}

func away(s *Stop, d q.Date) bool {
	return slices.ContainsFunc(s.Away, func(l Leave) bool { return l.From <= d && d <= l.To })
}

// spansOf are the times of a node's beginning on a day.
func (m *model) spansOf(v int32, day int) []span {
	at := int(v)*m.days + day
	return m.spans[m.spanOf[at]:m.spanOf[at+1]]
}

// begin is the first time not before t at which the work may begin.
func (m *model) begin(v int32, day int, t Seconds) Seconds {
	for _, s := range m.spansOf(v, day) {
		if t <= s.hi {
			return max(t, s.lo)
		}
	}
	return never
}
