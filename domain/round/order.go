package round

import "slices"

// measure is what nodes that have no place are put back in the order of.
type measure uint8

const (
	byChance   measure = iota
	bySize             // work and load, the largest first
	byFarness          // from the first start, the farthest first
	byNearness         // the nearest first
	byWidth            // of all windows together, the narrowest first
	byOpening          // the earliest first
	byClosing          // the latest first
	byScarcity         // of what suits it, the least first
	aboutWidth         // with some chance in it
	aboutScarcity
)

// Which measure is drawn how often. Where stops are routed only, each has its
// share; in a week, what has the least to choose from mostly has to come first:
// measured on made-up weeks, a step then finds something cheaper a third to a
// half as often again as in an order by chance, and somewhat more often than in
// that by windows.
var (
	plainOrders = [...]measure{
		byChance, byChance, byChance, byChance, bySize, bySize, bySize, bySize, byFarness, byFarness,
		byNearness, byWidth, byWidth, byOpening, byOpening, byClosing, byClosing,
	}
	weekOrders = [...]measure{
		aboutScarcity, aboutScarcity, aboutScarcity, aboutScarcity, aboutScarcity, byScarcity,
		byChance, byChance, bySize, byFarness, aboutWidth,
	}
)

// sortOut orders the nodes to put back, by a measure drawn anew each time.
func (c *chain) sortOut() {
	if len(c.out) < 2 {
		return
	}
	by := plainOrders[:]
	if c.m.tried != nil {
		by = weekOrders[:]
	}
	drawn := by[c.rnd.below(len(by))]
	c.keys = c.keys[:0]
	for _, v := range c.out {
		c.keys = append(c.keys, uint64(c.key(drawn, v))<<32|uint64(uint32(v)))
	}
	if len(c.keys) > 30 {
		slices.Sort(c.keys)
	} else {
		for i := 1; i < len(c.keys); i++ {
			x := c.keys[i]
			j := i
			for ; j > 0 && c.keys[j-1] > x; j-- {
				c.keys[j] = c.keys[j-1]
			}
			c.keys[j] = x
		}
	}
	for i, k := range c.keys {
		c.out[i] = int32(uint32(k))
	}
	if c.pressing >= 0 {
		if i := slices.Index(c.out, c.pressing); i > 0 {
			copy(c.out[1:i+1], c.out[:i])
			c.out[0] = c.pressing
		}
	}
}

// key is what a node is put back by, the lowest first.
func (c *chain) key(by measure, v int32) uint32 {
	m := c.m
	switch by {
	case bySize:
		return ^(uint32(m.load[v][0]) + uint32(m.work[v]))
	case byFarness:
		return ^m.out[v]
	case byNearness:
		return m.out[v]
	case byWidth:
		return m.width[v]
	case byOpening:
		return m.opens[v]
	case byClosing:
		return ^m.closes[v]
	case byScarcity:
		return m.choice[v]
	case aboutWidth:
		return c.about(m.width[v])
	case aboutScarcity:
		return c.about(m.choice[v])
	}
	return uint32(c.rnd.next())
}

// about is between a half and one and a half of x, which is below 2^31.
func (c *chain) about(x uint32) uint32 {
	return uint32(uint64(x) * uint64(c.rnd.below(1024)+512) >> 10)
}

// compileChoice reckons what suits each node: the time in which it can be begun
// on shifts where it costs little more than at best, for the time that it takes.
func (m *model) compileChoice() {
	const (
		most = 1 << 31
		each = 10 * Minute // that a stop of no work takes too
	)
	m.choice = make([]uint32, m.nodes)
	if m.tried == nil {
		return
	}
	for v, tried := range m.tried {
		sum := uint64(0)
		row := m.cost[v*len(m.cars) : (v+1)*len(m.cars)]
		for _, ri := range tried {
			if row[ri]-row[tried[0]] >= sore {
				break
			}
			car := &m.cars[ri]
			for _, s := range m.spansOf(int32(v), car.day) {
				sum += uint64(max(0, min(s.hi, car.to-m.work[v])-max(s.lo, car.from)))
			}
		}
		m.choice[v] = uint32(min(sum*uint64(Hour)/uint64(m.work[v]+each), most-1))
	}
}
