package round

import "slices"

// A large week is divided: each chain has its own share of the routes, with
// their stops, and searches in there alone; then the shares are put together
// and others are drawn. A step of the search is local (it changes a few routes
// near each other), so chains that work side by side on shares do the work of
// one chain as many times as fast (Santini et al. 2023 compare ways of dividing;
// here a way is drawn anew each time).

// shareRoutes is how many routes with stops a share has at least.
const shareRoutes = 4

// apart says whether the search is to go on in shares.
func (s *search) apart(share float64) bool {
	return s.divided && (s.many == 0 || share < s.anneal)
}

// plainLarge is from how many nodes on a problem is divided in which all shifts
// cost the same. In smaller ones, chains that meet and are then crossed come to
// shorter ways.
const plainLarge = 300

// divides says whether a draft is large enough for shares.
func (s *search) divides(d *draft) bool {
	least := plainLarge
	if s.m.tried != nil {
		least = smallNodes
	}
	busy := 0
	for _, seq := range d.seq {
		if len(seq) > 0 {
			busy++
		}
	}
	return len(s.chains) > 1 && s.m.nodes >= least && busy >= shareRoutes*len(s.chains)
}

// deal gives each chain its share of the solution at hand.
func (s *search) deal() {
	s.routes, s.nodes = s.divide(&s.cur)
	for i, c := range s.chains {
		c.share(s.routes, s.nodes, int8(i))
		c.begin(&s.cur)
	}
	s.base = s.chains[0].cost
}

// gather puts the chains' shares together: what they are at, and the best of
// each.
func (s *search) gather() {
	together := func(of func(c *chain) (*draft, int64)) (*draft, int64) {
		out, cost := s.m.emptyDraft(), s.base
		for i, c := range s.chains {
			d, now := of(c)
			cost += now - s.base
			for ri, seq := range d.seq {
				if s.routes[ri] == int8(i) {
					out.seq[ri] = append(out.seq[ri], seq...)
				}
			}
			for v, f := range d.fixed {
				if s.nodes[v] == int8(i) {
					out.fixed[v] = f
				}
			}
		}
		return out, cost
	}
	best, cost := together(func(c *chain) (*draft, int64) { return &c.best, c.bestCost })
	if s.chains[0].m != s.m {
		cost = s.m.price(best)
	}
	if cost < s.cost {
		s.top, s.cost = *best, cost
	}
	var at draft
	now, _ := together(func(c *chain) (*draft, int64) { c.take(&at); return &at, c.cost })
	s.cur = *now
	s.urge()
}

// unite ends the search in shares.
func (s *search) unite() {
	s.divided = false
	s.admit(&s.top, s.cost)
	for i, c := range s.chains {
		c.m, c.stale = s.m, true
		c.whole()
		s.child(i)
	}
}

// share limits a chain to the routes and nodes that are marked as its own.
func (c *chain) share(routes, nodes []int8, own int8) {
	m := c.m
	c.mine, c.sore, c.dirty = c.mine[:0], c.sore[:0], true
	for v, of := range nodes {
		if of == own {
			c.mine = append(c.mine, int32(v))
		}
	}
	c.active = resized(c.active, len(c.routes))
	for ri, of := range routes {
		c.active[ri] = of == own
	}
	only := func(from []int32, to []int32) []int32 {
		to = to[:0]
		for _, ri := range from {
			if c.active[ri] {
				to = append(to, ri)
			}
		}
		return to
	}
	c.carsOn = resized(c.carsOn, m.days)
	for day := range m.days {
		c.carsOn[day] = only(m.carsOn[day], c.carsOn[day])
	}
	if m.tried == nil {
		return
	}
	c.tried = resized(c.tried, m.nodes)
	for _, v := range c.mine {
		c.tried[v] = only(m.tried[v], c.tried[v])
	}
}

// whole lets a chain touch everything.
func (c *chain) whole() {
	c.share(make([]int8, len(c.routes)), make([]int8, c.m.nodes), 0)
}

func resized[T any](s []T, n int) []T {
	if len(s) != n {
		return make([]T, n)
	}
	return s
}

// divide draws shares of a draft, one for each chain: of routes and of nodes.
// Routes with a job for two in common, or with a van, stay together.
func (s *search) divide(d *draft) (routes, nodes []int8) {
	m := s.m
	group := s.groups(d)
	keys := s.keys(d)
	type block struct {
		key, stops int
		routes     []int
	}
	at := map[int]int{}
	var blocks []block
	for ri := range d.seq {
		g := group(ri)
		i, ok := at[g]
		if !ok {
			i = len(blocks)
			at[g] = i
			blocks = append(blocks, block{key: keys[g]})
		}
		blocks[i].stops += len(d.seq[ri])
		blocks[i].routes = append(blocks[i].routes, ri)
	}
	slices.SortStableFunc(blocks, func(a, b block) int { return a.key - b.key })
	routes, nodes = make([]int8, len(d.seq)), make([]int8, m.nodes)
	for v := range nodes {
		nodes[v] = int8(s.rnd.below(len(s.chains))) // what has no place
		if t := m.twin[v]; t >= 0 && int(t) < v {
			nodes[v] = nodes[t]
		}
	}
	placed := 0
	for _, seq := range d.seq {
		placed += len(seq)
	}
	sum := 0
	for _, b := range blocks {
		of := int8(min((sum+b.stops/2)*len(s.chains)/max(placed, 1), len(s.chains)-1))
		sum += b.stops
		for _, ri := range b.routes {
			routes[ri] = of
			for _, v := range d.seq[ri] {
				nodes[v] = of
			}
		}
	}
	return routes, nodes
}

// groups joins routes that must be in one share.
func (s *search) groups(d *draft) (of func(int) int) {
	m := s.m
	up := make([]int, len(d.seq))
	for i := range up {
		up[i] = i
	}
	of = func(i int) int {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	for i, list := range m.rivals {
		for _, k := range list {
			up[of(i)] = of(int(k))
		}
	}
	if m.twins {
		where := make([]int, m.nodes)
		for ri, seq := range d.seq {
			for _, v := range seq {
				where[v] = ri
			}
		}
		for ri, seq := range d.seq {
			for _, v := range seq {
				if t := m.twin[v]; t >= 0 {
					up[of(ri)] = of(where[t])
				}
			}
		}
	}
	return of
}

// keys of routes, by which those that go together stand beside each other: near
// a point, of the same days, of the same people, or by chance.
func (s *search) keys(d *draft) []int {
	m := s.m
	keys := make([]int, len(d.seq))
	kind := s.rnd.below(4)
	if m.days == 1 {
		kind = 0
	}
	days, people := make([]int, m.days), make([]int, len(m.p.People))
	for i := range days {
		days[i] = s.rnd.below(1 << 20)
	}
	for i := range people {
		people[i] = s.rnd.below(1 << 20)
	}
	seed := s.rnd.below(m.nodes)
	from := func(v int) int { return int(m.drive[seed*m.points+v]) }
	for ri, seq := range d.seq {
		switch {
		case kind == 1:
			keys[ri] = days[m.cars[ri].day]
		case kind == 2:
			keys[ri] = people[m.cars[ri].person]
		case kind == 3:
			keys[ri] = s.rnd.below(1 << 20)
		case len(seq) == 0:
			keys[ri] = from(s.rnd.below(m.nodes))
		default:
			sum := 0
			for _, v := range seq {
				sum += from(int(v))
			}
			keys[ri] = sum / len(seq)
		}
	}
	return keys
}
