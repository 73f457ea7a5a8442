package round

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// nearest is how many other nodes a node is a neighbour of in the search.
const nearest = 120

// kindred is how many others a node is tried beside, where there are many routes.
const kindred = 60

// compileSearch adds what only the search needs.
func (m *model) compileSearch() {
	single := make([]bool, m.days)
	m.window = make([]window, m.days*m.nodes)
	for day := range m.days {
		single[day] = true
		for v := range int32(m.nodes) {
			w := window{lo: 1, hi: 0, work: m.work[v]}
			spans := m.spansOf(v, day)
			if len(spans) > 0 {
				w.lo, w.hi = spans[0].lo, spans[len(spans)-1].hi
			}
			w.many = len(spans) > 1
			single[day] = single[day] && len(spans) <= 1
			m.window[day*m.nodes+int(v)] = w
		}
	}
	for v := range m.last {
		m.keptApart = m.keptApart || m.last[v]
	}
	for i := range m.cars {
		c := &m.cars[i]
		c.simple = !c.hasBreak && m.clk.flat && single[c.day]
	}
	m.compileClasses()
	m.into = m.drive
	turned := make([]Seconds, len(m.drive))
	for a := range m.points {
		for b := range m.points {
			turned[b*m.points+a] = m.drive[a*m.points+b]
		}
	}
	if !slices.Equal(turned, m.drive) {
		m.into = turned
	}
	m.slowest = true
	for _, p := range m.clk.parts {
		m.slowest = m.slowest && p <= partsPerS
	}
	m.half = make([]int32, m.nodes)
	for v := range m.half {
		if m.twin[v] >= 0 {
			m.half[v] = int32(m.halves)
			m.halves++
		}
	}
	m.carsOn = make([][]int32, m.days)
	for i := range m.cars {
		m.carsOn[m.cars[i].day] = append(m.carsOn[m.cars[i].day], int32(i))
	}
	m.compileDays()
	m.compileTried()
	m.meanOut = 64 * 10
	if m.nodes < smallNodes {
		m.meanOut = 64 * 17 / 2
	}
	m.compileNear()
	m.compileKeys()
	m.compileChoice()
}

// compileDays orders the days for each job for two by what they cost at least.
func (m *model) compileDays() {
	m.daysOf = make([][]dayCost, m.nodes)
	least := func(v int32, day int) int64 {
		out := int64(noOffer)
		for _, ci := range m.carsOn[day] {
			if c := m.cost[int(v)*len(m.cars)+int(ci)]; c != forbid {
				out = min(out, int64(c))
			}
		}
		return out
	}
	for a := range int32(m.nodes) {
		b := m.twin[a]
		if b < a {
			continue
		}
		for day := range m.days {
			x, y := least(a, day), least(b, day)
			if x < int64(noOffer) && y < int64(noOffer) {
				m.daysOf[a] = append(m.daysOf[a], dayCost{day, x + y, x})
			}
		}
		slices.SortStableFunc(m.daysOf[a], func(x, y dayCost) int { return cmp.Compare(x.least, y.least) })
	}
}

// compileTried orders the shifts for each node by what it costs there beside
// driving, so that the dear ones are mostly never looked at.
func (m *model) compileTried() {
	if !slices.ContainsFunc(m.cost, func(c int32) bool { return c != 0 }) {
		return
	}
	m.tried = make([][]int32, m.nodes)
	for v := range m.tried {
		row := m.cost[v*len(m.cars) : (v+1)*len(m.cars)]
		for i, c := range row {
			if c != forbid {
				m.tried[v] = append(m.tried[v], int32(i))
			}
		}
		slices.SortStableFunc(m.tried[v], func(a, b int32) int { return int(row[a] - row[b]) })
	}
}

// compileClasses finds shifts that are alike, so that of those without a stop
// only one is tried.
func (m *model) compileClasses() {
	seen := map[string]int32{}
	var key []byte
	for i := range m.cars {
		c := &m.cars[i]
		key = key[:0]
		for _, n := range []int32{int32(c.day), int32(c.from), int32(c.to), c.start, c.end, c.room[0], c.room[1], int32(c.bFrom), int32(c.bTo), int32(c.bLen)} {
			key = binary.LittleEndian.AppendUint32(key, uint32(n))
		}
		for v := range m.nodes {
			key = binary.LittleEndian.AppendUint32(key, uint32(m.cost[v*len(m.cars)+i]))
		}
		if m.rivals != nil && len(m.rivals[i]) > 0 {
			key = binary.LittleEndian.AppendUint32(key, uint32(i)+1)
		}
		class, ok := seen[string(key)]
		if !ok {
			class = int32(len(seen))
			seen[string(key)] = class
		}
		c.class = class
	}
}

func (m *model) compileNear() {
	m.near = m.neighbours(nearest, func(v, o int32) Seconds {
		return m.drive[int(v)*m.points+int(o)] + m.drive[int(o)*m.points+int(v)]
	})
	if m.tried != nil {
		return
	}
	// Of two stops one after the other, waiting counts a fifth and being late in
	// full (Vidal et al. 2013, the better of both orders).
	after := func(v, o int32) Seconds {
		a, b, d := &m.window[v], &m.window[o], m.drive[int(v)*m.points+int(o)]
		return d + max(b.lo-a.work-d-a.hi, 0)/5 + max(a.lo+a.work+d-b.hi, 0)
	}
	m.kin = m.neighbours(kindred, func(v, o int32) Seconds { return min(after(v, o), after(o, v)) })
}

// neighbours lists for each node the others that are nearest by some measure.
func (m *model) neighbours(most int, measure func(v, o int32) Seconds) [][]int32 {
	type far struct {
		way  Seconds
		node int32
	}
	out := make([][]int32, m.nodes)
	list := make([]far, 0, m.nodes)
	for v := range int32(m.nodes) {
		list = list[:0]
		for o := range int32(m.nodes) {
			if o != v {
				list = append(list, far{measure(v, o), o})
			}
		}
		slices.SortFunc(list, func(a, b far) int {
			if a.way != b.way {
				return int(a.way - b.way)
			}
			return int(a.node - b.node)
		})
		out[v] = make([]int32, min(len(list), most))
		for i := range out[v] {
			out[v][i] = list[i].node
		}
	}
	return out
}

// compileKeys are measures by which nodes are put back in order.
func (m *model) compileKeys() {
	m.out, m.width = make([]uint32, m.nodes), make([]uint32, m.nodes)
	m.opens, m.closes = make([]uint32, m.nodes), make([]uint32, m.nodes)
	for v := range m.nodes {
		if len(m.cars) > 0 {
			m.out[v] = uint32(m.drive[int(m.cars[0].start)*m.points+v])
		}
		lo, hi, width := never, Seconds(0), Seconds(0)
		for day := range m.days {
			for _, s := range m.spansOf(int32(v), day) {
				lo, hi, width = min(lo, s.lo+Seconds(day)*24*Hour), max(hi, s.hi+Seconds(day)*24*Hour), width+s.hi-s.lo
			}
		}
		m.opens[v], m.closes[v], m.width[v] = uint32(lo), uint32(hi), uint32(width)
	}
}
