package round

import (
	"slices"

	q "scaperound/domain/quantity"
)

// model is a problem as the search reads it: numbers in flat lists. A node is
// one person's part of a stop, so a job for two has two nodes; after the nodes
// come the points where shifts start and end.
type model struct {
	p    *Problem
	w    Weights
	clk  clock
	said notes

	nodes                     int     // parts of stops
	points                    int     // nodes, and starts and ends
	stopOf                    []int32 // stop of a node
	twin                      []int32 // the other node of a job for two, or -1
	work                      []Seconds
	load                      [][2]int32
	last                      []bool // must be the last of its route
	absent                    []int64
	drive                     []Seconds // points*points
	metres                    []int32
	cars                      []car
	cost                      []int32   // node*len(cars)+car: what going there costs beside driving; forbid where it must not be
	spans                     []span    // times in which the work may begin
	spanOf                    []uint32  // node*Days+day: where its spans start; the next entry is their end
	order                     []int32   // nodes, the most pressing first
	rank                      []uint32  // of a node in that order
	window                    []window  // day*nodes+node, where a shift is simple
	into                      []Seconds // drive the other way round: into[b*points+a] is from a to b
	near                      [][]int32 // the other nodes, the nearest first
	kin                       [][]int32 // the other nodes that go well before or after it, the best first; where all shifts cost the same
	out, width, opens, closes []uint32  // of nodes, to sort by: the way from the first start, and windows
	keptApart                 bool
	carsOn                    [][]int32   // by day
	rivals                    [][]int32   // by shift: others that have its van at the same time; nil where there are none
	tried                     [][]int32   // by node: shifts, the cheapest first; nil where all cost the same
	half                      []int32     // of a node of a job for two: counts these
	meanOut                   int         // 64ths of a node that are taken out at a step on average
	daysOf                    [][]dayCost // by the first node of a job for two, the cheapest first
	halves                    int
	slowest                   bool // no hour is faster than pace 100
	twins                     bool
	breaks                    bool
	loads                     bool
	uneven                    bool
	days                      int
	free                      int32 // a node, plus one, that explain lets begin at any time from freeFrom on
	freeFrom                  Seconds
	byStop                    map[string]int
	persons                   map[string]int
}

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

// window is the time in which work may begin on a day, and how long it takes;
// many where not each second of it will do.
type window struct {
	lo, hi, work Seconds
	many         bool
}

// dayCost is what a job for two costs on a day at least, beside driving.
type dayCost struct {
	day           int
	least, leastA int64 // of both halves; of the first
}

// span is a time in which work may begin, both ends included.
type span struct{ lo, hi Seconds }

const forbid = int32(-1)

// maxCost bounds one stop's cost on one day, so that sums stay far from overflow.
const maxCost = 1 << 30

func compile(p *Problem) *model {
	m := &model{p: p, w: p.Weights, byStop: map[string]int{}, persons: map[string]int{}}
	if m.w == (Weights{}) {
		m.w = DefaultWeights()
	}
	m.days = min(max(p.Days, 0), 62)
	for i := range p.People {
		if _, twice := m.persons[p.People[i].ID]; !twice {
			m.persons[p.People[i].ID] = i
		}
	}
	travel := p.Travel
	if len(travel.Drive) != len(p.Places)*len(p.Places) {
		travel = GreatCircle(p.Places)
	}
	m.clk = newClock(travel.Pace)
	m.compileCars()
	m.compileRivals()
	m.compileNodes()
	m.compileDrive(travel)
	m.compileSpans()
	m.compileCosts()
	m.compileOrder()
	m.compileSearch()
	return m
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

func (m *model) usable(place int) bool {
	return place >= 0 && place < len(m.p.Places) && !m.p.Places[place].Unknown
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

func (m *model) compileNodes() {
	add := func(stop int, s *Stop) {
		m.stopOf = append(m.stopOf, int32(stop))
		m.twin = append(m.twin, -1)
		m.work = append(m.work, max(s.Work, 0))
		m.load = append(m.load, [2]int32{int32(max(s.Load.WaterL, 0)), int32(max(s.Load.Cylinders, 0))})
		m.last = append(m.last, s.KeptApart)
		weight := m.w.Unplaced
		switch s.Press {
		case Urgent:
			weight *= 8
		case NoSlip:
			weight *= 4
		}
		m.absent = append(m.absent, weight)
	}
	for i := range m.p.Stops {
		s := &m.p.Stops[i]
		if _, twice := m.byStop[s.ID]; !twice {
			m.byStop[s.ID] = i
		}
		add(i, s)
		m.loads = m.loads || s.Load.WaterL > 0 || s.Load.Cylinders > 0
		if s.People >= 2 {
			a := len(m.stopOf) - 1
			add(i, s)
			m.absent[a+1] = 0
			m.twin[a], m.twin[a+1] = int32(a+1), int32(a)
			m.twins = true
		}
	}
	m.nodes = len(m.stopOf)
}

// compileDrive lays out driving between nodes, and renumbers the places where
// shifts start and end as points behind the nodes.
func (m *model) compileDrive(t Travel) {
	places := make([]int, m.nodes)
	for v, s := range m.stopOf {
		places[v] = m.p.Stops[s].Place
	}
	point := map[int32]int32{}
	for i := range m.cars {
		c := &m.cars[i]
		for _, end := range []*int32{&c.start, &c.end} {
			at, ok := point[*end]
			if !ok {
				at = int32(len(places))
				point[*end] = at
				places = append(places, int(*end))
			}
			*end = at
		}
	}
	m.points = len(places)
	m.drive, m.metres = make([]Seconds, m.points*m.points), make([]int32, m.points*m.points)
	n := len(m.p.Places)
	for a, i := range places {
		for b, j := range places {
			if i != j && m.usable(i) && m.usable(j) {
				m.drive[a*m.points+b] = min(max(t.Drive[i*n+j], 0), 24*Hour)
				if len(t.Metres) == n*n {
					m.metres[a*m.points+b] = t.Metres[i*n+j]
				}
			}
		}
	}
}

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

func away(s *Stop, d q.Date) bool {
	return slices.ContainsFunc(s.Away, func(l Leave) bool { return l.From <= d && d <= l.To })
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

// compileOrder sorts nodes by how hard they are to place.
func (m *model) compileOrder() {
	m.order = make([]int32, m.nodes)
	ways := make([]int, m.nodes)
	for v := range m.order {
		m.order[v] = int32(v)
		for c := range m.cars {
			if m.cost[v*len(m.cars)+c] != forbid {
				ways[v]++
			}
		}
	}
	slices.SortStableFunc(m.order, func(a, b int32) int {
		pa, pb := m.p.Stops[m.stopOf[a]].Press, m.p.Stops[m.stopOf[b]].Press
		switch {
		case pa != pb:
			return int(pb - pa)
		case m.last[a] != m.last[b]:
			if m.last[a] {
				return -1
			}
			return 1
		}
		return ways[a] - ways[b]
	})
}
