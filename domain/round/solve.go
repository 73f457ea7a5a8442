package round

import (
	"slices"
	"strconv"
)

func itoa(n int) string { return strconv.Itoa(n) }

// Solve plans. It always ends with a plan: what cannot be placed is listed with
// the reason.
func Solve(p Problem, o Options) Plan {
	m := compile(&p)
	d := m.emptyDraft()
	for _, v := range m.order {
		if m.twin[v] >= 0 && m.twin[v] < v {
			continue
		}
		m.placeBest(d, v)
	}
	out := m.plan(d)
	m.explain(d, &out)
	return out
}

// spot is a place in a route with what it costs.
type spot struct {
	car, pos int
	start    Seconds
	cost     int64
}

// spots lists where a node fits, for each shift only the cheapest position; of
// a job for two all positions.
func (m *model) spots(d *draft, v int32, all bool) []spot {
	var out []spot
	for ci := range m.cars {
		base := m.cost[int(v)*len(m.cars)+ci]
		if base == forbid || !m.carries(d, ci, v) {
			continue
		}
		seq := d.seq[ci]
		best := spot{car: -1}
		before := int64(m.driveOf(ci, seq)) + m.unevenSeq(ci, seq)
		for pos := range len(seq) + 1 {
			if m.last[v] && pos < len(seq) || pos > 0 && m.last[seq[pos-1]] {
				continue
			}
			next := make([]int32, 0, len(seq)+1)
			next = append(append(append(next, seq[:pos]...), v), seq[pos:]...)
			at, _, _, _, ok := m.times(d, ci, next, nil)
			if !ok {
				continue
			}
			s := spot{car: ci, pos: pos, start: at[pos].start, cost: int64(base) + int64(m.driveOf(ci, next)) + m.unevenSeq(ci, next) - before}
			if all {
				out = append(out, s)
			} else if best.car < 0 || s.cost < best.cost {
				best = s
			}
		}
		if best.car >= 0 {
			out = append(out, best)
		}
	}
	return out
}

func (m *model) unevenSeq(ci int, seq []int32) int64 {
	work := Seconds(0)
	for _, v := range seq {
		work += m.work[v]
	}
	return m.unevenOf(&m.cars[ci], work)
}

// carries says whether the van has room for one more stop.
func (m *model) carries(d *draft, ci int, v int32) bool {
	sum := m.load[v]
	for _, o := range d.seq[ci] {
		sum[0] += m.load[o][0]
		sum[1] += m.load[o][1]
	}
	return sum[0] <= m.cars[ci].room[0] && sum[1] <= m.cars[ci].room[1]
}

func (m *model) put(d *draft, v int32, s spot) {
	seq := d.seq[s.car]
	next := make([]int32, 0, len(seq)+1)
	d.seq[s.car] = append(append(append(next, seq[:s.pos]...), v), seq[s.pos:]...)
}

// placeBest puts a stop where it costs least; false where it fits nowhere.
func (m *model) placeBest(d *draft, v int32) bool {
	t := m.twin[v]
	if t >= 0 {
		return m.placeTwins(d, v, t)
	}
	best := spot{car: -1}
	for _, s := range m.spots(d, v, false) {
		if best.car < 0 || s.cost < best.cost {
			best = s
		}
	}
	if best.car < 0 {
		return false
	}
	m.put(d, v, best)
	return true
}

// placeTwins puts a job for two into two people's days, to begin at the same
// time.
func (m *model) placeTwins(d *draft, a, b int32) bool {
	best := m.cheapest(d, a, 1)
	if len(best) == 0 {
		return false
	}
	m.putAll(d, a, best[0])
	return true
}

// pairs lists where a job for two fits, for each two shifts the cheapest.
func (m *model) pairs(d *draft, a, b int32) [][]spot {
	best := map[[2]int][]spot{}
	var order [][2]int
	as, bs := m.spots(d, a, true), m.spots(d, b, true)
	for _, x := range as {
		for _, y := range bs {
			if x.car == y.car || m.cars[x.car].day != m.cars[y.car].day {
				continue
			}
			key := [2]int{x.car, y.car}
			if old := best[key]; old != nil && x.cost+y.cost >= old[0].cost+old[1].cost {
				continue
			}
			s := m.begin(a, m.cars[x.car].day, max(x.start, y.start))
			if s >= never {
				continue
			}
			d.fixed[a], d.fixed[b] = s, s
			if m.fits(d, x, a) && m.fits(d, y, b) {
				if best[key] == nil {
					order = append(order, key)
				}
				x.start, y.start = s, s
				best[key] = []spot{x, y}
			}
			d.fixed[a], d.fixed[b] = -1, -1
		}
	}
	var out [][]spot
	for _, key := range order {
		out = append(out, best[key])
	}
	return out
}

func (m *model) fits(d *draft, s spot, v int32) bool {
	_, _, _, _, ok := m.times(d, s.car, slices.Insert(slices.Clone(d.seq[s.car]), s.pos, v), nil)
	return ok
}
