package round

// A stop that stays without a place, or days late, while the chains' shares
// change is a hard one: an easier one should stand there in its stead, which then
// finds a place more easily. So what it costs is raised each time, for the search
// only (as absence counts of ruin and recreate, Christiaens and Vanden Berghe
// 2020, and guided local search, Voudouris and Tsang 1999, do).

const (
	wearyMost = 40 // times that are counted
	wearyPart = 16 // what a stop costs grows by the square of its times, over this
)

// urge counts stops that stand badly in the solution at hand, and raises what
// they cost.
func (s *search) urge() {
	if !s.softened() || s.chains[0].m == s.m {
		return
	}
	if s.weary == nil {
		s.weary = make([]int64, s.m.nodes)
	}
	for _, v := range s.badly() {
		if s.weary[v] < wearyMost {
			s.weary[v]++
			s.weigh(s.chains[0].m, v)
			for _, c := range s.chains {
				c.forget(int32(v))
			}
		}
	}
}

// badly lists the nodes that stand badly in the solution at hand: without a
// place, or with one that costs far more than another would.
func (s *search) badly() (list []int) {
	where := make([]int, s.m.nodes)
	for ri, seq := range s.cur.seq {
		for _, v := range seq {
			where[v] = ri + 1
		}
	}
	for v, ri := range where {
		if least, ok := s.least(v); ok && (ri == 0 || s.m.cost[v*len(s.m.cars)+ri-1]-least >= sore) {
			list = append(list, v)
		}
	}
	return list
}

// least is what a node costs where it costs least; ok is false where it must not
// be anywhere.
func (s *search) least(v int) (cost int32, ok bool) {
	if len(s.m.tried[v]) == 0 {
		return 0, false
	}
	return s.m.cost[v*len(s.m.cars)+int(s.m.tried[v][0])], true
}

// weigh sets what a node costs in the search's model.
func (s *search) weigh(soft *model, v int) {
	m := s.m
	raise := func(c int64) int64 { return c + c*s.weary[v]*s.weary[v]/wearyPart }
	soft.absent[v] = raise(light(m.absent[v], s.limit))
	least, _ := s.least(v)
	for i := v * len(m.cars); i < (v+1)*len(m.cars); i++ {
		if c := m.cost[i]; c != forbid && c-least >= sore {
			soft.cost[i] = int32(min(raise(light(int64(c), s.limit)), maxCost))
		}
	}
}

// forget drops what a node was reckoned to cost in each route.
func (c *chain) forget(v int32) {
	clear(c.offers[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)])
	if c.m.twin[v] < 0 {
		return
	}
	half := int(c.m.half[v]) * len(c.routes)
	for i := range c.mates[half : half+len(c.routes)] {
		c.mates[half+i].version = 0
	}
}
