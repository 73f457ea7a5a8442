package round

import (
	"math"
	"slices"
)

// blink is how often, of 2^32, a place that looks best is passed over.
const blink = 1 << 32 / 100

// recount lists the routes that are tried: all with stops, and of those without
// one of each class.
func (c *chain) recount() {
	if !c.dirty {
		return
	}
	c.dirty = false
	c.used = c.used[:0]
	c.spare = c.spare[:0]
	c.busy = 0
	clear(c.seen)
	for ri := range c.routes {
		if !c.active[ri] {
			continue
		}
		if len(c.routes[ri].at) > 2 {
			c.busy++
		} else if class := c.m.cars[ri].class; c.seen[class] {
			continue
		} else {
			c.seen[class] = true
			c.spare = append(c.spare, int32(ri))
		}
		c.used = append(c.used, int32(ri))
	}
}

// mend puts nodes without a place back, one after the other, each where it
// costs least, and says whether the solution then costs less than ceiling. As
// soon as it cannot, nothing more is put back: the step is to be taken back.
func (c *chain) mend(ceiling int64) bool {
	c.sortOut()
	least := c.cost // of what can come of it
	for _, v := range c.out {
		least -= c.hope(v)
	}
	left := c.out[:0]
	for _, v := range c.out {
		if least >= ceiling {
			return false
		}
		was, t := c.cost, c.m.twin[v]
		switch {
		case t < 0:
			least += c.hope(v)
			if u := c.place(v, least, ceiling); u >= 0 {
				left = append(left, u)
			}
		case t > v: // the first half of a job for two takes the other along
			least += c.hope(v) + c.hope(t)
			if !c.insertMates(v, t) {
				left = append(left, v)
			}
		case c.where[v] < 0:
			left = append(left, v)
		}
		least += c.cost - was
	}
	c.out = left
	if c.m.twins {
		c.out = slices.DeleteFunc(c.out, func(v int32) bool { return c.where[v] >= 0 })
	}
	return c.cost < ceiling
}

// hope is how much less a solution costs at most when a node has a place.
func (c *chain) hope(v int32) int64 {
	switch {
	case c.m.tried == nil:
		return c.m.absent[v]
	case len(c.tried[v]) == 0:
		return 0
	}
	return c.m.absent[v] - int64(c.m.cost[int(v)*len(c.routes)+int(c.tried[v][0])])
}

// first puts nodes back in the order of how hard they are to place.
func (c *chain) first() {
	c.touched = c.touched[:0]
	for _, v := range c.m.order {
		t := c.m.twin[v]
		switch {
		case c.where[v] >= 0:
		case t < 0:
			c.insertBest(v, math.MaxInt64)
		case t > v:
			c.insertMates(v, t)
		}
	}
	for _, ri := range c.touched {
		c.routes[ri].marked = false
	}
	c.out = slices.DeleteFunc(c.out, func(v int32) bool { return c.where[v] >= 0 })
}

// manyRoutes is from how many routes on a node is tried only where its neighbours
// are, and among all routes only if that is in vain.
const manyRoutes = 14

// insertBest puts a node where it costs least, if that is less than limit and
// than to leave it out.
func (c *chain) insertBest(v int32, limit int64) bool {
	c.recount()
	m := c.m
	best := min(limit, m.absent[v])
	ri, pos := int32(-1), uint16(0)
	switch {
	case m.tried != nil:
		best, ri, pos = c.bestOf(v, best, c.tried[v], m.cost[int(v)*len(c.routes):(int(v)+1)*len(c.routes)])
	case len(c.used) < manyRoutes:
		best, ri, pos = c.bestOf(v, best, c.used, nil)
	default:
		if best, ri, pos = c.bestOf(v, best, c.around(v), nil); ri < 0 {
			best, ri, pos = c.bestOf(v, best, c.used, nil)
		}
	}
	if ri < 0 {
		return false
	}
	c.dirty = c.dirty || len(c.routes[ri].at) == 2
	c.insert(v, int(ri), int(pos))
	c.cost += best - m.absent[v]
	return true
}

// around lists the routes of a node's neighbours, and those without a stop.
func (c *chain) around(v int32) []int32 {
	c.stamp++
	list := append(c.list[:0], c.spare...)
	for _, u := range c.m.kin[v] {
		if ri := c.where[u]; ri >= 0 && c.active[ri] && c.stamps[ri] != c.stamp {
			c.stamps[ri] = c.stamp
			list = append(list, ri)
		}
	}
	c.list = list
	return list
}

// bestOf finds the cheapest place for a node in some routes, of those that cost
// less than limit; with costs the routes are in the order of what the node costs
// there at least.
func (c *chain) bestOf(v int32, limit int64, list, costs []int32) (best int64, ri int32, pos uint16) {
	best, ri = limit, -1
	offers := c.offers[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)]
	versions := c.versions
	var passing offer
	for _, r := range list {
		if costs != nil && int64(costs[r]) >= best {
			break
		}
		if c.vanTaken(r) {
			continue
		}
		o, below := &offers[r], int32(min(best, int64(noOffer)))
		if c.routes[r].marked {
			// What was reckoned of the route as it was before this step is kept.
			o = &passing
			o.version = 0
		}
		if o.version != versions[r] || o.cost[0] == noOffer && o.limit < below {
			c.price(v, int(r), o, below)
		}
		for k := range o.cost {
			if int64(o.cost[k]) >= best || o.cost[k] == noOffer {
				break
			}
			if !c.rnd.under(blink) {
				best, ri, pos = int64(o.cost[k]), r, o.pos[k]
				break
			}
		}
	}
	return best, ri, pos
}
