package round

// The ruin takes strings of neighbouring stops out of neighbouring routes (slack
// induction by string removals, Christiaens and Vanden Berghe 2020).

// Parameters of the ruin.
const (
	longest    = 10            // of a string
	splitShare = 1 << 31       // of 2^32: strings that leave some stops in their middle
	splitDepth = 1 << 32 / 100 // of 2^32: of leaving one more
	lureShare  = 1 << 31       // of 2^32: ruins that make room for a node on a shift that suits it better
)

// ruin takes nodes out; they are then at the end of c.out.
func (c *chain) ruin() {
	m := c.m
	if len(c.mine) == 0 {
		return
	}
	stops := len(c.mine) - len(c.out)
	routes := max(c.busy, 1)
	most := min(longest, max(stops/routes, 1))
	// The number is drawn from 1 to 4·meanOut/(1+most), in 64ths.
	strings := (64 + c.rnd.below(max(4*m.meanOut/(1+most)-64, 1))) / 64
	seed, limit := c.seed()
	done := 0
	var costs []int32
	if limit > 0 {
		costs = m.cost[int(seed)*len(c.routes) : (int(seed)+1)*len(c.routes)]
	}
	c.pressing = -1
	was := c.where[seed]
	if was >= 0 {
		c.ruinAt(seed, most)
		done++
	}
	switch {
	case limit > 0:
		done += c.makeRoom(seed, limit)
	case was >= 0 && m.tried != nil && c.rnd.under(lureShare):
		done += c.lure(seed, was, most)
	}
	for _, v := range m.near[seed] {
		if done >= strings {
			break
		}
		ri := c.where[v]
		if ri < 0 || !c.active[ri] || c.routes[ri].ruined || costs != nil && (costs[ri] == forbid || costs[ri] >= limit) {
			continue
		}
		c.ruinAt(v, most)
		done++
	}
	for _, ri := range c.touched {
		c.routes[ri].ruined = false
	}
	if m.twins {
		c.dropMates()
	}
}

// sore is from what cost on, above the least it could have, a node is looked
// after in particular, and soreShare, of 2^32, how often.
const (
	sore      = 5_000
	soreEvery = 128 // steps between two looks for such nodes
	soreShare = 1 << 32 / 5
)

// seed draws the node around which the ruin is. Sometimes it is one that stands
// badly; then limit is above zero, and only routes where it would cost less are
// to be ruined.
func (c *chain) seed() (v int32, limit int32) {
	m := c.m
	if m.tried == nil {
		return c.mine[c.rnd.below(len(c.mine))], 0
	}
	if c.steps%soreEvery == 1 {
		c.soreNodes()
	}
	if len(c.out) > 0 && c.rnd.under(soreShare) {
		if v = c.out[c.rnd.below(len(c.out))]; len(c.tried[v]) > 0 {
			return v, maxCost
		}
	}
	if len(c.sore) == 0 || !c.rnd.under(soreShare) {
		return c.mine[c.rnd.below(len(c.mine))], 0
	}
	v = c.sore[c.rnd.below(len(c.sore))]
	if ri := c.where[v]; ri >= 0 {
		return v, m.cost[int(v)*len(c.routes)+int(ri)] - sore + 1
	}
	return v, maxCost
}

func (c *chain) soreNodes() {
	m := c.m
	c.sore = c.sore[:0]
	for _, v := range c.mine {
		if len(c.tried[v]) == 0 {
			continue
		}
		row := m.cost[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)]
		if ri := c.where[v]; ri < 0 || row[ri]-row[c.tried[v][0]] >= sore {
			c.sore = append(c.sore, v)
		}
	}
}

// lure takes a string out of a route where a node that stood in another would
// cost less beside driving, next to the stop that is nearest to it; the node is
// then the first to be put back. Neighbours alone seldom bring together a stop
// and the round of the person whom its customer is used to. It returns how many
// routes lost a stop.
func (c *chain) lure(v, was int32, most int) int {
	m := c.m
	row := m.cost[int(v)*len(c.routes) : (int(v)+1)*len(c.routes)]
	some := 0
	for some < len(c.tried[v]) && row[c.tried[v][some]] < row[was] {
		some++
	}
	if some == 0 {
		return 0
	}
	r := &c.routes[c.tried[v][c.rnd.below(some)]]
	if r.ruined || len(r.at) == 2 {
		return 0
	}
	next, least := r.at[1].node, never
	for i := 1; i < len(r.at)-1; i++ {
		if d := m.drive[int(v)*m.points+int(r.at[i].node)]; d < least {
			next, least = r.at[i].node, d
		}
	}
	c.ruinAt(next, most)
	c.press(v)
	return 1
}

// press makes a node the first to be put back in this step; a job for two goes
// by its first.
func (c *chain) press(v int32) {
	c.pressing = v
	if t := c.m.twin[v]; t >= 0 {
		c.pressing = min(v, t)
	}
}

// dropMates takes the other half out of each job for two that lost one.
func (c *chain) dropMates() {
	for i := 0; i < len(c.out); i++ {
		v := c.out[i]
		t := c.m.twin[v]
		if t < 0 {
			continue
		}
		if c.fixed[v] >= 0 {
			c.loosen(v)
			c.loosen(t)
			c.refixed = append(c.refixed, v, t)
		}
		if ri := c.where[t]; ri >= 0 {
			c.touch(int(ri))
			r := &c.routes[ri]
			pos := 1
			for r.at[pos].node != t {
				pos++
			}
			c.cut(int(ri), pos, pos+1, pos+1, pos+1)
		}
	}
}

// ruinAt takes a string around a node out of its route.
func (c *chain) ruinAt(v int32, most int) {
	ri := int(c.where[v])
	c.touch(ri)
	r := &c.routes[ri]
	r.ruined = true
	n := len(r.at) - 2
	length := 1 + c.rnd.below(min(n, most))
	pos := 1
	for r.at[pos].node != v {
		pos++
	}
	keep := 0
	if length > 1 && length < n && c.rnd.under(splitShare) {
		keep = 1
		for length+keep < n && c.rnd.under(splitDepth) {
			keep++
		}
	}
	span := length + keep
	lo := max(1, pos-span+1)
	hi := min(pos, n-span+1)
	first := lo + c.rnd.below(hi-lo+1)
	gap := first + span // of those that stay
	if keep > 0 {
		gap = first + 1 + c.rnd.below(length-1)
	}
	if keep == 0 {
		c.cut(ri, first, gap, gap, gap)
		return
	}
	c.cut(ri, first, gap, gap+keep, first+span)
}

// drop takes a node's part out of the sums; the caller takes it out of the list.
func (c *chain) drop(v int32, ri int) {
	c.where[v] = -1
	c.out = append(c.out, v)
	c.cost += c.m.absent[v] - int64(c.m.cost[int(v)*len(c.routes)+ri])
}
