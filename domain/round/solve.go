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
	s := newSearch(m, o, m.begun())
	s.run()
	best := &s.top
	m.steady(best)
	return m.finished(best)
}

// begun is a plan to begin with: the known one as far as it goes, and the rest
// put where it costs least, the most pressing first.
func (m *model) begun() *draft {
	start := m.emptyDraft()
	c := newChain(m, 0)
	if m.p.Known != nil {
		start = m.legal(m.draftOf(*m.p.Known))
	}
	c.load(start)
	c.first()
	out := &draft{}
	c.take(out)
	return out
}

// legal leaves out of a draft what breaks a rule, stop by stop.
func (m *model) legal(from *draft) *draft {
	d := m.emptyDraft()
	copy(d.fixed, from.fixed)
	for ci, seq := range from.seq {
		for _, v := range seq {
			next := append(slices.Clone(d.seq[ci]), v)
			tail := len(d.seq[ci])
			if m.cost[int(v)*len(m.cars)+ci] == forbid || m.vanTaken(d, ci) || !m.carries(d, ci, v) || tail > 0 && m.last[d.seq[ci][tail-1]] {
				continue
			}
			if _, _, _, _, ok := m.times(d, ci, next, nil); ok {
				d.seq[ci] = next
			}
		}
	}
	placed := make([]bool, m.nodes)
	for _, seq := range d.seq {
		for _, v := range seq {
			placed[v] = true
		}
	}
	for v := range int32(m.nodes) {
		if t := m.twin[v]; t >= 0 && !(placed[v] && placed[t]) {
			m.takeOut(d, v)
		}
	}
	return d
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
		if base == forbid || !m.carries(d, ci, v) || m.vanTaken(d, ci) {
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

// pairs lists where a job for two fits, for each two shifts the cheapest.
func (m *model) pairs(d *draft, a, b int32) [][]spot {
	best := map[[2]int][]spot{}
	var order [][2]int
	as, bs := m.spots(d, a, true), m.spots(d, b, true)
	for _, x := range as {
		for _, y := range bs {
			if x.car == y.car || m.oneVan(int32(x.car), int32(y.car)) || m.cars[x.car].day != m.cars[y.car].day {
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
