package round

// price finds the two cheapest places of a node in a route, of those that cost
// less than limit.
func (c *chain) price(v int32, ri int, o *offer, limit int32) {
	m, r := c.m, &c.routes[ri]
	*o = offer{version: c.versions[ri], limit: limit, cost: [2]int32{noOffer, noOffer}}
	if l := &m.load[v]; l[0] > r.room[0] || l[1] > r.room[1] {
		return
	}
	if r.bare && len(r.at) > 2 {
		c.priceSimple(v, r, o, 1, len(r.at)-1, limit)
		return
	}
	car := &m.cars[ri]
	base := m.cost[int(v)*len(c.routes)+ri]
	if base == forbid {
		return
	}
	if m.uneven {
		base += int32(m.unevenOf(car, r.work+m.work[v]) - r.uneven)
	}
	if limit -= base; limit <= 0 {
		return
	}
	first, end := 1, len(r.at)-1
	if end > 1 && m.keptApart {
		if tail := r.at[end-1].node; m.last[tail] {
			if m.last[v] {
				return
			}
			end--
		}
	}
	if m.last[v] {
		first = end
	}
	switch {
	case len(r.at) == 2:
		way := int32(m.drive[int(car.start)*m.points+int(v)] + m.drive[int(v)*m.points+int(car.end)])
		if way >= limit || !c.fitsBetween(r, car, v, 0, 1) {
			return
		}
		o.cost[0], o.pos[0] = way, 1
	case r.simple:
		c.priceSimple(v, r, o, first, end, limit)
	default:
		c.priceRich(v, r, car, o, first, end, limit)
	}
	for k := range o.cost {
		if o.cost[k] != noOffer {
			o.cost[k] += base
		}
	}
}

func (c *chain) priceSimple(v int32, r *path, o *offer, first, end int, limit int32) {
	m := c.m
	in := m.into[int(v)*m.points : (int(v)+1)*m.points]
	out := m.drive[int(v)*m.points : (int(v)+1)*m.points]
	w := r.window[v]
	one, two := limit, limit // one is below it only with a place
	onePos, twoPos := 0, 0
	at := r.at[:end+1]
	p := &at[first-1]
	for i := first; i < len(at); i++ {
		q := &at[i]
		f := p.f
		if f > w.hi {
			break
		}
		dp, dq := in[p.node], out[q.node]
		p = q
		d := int32(dp) + int32(dq) - q.leg
		if d >= two {
			continue
		}
		f += dp
		if f > w.hi || max(f, w.lo)+w.work+dq > q.l {
			continue
		}
		if d < one {
			one, two = d, one
			onePos, twoPos = i, onePos
		} else {
			two, twoPos = d, i
		}
	}
	o.pos = [2]uint16{uint16(onePos), uint16(twoPos)}
	if onePos > 0 {
		o.cost[0] = one
	}
	if twoPos > 0 {
		o.cost[1] = two
	}
}

func (c *chain) priceRich(v int32, r *path, car *car, o *offer, first, end int, limit int32) {
	m := c.m
	in := m.into[int(v)*m.points : (int(v)+1)*m.points]
	out := m.drive[int(v)*m.points : (int(v)+1)*m.points]
	w := c.window[car.day*m.nodes+int(v)]
	for i := first; i <= end; i++ {
		p, q := &r.at[i-1], &r.at[i]
		dp, dq := in[p.node], out[q.node]
		d := int32(dp) + int32(dq) - q.leg
		if d >= limit {
			continue
		}
		if m.slowest {
			// What no pace and no break can make good.
			f := min(p.f, r.rest[i-1].f)
			if f > w.hi {
				break
			}
			if f += dp; f > w.hi || max(f, w.lo)+w.work+dq > max(q.l, r.rest[i].l) {
				continue
			}
		}
		f := c.ends(car, r.before(i-1), dp, v)
		if !c.inTime(car, f, dq, r.after(i)) {
			continue
		}
		if d < o.cost[0] {
			o.cost[1], o.pos[1] = o.cost[0], o.pos[0]
			o.cost[0], o.pos[0] = d, uint16(i)
		} else {
			o.cost[1], o.pos[1] = d, uint16(i)
		}
		limit = min(limit, o.cost[1])
	}
}

// fitsBetween says whether a node fits between two slots, in the stead of those
// that are between them.
func (c *chain) fitsBetween(r *path, car *car, v int32, before, after int) bool {
	m := c.m
	p, q := &r.at[before], &r.at[after]
	dp, dq := m.drive[int(p.node)*m.points+int(v)], m.drive[int(v)*m.points+int(q.node)]
	if car.simple {
		b := c.beginAt(v, car.day, p.f+dp)
		return b < never && b+m.work[v]+dq <= q.l
	}
	f := c.ends(car, r.before(before), dp, v)
	return c.inTime(car, f, dq, r.after(after))
}

// insert puts a node before the slot pos of a route.
func (c *chain) insert(v int32, ri, pos int) {
	c.touch(ri)
	m, r := c.m, &c.routes[ri]
	r.at = append(r.at, slot{})
	copy(r.at[pos+1:], r.at[pos:])
	q := &r.at[pos+1]
	if !r.simple {
		r.rest = append(r.rest, slot2{})
		copy(r.rest[pos+1:], r.rest[pos:])
	}
	r.at[pos] = slot{node: v, leg: int32(m.drive[int(r.at[pos-1].node)*m.points+int(v)])}
	q.leg = int32(m.drive[int(v)*m.points+int(q.node)])
	r.load[0] += m.load[v][0]
	r.load[1] += m.load[v][1]
	r.work += m.work[v]
	c.where[v] = int32(ri)
	c.retime(ri, pos, pos)
}

// touch keeps a route as it was before this step.
func (c *chain) touch(ri int) {
	r := &c.routes[ri]
	if r.marked {
		return
	}
	r.marked = true
	c.touched = append(c.touched, int32(ri))
	if len(c.saved) < len(c.touched) {
		c.saved = append(c.saved, path{})
		c.savedVersion = append(c.savedVersion, 0)
	}
	c.savedVersion[len(c.touched)-1] = c.versions[ri]
	s := &c.saved[len(c.touched)-1]
	at, rest := append(s.at[:0], r.at...), append(s.rest[:0], r.rest...)
	*s = *r
	s.at, s.rest = at, rest
}
