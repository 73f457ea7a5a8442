package round

import "slices"

// A pool holds good solutions that differ. Two of them are crossed: some routes
// are those of the one, and what these leave of the other's routes stands beside
// them; stops that lose their place thereby are put back by the search, which
// then anneals the child for a while (routes of two parents as in Nagata and
// Kobayashi 2010, the search in place of their local search).

// member is a solution with its cost.
type member struct {
	d    *draft
	cost int64
}

// poolMost is how many solutions are kept.
const poolMost = 8

// admit takes a solution into the pool unless it is there. It reports whether
// the pool is better for it.
func (s *search) admit(d *draft, cost int64) bool {
	at := 0
	for at < len(s.pool) && s.pool[at].cost < cost {
		at++
	}
	if at < len(s.pool) && s.pool[at].cost == cost || at >= poolMost {
		return false
	}
	s.pool = slices.Insert(s.pool, at, member{d.clone(), cost})
	if len(s.pool) > poolMost {
		s.pool = s.pool[:poolMost]
	}
	return true
}

// parents draws two members, the better ones more often for the first.
func (s *search) parents() (a, b *draft) {
	n := len(s.pool)
	i := min(s.rnd.below(n), s.rnd.below(n))
	k := s.rnd.below(n - 1)
	if k >= i {
		k++
	}
	return s.pool[i].d, s.pool[k].d
}

// cross makes a child of two solutions: routes of a near to a node, and what is
// left of b.
func (s *search) cross(a, b *draft) *draft {
	m := s.m
	routeOf := make([]int32, m.nodes)
	for v := range routeOf {
		routeOf[v] = -1
	}
	busy := 0
	for ri, seq := range a.seq {
		if len(seq) > 0 {
			busy++
		}
		for _, v := range seq {
			routeOf[v] = int32(ri)
		}
	}
	want := 1 + s.rnd.below(max(busy-1, 1))
	out := m.emptyDraft()
	from := make([]int8, m.nodes) // 1: has its place of a, 2: of b
	seed := int32(s.rnd.below(m.nodes))
	take := func(v int32) {
		ri := routeOf[v]
		if ri < 0 || want == 0 || len(out.seq[ri]) > 0 {
			return
		}
		want--
		out.seq[ri] = slices.Clone(a.seq[ri])
		for _, x := range a.seq[ri] {
			from[x] = 1
			out.fixed[x] = a.fixed[x]
		}
	}
	take(seed)
	for _, v := range m.near[seed] {
		take(v)
	}
	// Of b's routes those that lose least come first.
	type rest struct{ ri, lost, left int }
	var order []rest
	for ri, seq := range b.seq {
		r := rest{ri: ri}
		for _, v := range seq {
			if from[v] == 1 {
				r.lost++
			} else {
				r.left++
			}
		}
		if r.left > 0 && r.left >= r.lost {
			order = append(order, r)
		}
	}
	slices.SortStableFunc(order, func(x, y rest) int { return x.lost*(y.left+y.lost) - y.lost*(x.left+x.lost) })
	for _, r := range order {
		to := s.freeLike(out, r.ri)
		if to < 0 {
			continue
		}
		for _, v := range b.seq[r.ri] {
			if from[v] == 0 {
				from[v] = 2
				out.seq[to] = append(out.seq[to], v)
				out.fixed[v] = b.fixed[v]
			}
		}
	}
	for v := range int32(m.nodes) {
		if t := m.twin[v]; t > v && from[v] != from[t] {
			m.takeOut(out, v)
		}
	}
	return m.legal(out)
}

// freeLike is a shift without a stop that is like the given one, or -1.
func (s *search) freeLike(d *draft, ri int) int {
	if len(d.seq[ri]) == 0 {
		return ri
	}
	for o := range d.seq {
		if len(d.seq[o]) == 0 && s.m.cars[o].class == s.m.cars[ri].class {
			return o
		}
	}
	return -1
}
