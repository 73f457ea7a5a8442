package round

import "slices"

// mate is a place for one half of a job for two: it can begin from lo to hi
// there (within the stop's own times).
type mate struct {
	cost   int32
	ri     int32
	pos    int32
	lo, hi Seconds
}

// mateList are the places of a half in a route, the cheapest first, for one
// version of the route.
type mateList struct {
	version uint32
	list    []mate
}

// insertMates puts a job for two into two routes of one day, where it costs
// least, and fixes when it begins.
func (c *chain) insertMates(a, b int32) bool {
	m := c.m
	best := m.absent[a] + m.absent[b]
	var at [2]mate
	var begin Seconds
	rowA, rowB := m.cost[int(a)*len(c.routes):(int(a)+1)*len(c.routes)], m.cost[int(b)*len(c.routes):(int(b)+1)*len(c.routes)]
	for _, d := range m.daysOf[a] {
		if d.least >= best {
			break
		}
		day := d.day
		cars := c.carsOn[day]
		least := int64(noOffer)
		for _, ri := range cars {
			if d.leastA+int64(rowB[ri]) >= best || c.vanTaken(ri) {
				continue
			}
			if l := c.matesIn(b, ri); len(l) > 0 {
				least = min(least, int64(l[0].cost))
			}
		}
		for _, xi := range cars {
			if int64(rowA[xi])+least >= best || c.vanTaken(xi) {
				continue
			}
			xs := c.matesIn(a, xi)
			if len(xs) == 0 || int64(xs[0].cost)+least >= best {
				continue
			}
			for _, yi := range cars {
				ys := c.matesIn(b, yi)
				if xi == yi || len(ys) == 0 || c.vanTaken(yi) || m.oneVan(xi, yi) || int64(xs[0].cost)+int64(ys[0].cost) >= best {
					continue
				}
				if sum, x, y, s := c.meet(a, day, xs, ys, best); sum < best && !c.rnd.under(blink) {
					best, at, begin = sum, [2]mate{x, y}, s
				}
			}
		}
	}
	if at[0].pos == 0 {
		return false
	}
	day := m.cars[at[0].ri].day
	c.hold(a, day, begin)
	c.hold(b, day, begin)
	c.refixed = append(c.refixed, a, b)
	c.insert(a, int(at[0].ri), int(at[0].pos))
	c.insert(b, int(at[1].ri), int(at[1].pos))
	c.dirty = true
	c.cost += best - m.absent[a] - m.absent[b]
	return true
}

// meet finds the cheapest places of two routes in which both halves can begin at
// the same time.
func (c *chain) meet(a int32, day int, xs, ys []mate, best int64) (int64, mate, mate, Seconds) {
	var x, y mate
	var begin Seconds
	for i := range xs {
		if int64(xs[i].cost)+int64(ys[0].cost) >= best {
			break
		}
		for k := range ys {
			sum := int64(xs[i].cost) + int64(ys[k].cost)
			if sum >= best {
				break
			}
			lo, hi := max(xs[i].lo, ys[k].lo), min(xs[i].hi, ys[k].hi)
			if lo > hi {
				continue
			}
			if s := c.m.begin(a, day, lo); s <= hi {
				best, x, y, begin = sum, xs[i], ys[k], s
				break
			}
		}
	}
	return best, x, y, begin
}

// matesIn lists the places of one half in a route, the cheapest first.
func (c *chain) matesIn(v, ri int32) []mate {
	m := c.m
	r, kept := &c.routes[ri], &c.mates[int(m.half[v])*len(c.routes)+int(ri)]
	if kept.version == c.versions[ri] {
		return kept.list
	}
	kept.version = c.versions[ri]
	to, car := kept.list[:0], &m.cars[ri]
	kept.list = to
	base := m.cost[int(v)*len(c.routes)+int(ri)]
	if base == forbid || r.load[0]+m.load[v][0] > car.room[0] || r.load[1]+m.load[v][1] > car.room[1] {
		return nil
	}
	if m.uneven {
		base += int32(m.unevenOf(car, r.work+m.work[v]) - r.uneven)
	}
	first, end := 1, len(r.at)-1
	if end > 1 && m.last[r.at[end-1].node] {
		if m.last[v] {
			return nil
		}
		end--
	}
	if m.last[v] {
		first = end
	}
	for i := first; i <= end; i++ {
		to = c.matesBetween(to, mate{ri: ri, pos: int32(i), cost: base}, v, r, car)
	}
	slices.SortStableFunc(to, func(a, b mate) int { return int(a.cost) - int(b.cost) })
	kept.list = to
	return to
}

func (c *chain) matesBetween(to []mate, x mate, v int32, r *path, car *car) []mate {
	m := c.m
	i := int(x.pos)
	p, q := &r.at[i-1], &r.at[i]
	dp, dq := m.drive[int(p.node)*m.points+int(v)], m.drive[int(v)*m.points+int(q.node)]
	x.cost += int32(dp) + int32(dq)
	if len(r.at) > 2 {
		x.cost -= q.leg
	}
	add := func(lo, hi Seconds) {
		x.lo, x.hi = lo, c.beginBy(v, car.day, hi)
		if lo < never && x.lo <= x.hi {
			to = append(to, x)
		}
	}
	if car.simple {
		add(c.beginAt(v, car.day, p.f+dp), q.l-dq-m.work[v])
		return to
	}
	if m.slowest {
		w := &r.window[v]
		f := min(p.f, r.rest[i-1].f) + dp
		if f > w.hi || max(f, w.lo)+w.work+dq > max(q.l, r.rest[i].l) {
			return to
		}
	}
	f, l := c.ends(car, r.before(i-1), dp, v), c.by(car, v, dq, r.after(i))
	if f.done < never {
		add(f.done-m.work[v], l.done)
	}
	if f.toCome < never {
		// Its break may still come on the way on, but not before the work.
		leave := pair{r.at[i].l, beforeTime}
		late := beforeTime
		if leave.toCome > beforeTime {
			late = m.clk.leave(leave.toCome, dq)
		}
		if after := r.after(i).done; after > beforeTime {
			late = max(late, car.unrested(m.clk.leave(after, dq)))
		}
		add(f.toCome-m.work[v], late-m.work[v])
	}
	return to
}
