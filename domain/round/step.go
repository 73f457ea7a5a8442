package round

import "math"

// begin takes up a draft anew.
func (c *chain) begin(d *draft) {
	c.load(d)
	c.take(&c.best)
	c.bestCost = c.cost
}

func (c *chain) rounds(n int) {
	for range n {
		c.step()
	}
}

// step ruins and mends once, and keeps what came of it or takes it back.
func (c *chain) step() {
	c.steps++
	c.was = c.cost
	c.wasOut = append(c.wasOut[:0], c.out...)
	c.touched = c.touched[:0]
	if c.m.twins {
		c.wasFix = append(c.wasFix[:0], c.fixed...)
		c.refixed = c.refixed[:0]
	}
	c.recount()
	c.ruin()
	if c.mend(c.was + int64(math.Ceil(c.temp*c.rnd.expo()))) {
		for i, ri := range c.touched {
			c.routes[ri].marked = false
			if c.unchanged(&c.routes[ri], &c.saved[i]) {
				c.versions[ri] = c.savedVersion[i]
			}
		}
		if c.cost < c.bestCost {
			c.bestCost = c.cost
			c.take(&c.best)
		}
		return
	}
	c.back()
}

// unchanged says whether a route is again as it was before this step, so that
// what was reckoned of it holds.
func (c *chain) unchanged(r, was *path) bool {
	if len(r.at) != len(was.at) || len(c.refixed) > 0 {
		return false
	}
	for i := range r.at {
		if r.at[i].node != was.at[i].node {
			return false
		}
	}
	return true
}

// back takes a step back.
func (c *chain) back() {
	if c.m.twins {
		for _, v := range c.refixed {
			c.loosen(v)
		}
	}
	for _, v := range c.out {
		c.where[v] = -1
	}
	for i, ri := range c.touched {
		c.versions[ri] = c.savedVersion[i]
		r, s := &c.routes[ri], &c.saved[i]
		if (len(r.at) == 2) != (len(s.at) == 2) {
			c.dirty = true
		}
		*r, *s = *s, *r
		r.marked, r.ruined = false, false
	}
	for _, ri := range c.touched {
		at := c.routes[ri].at
		for i := 1; i < len(at)-1; i++ {
			c.where[at[i].node] = ri
		}
	}
	c.out = append(c.out[:0], c.wasOut...)
	for _, v := range c.out {
		c.where[v] = -1
	}
	if c.m.twins {
		for _, v := range c.refixed {
			if f := c.wasFix[v]; f >= 0 {
				c.hold(v, c.m.cars[c.where[v]].day, f)
			}
		}
	}
	c.cost = c.was
}
