package round

import "slices"

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
