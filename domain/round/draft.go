package round

import (
	"slices"

	q "scaperound/domain/quantity"
)

// draftOf reads a plan back. Stops and shifts that the problem lacks are left
// out, and so is a job for two without both of its people.
func (m *model) draftOf(p Plan) *draft {
	d := m.emptyDraft()
	count := map[string]int{}
	for _, r := range p.Routes {
		for _, v := range r.Visits {
			count[v.Stop]++
		}
	}
	used := make([]bool, m.nodes)
	for _, r := range p.Routes {
		ci := m.carOf(r.Person, r.Day)
		if ci < 0 {
			continue
		}
		for _, v := range r.Visits {
			node, ok := m.nodeOf(v.Stop)
			if !ok {
				continue
			}
			if t := m.twin[node]; t >= 0 {
				if count[v.Stop] != 2 {
					continue
				}
				if used[node] {
					node = t
				}
				d.fixed[node] = v.Start
			}
			if used[node] {
				continue
			}
			used[node] = true
			d.seq[ci] = append(d.seq[ci], node)
		}
	}
	for v := range int32(m.nodes) {
		if t := m.twin[v]; t > v && used[v] != used[t] {
			m.takeOut(d, v)
		}
	}
	return d
}

func (m *model) carOf(person string, day q.Date) int {
	return slices.IndexFunc(m.cars, func(c car) bool {
		return m.p.People[c.person].ID == person && m.p.From.Add(c.day) == day
	})
}

func (m *model) nodeOf(stop string) (int32, bool) {
	i, ok := m.byStop[stop]
	if !ok {
		return 0, false
	}
	return int32(slices.Index(m.stopOf, int32(i))), true
}

func (d *draft) clone() *draft {
	out := &draft{seq: make([][]int32, len(d.seq)), fixed: slices.Clone(d.fixed)}
	for i, s := range d.seq {
		out.seq[i] = slices.Clone(s)
	}
	return out
}

// takeOut takes a stop, with both of its nodes, out of a draft.
func (m *model) takeOut(d *draft, v int32) {
	for i := range d.seq {
		d.seq[i] = slices.DeleteFunc(d.seq[i], func(x int32) bool { return x == v || x == m.twin[v] })
	}
	d.fixed[v] = -1
	if t := m.twin[v]; t >= 0 {
		d.fixed[t] = -1
	}
}

// moved is a draft after a move.
func (m *model) moved(d *draft, mv Move) (*draft, bool) {
	v, ok := m.nodeOf(mv.Stop)
	if !ok {
		return nil, false
	}
	out := d.clone()
	m.takeOut(out, v)
	if mv.Out {
		return out, true
	}
	ci := m.carOf(mv.Person, mv.Day)
	if ci < 0 {
		return nil, false
	}
	pos := 0
	if mv.After != "" {
		after := slices.IndexFunc(out.seq[ci], func(x int32) bool { return m.p.Stops[m.stopOf[x]].ID == mv.After })
		if after < 0 {
			return nil, false
		}
		pos = after + 1
	}
	out.seq[ci] = slices.Insert(out.seq[ci], pos, v)
	if t := m.twin[v]; t >= 0 {
		return out, m.second(out, v, t, ci, pos, mv)
	}
	return out, true
}

// second gives a job for two its second person: the one who is named, else the
// one with whom it costs least. What breaks no rule comes first.
func (m *model) second(d *draft, a, b int32, ci, pos int, mv Move) bool {
	at, _, _, _, _ := m.times(d, ci, d.seq[ci], nil)
	earliest := at[pos].start
	best := spot{car: -1}
	fewest := 0
	var begin Seconds
	for o := range m.cars {
		if m.cars[o].day != m.cars[ci].day || o == ci || mv.With != "" && m.p.People[m.cars[o].person].ID != mv.With {
			continue
		}
		seq := d.seq[o]
		was, unable := int64(m.driveOf(o, seq))+m.unevenSeq(o, seq), m.unable(d, o, b)
		for p := range len(seq) + 1 {
			next := slices.Insert(slices.Clone(seq), p, b)
			t, _, _, _, _ := m.times(d, o, next, nil)
			s := max(earliest, t[p].start)
			if fits := m.begin(a, m.cars[o].day, s); fits < never {
				s = fits
			}
			d.fixed[a], d.fixed[b] = s, s
			_, _, _, _, ok1 := m.times(d, ci, d.seq[ci], nil)
			_, _, _, _, ok2 := m.times(d, o, next, nil)
			d.fixed[a], d.fixed[b] = -1, -1
			cost := int64(m.driveOf(o, next)) + m.unevenSeq(o, next) - was
			if c := m.cost[int(b)*len(m.cars)+o]; c != forbid {
				cost += int64(c)
			}
			broken := unable
			for _, bad := range []bool{!ok1, !ok2, m.last[b] && p < len(seq), p > 0 && m.last[seq[p-1]]} {
				if bad {
					broken++
				}
			}
			if best.car < 0 || broken < fewest || broken == fewest && cost < best.cost {
				best, fewest, begin = spot{car: o, pos: p, cost: cost}, broken, s
			}
		}
	}
	if best.car < 0 {
		return false
	}
	d.fixed[a], d.fixed[b] = begin, begin
	d.seq[best.car] = slices.Insert(d.seq[best.car], best.pos, b)
	return true
}

// unable counts why somebody cannot take a node on, whenever it is.
func (m *model) unable(d *draft, ci int, v int32) int {
	n := 0
	for _, bad := range []bool{m.cost[int(v)*len(m.cars)+ci] == forbid, !m.carries(d, ci, v), m.vanTaken(d, ci)} {
		if bad {
			n++
		}
	}
	return n
}
