package round

import (
	"slices"

	q "scaperound/domain/quantity"
)

// car is one person's shift.
type car struct {
	person     int
	day        int // from Problem.From
	from, to   Seconds
	start, end int32 // points
	room       [2]int32
	hasBreak   bool
	bFrom, bTo Seconds
	bLen       Seconds
	van        string
	simple     bool  // no break, one pace, one window for each stop
	class      int32 // shifts that are alike in everything have the same
}

// shiftOf is the shift of a person on a day.
func shiftOf(p *Person, d q.Date) (Shift, bool) {
	for _, s := range p.Special {
		if s.Day == d {
			return s, s.To > s.From
		}
	}
	for _, l := range p.Leave {
		if l.From <= d && d <= l.To {
			return Shift{}, false
		}
	}
	for _, h := range p.Hours {
		if h.Weekday == d.Weekday() {
			s := h.Shift
			s.Day = d
			return s, s.To > s.From
		}
	}
	return Shift{}, false
}

func (m *model) compileCars() {
	for day := range m.days {
		for i := range m.p.People {
			person := &m.p.People[i]
			if m.persons[person.ID] != i {
				continue
			}
			s, ok := shiftOf(person, m.p.From.Add(day))
			if !ok {
				continue
			}
			if !m.usable(s.Start) || !m.usable(s.End) {
				m.said.noStart(person, m.p.From.Add(day))
				continue
			}
			c := car{person: i, day: day, from: s.From, to: s.To, start: int32(s.Start), end: int32(s.End), van: s.Van, room: [2]int32{1 << 28, 1 << 28}}
			if s.Break.Length > 0 {
				c.hasBreak, c.bFrom, c.bTo, c.bLen = true, s.Break.From, max(s.Break.To, s.Break.From), s.Break.Length
				m.breaks = true
			}
			if v := slices.IndexFunc(m.p.Vans, func(v Van) bool { return v.ID == s.Van }); v >= 0 && s.Van != "" {
				c.room = [2]int32{int32(m.p.Vans[v].Carries.WaterL), int32(m.p.Vans[v].Carries.Cylinders)}
			} else if s.Van != "" {
				m.said.noVan(person, s.Van)
			}
			m.cars = append(m.cars, c)
		}
	}
	if len(m.cars) == 0 {
		m.said.nobody()
	}
	m.uneven = m.w.Uneven > 0
}

func (m *model) usable(place int) bool {
	return place >= 0 && place < len(m.p.Places) && !m.p.Places[place].Unknown
}
