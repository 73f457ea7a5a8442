package round

// load takes a draft as the solution at hand.
func (c *chain) load(d *draft) {
	m := c.m
	same := c.same(d)
	copy(c.window, m.window)
	for v := range c.where {
		c.where[v] = -1
		c.fixed[v] = -1
	}
	for ri, seq := range d.seq {
		for _, v := range seq {
			if d.fixed[v] >= 0 {
				c.hold(v, m.cars[ri].day, d.fixed[v])
			}
		}
	}
	c.cost, c.dirty = 0, true
	for ri := range c.routes {
		r := &c.routes[ri]
		car := &m.cars[ri]
		for _, v := range d.seq[ri] {
			c.where[v] = int32(ri)
			c.cost += int64(m.cost[int(v)*len(c.routes)+ri])
		}
		if !same[ri] {
			r.at = append(r.at[:0], slot{node: car.start})
			for _, v := range d.seq[ri] {
				r.at = append(r.at, slot{node: v})
			}
			r.at = append(r.at, slot{node: car.end})
			c.refresh(ri)
		}
		c.cost += c.pathCost(ri)
	}
	c.out = c.out[:0]
	for v, ri := range c.where {
		if ri < 0 {
			c.cost += m.absent[v]
		}
	}
	for _, v := range c.mine {
		if c.where[v] < 0 {
			c.out = append(c.out, v)
		}
	}
}

// same tells the routes that a draft has as they are at hand, so that what was
// reckoned of them holds.
func (c *chain) same(d *draft) []bool {
	out := make([]bool, len(c.routes))
	for ri, seq := range d.seq {
		at := c.routes[ri].at
		ok := !c.stale && len(at) == len(seq)+2
		for i := 0; ok && i < len(seq); i++ {
			ok = at[i+1].node == seq[i] && c.fixed[seq[i]] == d.fixed[seq[i]]
		}
		out[ri] = ok
	}
	c.stale = false
	return out
}

// hold fixes when a job for two begins.
func (c *chain) hold(v int32, day int, at Seconds) {
	c.fixed[v] = at
	w := &c.window[day*c.m.nodes+int(v)]
	w.lo, w.hi = at, at
}

// loosen takes that back.
func (c *chain) loosen(v int32) {
	c.fixed[v] = -1
	for day := range c.m.days {
		c.window[day*c.m.nodes+int(v)] = c.m.window[day*c.m.nodes+int(v)]
	}
}

// take writes the solution at hand into a draft.
func (c *chain) take(d *draft) {
	if d.seq == nil {
		d.seq = make([][]int32, len(c.routes))
		d.fixed = make([]Seconds, len(c.fixed))
	}
	copy(d.fixed, c.fixed)
	for ri := range c.routes {
		at := c.routes[ri].at
		s := d.seq[ri][:0]
		for i := 1; i < len(at)-1; i++ {
			s = append(s, at[i].node)
		}
		d.seq[ri] = s
	}
}
