package round

import "slices"

// Where a week is tight, something of what was ruined stays over at most steps.
// It may then take the place of a stop that has more to choose from, which looks
// for another one (ejection, as of Nagata and Bräysy 2009).

// ejectSpare is how much less a stop costs elsewhere, as a rule, than where it is
// ejected: dearer shifts are not looked at.
const ejectSpare = 4000

// place puts a node where it costs least, or in the place of another that finds
// one itself, and returns which of them is without; -1 for none. least is what
// the solution costs at least if the node stays out, see mend.
func (c *chain) place(v int32, least, ceiling int64) int32 {
	was := c.cost
	if c.insertBest(v, ceiling-least+c.m.absent[v]) {
		return -1
	}
	if c.m.tried == nil || c.stays(v) {
		return v
	}
	u := c.eject(v, ceiling-least)
	if u < 0 {
		return v
	}
	least += c.cost - was
	if c.insertBest(u, ceiling-least+c.m.absent[u]) {
		return -1
	}
	return u
}

// stays says whether a node had no place before this step and is not to eject
// another: at each step it would be too often.
func (c *chain) stays(v int32) bool {
	const often = 1 << 32 / 8
	return slices.Contains(c.wasOut, v) && !c.rnd.under(often)
}

// eject puts a node in the place of one that has more to choose from, where that
// costs least, the other one being where it costs least beside driving, and less
// than dearer. It returns the other one; -1 if there is none.
func (c *chain) eject(v int32, dearer int64) int32 {
	m := c.m
	row := m.cost[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)]
	in := m.into[int(v)*m.points : (int(v)+1)*m.points]
	out := m.drive[int(v)*m.points : (int(v)+1)*m.points]
	best, bestRi, bestPos := dearer+m.absent[v], int32(-1), 0
	for _, ri := range c.tried[v] {
		base := int64(row[ri])
		if base-ejectSpare >= best {
			break
		}
		r, car := &c.routes[ri], &m.cars[ri]
		first, end := 1, len(r.at)-1
		if m.last[v] {
			first = max(end-1, 1)
		}
		for i := first; i < end; i++ {
			p, q := &r.at[i-1], &r.at[i+1]
			u := r.at[i].node
			if m.choice[u] <= m.choice[v] || m.twin[u] >= 0 || len(c.tried[u]) == 0 {
				continue
			}
			if m.load[v][0] > r.room[0]+m.load[u][0] || m.load[v][1] > r.room[1]+m.load[u][1] {
				continue
			}
			of := m.cost[int(u)*len(c.routes) : (int(u)+1)*len(c.routes)]
			cost := base + int64(int32(in[p.node])+int32(out[q.node])-r.at[i].leg-q.leg) + int64(of[c.tried[u][0]]-of[ri])
			if cost >= best {
				continue
			}
			if m.uneven {
				if cost += m.unevenOf(car, r.work+m.work[v]-m.work[u]) - r.uneven; cost >= best {
					continue
				}
			}
			if !c.fitsBetween(r, car, v, i-1, i+1) || c.rnd.under(blink) {
				continue
			}
			best, bestRi, bestPos = cost, ri, i
		}
	}
	if bestRi < 0 {
		return -1
	}
	return c.replace(v, int(bestRi), bestPos)
}

// replace puts a node in the place of another, and returns that.
func (c *chain) replace(v int32, ri, pos int) int32 {
	c.touch(ri)
	m, r := c.m, &c.routes[ri]
	u := r.at[pos].node
	c.cost -= c.pathCost(ri)
	c.cost += m.absent[u] - int64(m.cost[int(u)*len(c.routes)+ri])
	c.cost -= m.absent[v] - int64(m.cost[int(v)*len(c.routes)+ri])
	c.where[u], c.where[v] = -1, int32(ri)
	r.at[pos].node = v
	r.at[pos].leg = int32(m.drive[int(r.at[pos-1].node)*m.points+int(v)])
	r.at[pos+1].leg = int32(m.drive[int(v)*m.points+int(r.at[pos+1].node)])
	r.load[0] += m.load[v][0] - m.load[u][0]
	r.load[1] += m.load[v][1] - m.load[u][1]
	r.work += m.work[v] - m.work[u]
	c.retime(ri, pos, pos)
	c.cost += c.pathCost(ri)
	return u
}
