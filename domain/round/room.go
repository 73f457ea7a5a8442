package round

// makeRoom takes out of a shift, or of two for a job for two, what stands where
// a node that is without a place, or stands badly, could go; the node is then
// the first to be put back. A stop that must be the last of its day is given the
// rest of it. Only shifts that cost less than limit are thought of. It returns
// how many routes lost a stop.
func (c *chain) makeRoom(v, limit int32) int {
	m := c.m
	t := m.twin[v]
	c.press(v)
	row := m.cost[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)]
	some := 0
	for some < len(c.tried[v]) && row[c.tried[v][some]] < limit {
		some++
	}
	if some == 0 {
		return 0
	}
	// The cheaper shifts are drawn more often.
	ri := c.tried[v][c.rnd.below(1+c.rnd.below(some))]
	day := m.cars[ri].day
	spans := m.spansOf(v, day)
	if len(spans) == 0 {
		return 0
	}
	s := spans[c.rnd.below(len(spans))]
	car := &m.cars[ri]
	lo, hi := max(s.lo, car.from), min(s.hi, car.to-m.work[v])
	if lo > hi {
		return 0
	}
	oi := int32(-1)
	if t >= 0 {
		oi = c.second(t, ri)
	}
	if oi >= 0 {
		other := &m.cars[oi]
		if a, b := max(lo, other.from), min(hi, other.to-m.work[t]); a <= b {
			lo, hi = a, b
		}
	}
	at := lo + Seconds(c.rnd.below(int(hi-lo)+1))
	n := c.clearOut(ri, at, v)
	if oi >= 0 {
		n += c.clearOut(oi, at, t)
	}
	return n
}

// second draws the shift of the other half of a job for two, of those on the
// same day that may have it; -1 where there is none.
func (c *chain) second(t, ri int32) int32 {
	m, out, n := c.m, int32(-1), 0
	for _, oi := range c.carsOn[m.cars[ri].day] {
		if oi == ri || m.cost[int(t)*len(c.routes)+int(oi)] == forbid || m.oneVan(ri, oi) {
			continue
		}
		if n++; c.rnd.below(n) == 0 {
			out = oi
		}
	}
	return out
}

// clearOut takes the stops out of a route that lie where v would be done from at
// on, as far as the earliest times tell. It returns 1 where there were any.
func (c *chain) clearOut(ri int32, at Seconds, v int32) int {
	m, r := c.m, &c.routes[ri]
	end := len(r.at) - 1
	if end < 2 || r.ruined {
		return 0
	}
	until := at + m.work[v]
	if m.last[v] {
		until = never
	}
	first, past := 0, 0
	for i := 1; i < end; i++ {
		f := r.at[i].f
		if !r.simple {
			f = min(f, r.rest[i].f)
		}
		x := r.at[i].node
		if f+m.drive[int(x)*m.points+int(v)] <= at && !(m.last[v] && m.last[x]) {
			continue
		}
		if f-m.work[x] >= until {
			break
		}
		if first == 0 {
			first = i
		}
		past = i + 1
	}
	if first == 0 {
		return 0
	}
	c.touch(int(ri))
	r.ruined = true
	c.cut(int(ri), first, past, past, past)
	return 1
}
