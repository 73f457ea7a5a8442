package round

import "slices"

// A chain is one search: a solution that is ruined and mended again and again.
// Everything it touches at each step lies in flat lists that are its own.
type chain struct {
	m   *model
	rnd chance

	routes   []path
	where    []int32   // route of a node; -1 without a place
	fixed    []Seconds // as in draft
	window   []window  // as in the model, but for jobs for two
	offers   []offer   // node*len(routes)+route: the best places there, for a version of the route
	version  uint32
	versions []uint32 // of each route; changes whenever the route does

	out   []int32 // nodes without a place, of mine
	cost  int64   // of the solution at hand
	temp  float64
	steps int

	touched      []int32 // routes changed in this step
	saved        []path  // as they were
	savedVersion []uint32
	wasOut       []int32
	wasFix       []Seconds
	refixed      []int32 // nodes of jobs for two whose beginning was fixed or loosened in this step
	was          int64

	best     draft
	bestCost int64
	noted    int64 // the best that was priced last by the problem's weights

	// What it may touch: all, or its share of it, see share.
	mine   []int32   // nodes
	active []bool    // routes
	tried  [][]int32 // as in the model, of active routes
	carsOn [][]int32 // as in the model, of active routes
	stale  bool      // costs are others than those that offers were reckoned with

	pressing int32      // the node that goes back first in this step, or -1
	sore     []int32    // nodes that stand badly
	keys     []uint64   // for sorting
	mates    []mateList // of halves of jobs for two: half*len(routes)+route
	used     []int32    // routes with stops, and one empty one of each class
	dirty    bool       // used is out of date
	busy     int        // routes with stops
	seen     []bool     // by class
	spare    []int32    // of used those without a stop
	list     []int32
	stamp    uint32
	stamps   []uint32 // by route
}

// path is one route at hand. at[0] and the last are the ends of the shift.
type path struct {
	at     []slot
	rest   []slot2  // where the shift has a break
	load   [2]int32 // taken out of the van
	room   [2]int32 // left in it
	work   Seconds
	uneven int64    // what so much work costs
	window []window // of all nodes on the shift's day
	simple bool
	bare   bool // it costs nothing beside driving
	marked bool // saved in this step
	ruined bool
}

// slot is a point of a route.
type slot struct {
	node int32
	leg  int32   // the way from the point before
	f    Seconds // the work is done not before; with a break: which is still to come
	l    Seconds // latest arrival from which the rest can be kept; with a break: still to come
}

// slot2 is f and l with the break behind.
type slot2 struct{ f, l Seconds }

// offer is what the two best places of a node in a route cost, of those that
// cost less than limit, for one version of the route.
type offer struct {
	version uint32
	limit   int32
	cost    [2]int32
	pos     [2]uint16
}

const noOffer = int32(1<<31 - 1)

func newChain(m *model, seed uint64) *chain {
	c := &chain{m: m, rnd: chance{seed}}
	r := len(m.cars)
	c.routes = make([]path, r)
	c.offers = make([]offer, m.nodes*r)
	c.versions = make([]uint32, r)
	c.where = make([]int32, m.nodes)
	c.fixed = make([]Seconds, m.nodes)
	c.window = slices.Clone(m.window)
	c.seen, c.stamps = make([]bool, r), make([]uint32, r)
	c.mates = make([]mateList, m.halves*r)
	for i := range c.routes {
		p, car := &c.routes[i], &m.cars[i]
		p.window, p.simple = c.window[car.day*m.nodes:(car.day+1)*m.nodes], car.simple
		p.bare = m.tried == nil && !m.uneven && !m.keptApart && car.simple
	}
	c.whole()
	c.load(m.emptyDraft())
	return c
}

// pathCost is driving and unevenness of a route, from its legs.
func (c *chain) pathCost(ri int) int64 {
	r := &c.routes[ri]
	if len(r.at) == 2 {
		return 0
	}
	sum := int64(0)
	for i := range r.at {
		sum += int64(r.at[i].leg)
	}
	if c.m.uneven {
		sum += r.uneven
	}
	return sum
}

// refresh works a whole route out: legs, times, load, work; and gives it a new
// version.
func (c *chain) refresh(ri int) {
	m, r := c.m, &c.routes[ri]
	r.load, r.work = [2]int32{}, 0
	for i := 1; i < len(r.at); i++ {
		v := r.at[i].node
		r.at[i].leg = int32(m.drive[int(r.at[i-1].node)*m.points+int(v)])
		if i < len(r.at)-1 {
			r.load[0] += m.load[v][0]
			r.load[1] += m.load[v][1]
			r.work += m.work[v]
		}
	}
	if len(r.at) == 2 {
		r.at[1].leg = 0
	}
	c.retime(ri, 1, len(r.at)-1)
}

// cut takes the slots from first to before gap, and from again to before past,
// out of a route; those between stay.
func (c *chain) cut(ri, first, gap, again, past int) {
	m, r := c.m, &c.routes[ri]
	c.cost -= c.pathCost(ri)
	take := func(from, to int) {
		for i := from; i < to; i++ {
			v := r.at[i].node
			c.drop(v, ri)
			r.load[0] -= m.load[v][0]
			r.load[1] -= m.load[v][1]
			r.work -= m.work[v]
		}
	}
	take(first, gap)
	take(again, past)
	kept := again - gap
	copy(r.at[first:], r.at[gap:again])
	r.at = r.at[:first+kept+copy(r.at[first+kept:], r.at[past:])]
	if !r.simple {
		copy(r.rest[first:], r.rest[gap:again])
		r.rest = r.rest[:first+kept+copy(r.rest[first+kept:], r.rest[past:])]
	}
	for _, i := range [2]int{first, first + kept} {
		r.at[i].leg = int32(m.drive[int(r.at[i-1].node)*m.points+int(r.at[i].node)])
	}
	if len(r.at) == 2 {
		r.at[1].leg = 0
		c.dirty = true
	}
	c.retime(ri, first, first+kept-1)
	c.cost += c.pathCost(ri)
}

// retime works times out forward from a position and backward from another, and
// gives the route a new version.
func (c *chain) retime(ri, from, to int) {
	c.version++
	r := &c.routes[ri]
	c.versions[ri] = c.version
	car := &c.m.cars[ri]
	r.room = [2]int32{car.room[0] - r.load[0], car.room[1] - r.load[1]}
	if c.m.uneven {
		r.uneven = c.m.unevenOf(car, r.work)
	}
	if car.simple {
		c.retimeSimple(r, car, from, to)
		return
	}
	c.retimeRich(r, car, from, to)
}

// retimeSimple is for a shift without a break, at one pace, where each stop has
// one window.
func (c *chain) retimeSimple(r *path, car *car, from, to int) {
	m := c.m
	base := car.day * m.nodes
	at := r.at
	at[0].f = car.from
	f := at[from-1].f
	end := len(at) - 1
	for i := from; i < end; i++ {
		v := at[i].node
		w := &c.window[base+int(v)]
		f = max(f+Seconds(at[i].leg), w.lo) + w.work
		if i > to && f == at[i].f {
			break
		}
		at[i].f = f
	}
	at[end].l = car.to
	l := car.to
	if to < end {
		l = at[to+1].l
	}
	for i := min(to, end-1); i > 0; i-- {
		w := &c.window[base+int(at[i].node)]
		l = min(l-Seconds(at[i+1].leg)-w.work, w.hi)
		if i < from && l == at[i].l {
			break
		}
		at[i].l = l
	}
}
