package round

import "slices"

// part is what one stop costs on one shift beside driving, by what is given up.
type part struct {
	urgent, due, weekday, moved, person int64
	days                                int // out of what was asked: late positive, early negative
}

func (p part) sum() int64 { return p.urgent + p.due + p.weekday + p.moved + p.person }

// partOf prices a stop on a shift. known is the person and day (from
// Problem.From) of the known plan, or nil.
func (m *model) partOf(s *Stop, c *car, known *held) part {
	var p part
	d := m.p.From.Add(c.day)
	late := int(d - s.Due)
	lateTol, earlyTol := max(s.LateDays, 0), max(s.EarlyDays, 0)
	if s.Press == Urgent {
		lateTol = 0
	}
	over := 0
	switch {
	case late > lateTol:
		over = late - lateTol
	case late < -earlyTol && s.Press == Routine:
		over = late + earlyTol
	}
	p.days = over
	size := int64(max(over, -over))
	switch {
	case over > 0 && s.Press == Urgent:
		p.urgent = size * m.w.UrgentLate
	case over > 0 && s.Press == NoSlip:
		p.due = size * m.w.SlipLate
	default:
		p.due = size * m.w.OutOfDays
	}
	switch {
	case s.Press == Urgent && late < 0: // the sooner, the better
	case s.Press == Urgent:
		p.due += int64(late) * m.w.OffDue
	default:
		p.due += int64(max(late, -late)) * m.w.OffDue
	}
	if s.Weekday.OK && d.Weekday() != s.Weekday.V {
		p.weekday = m.w.Weekday
	}
	id := m.p.People[c.person].ID
	if known != nil && (known.day != c.day || known.person != c.person && known.with != c.person) {
		p.moved = m.w.Moved
	}
	if s.Prefer != "" && s.Prefer != id {
		p.person += m.w.NotPrefer
	}
	if s.LastBy != "" && s.LastBy != id {
		p.person += m.w.NotLast
	}
	return p
}

// ofTwo is what one of the two people of a job costs: what is of the day counts
// once, what is of the people by halves.
func (p part) ofTwo(second bool) part {
	p.person /= 2
	if second {
		return part{person: p.person, moved: p.moved}
	}
	return p
}

// held is where the known plan has a stop.
type held struct{ person, with, day int }

// knownPlaces says where the known plan has each stop, by its index.
func (m *model) knownPlaces() map[int]*held {
	if m.p.Known == nil {
		return nil
	}
	out := map[int]*held{}
	for _, r := range m.p.Known.Routes {
		person, ok := m.persons[r.Person]
		if !ok {
			continue
		}
		for _, v := range r.Visits {
			i, ok := m.byStop[v.Stop]
			if !ok {
				continue
			}
			if h := out[i]; h != nil {
				h.with = person
				continue
			}
			out[i] = &held{person: person, with: -1, day: int(r.Day - m.p.From)}
		}
	}
	return out
}

// allowed says whether a person may do a stop at all.
func (m *model) allowed(s *Stop, c *car) bool {
	person := &m.p.People[c.person]
	for _, k := range s.Skills {
		if !slices.Contains(person.Skills, k) {
			return false
		}
	}
	if s.Keep.OK {
		k := s.Keep.V
		if k.Day != m.p.From.Add(c.day) {
			return false
		}
		if k.Person != "" && k.Person != person.ID && (s.People < 2 || k.With != "" && k.With != person.ID) {
			return false
		}
	}
	return m.usable(s.Place) && !slices.Contains(s.Unsuited, person.ID)
}

func (m *model) compileCosts() {
	known := m.knownPlaces()
	m.cost = make([]int32, m.nodes*len(m.cars))
	for v := range m.nodes {
		s := &m.p.Stops[m.stopOf[v]]
		for i := range m.cars {
			c := &m.cars[i]
			at := v*len(m.cars) + i
			m.cost[at] = forbid
			twice := m.byStop[s.ID] != int(m.stopOf[v])
			if twice || !m.allowed(s, c) || len(m.spansOf(int32(v), c.day)) == 0 {
				continue
			}
			p := m.partOf(s, c, known[int(m.stopOf[v])])
			if m.twin[v] >= 0 {
				p = p.ofTwo(m.twin[v] < int32(v))
			}
			m.cost[at] = int32(min(p.sum(), maxCost))
		}
	}
}

// unevenOf is what a shift with so much work costs: it grows with the square, so
// that an hour weighs more on a full day.
func (m *model) unevenOf(c *car, work Seconds) int64 {
	length := max(c.to-c.from, Hour)
	return m.w.Uneven * int64(work) * int64(work) / (2 * int64(length) * int64(Hour))
}
