package round

import "slices"

// sortOut orders the nodes to put back, by one of several measures drawn anew
// each time.
func (c *chain) sortOut() {
	if len(c.out) < 2 {
		return
	}
	m := c.m
	c.keys = c.keys[:0]
	var key func(v int32) uint32
	n := 17
	if m.tried != nil {
		n += 6
	}
	switch k := c.rnd.below(n); {
	case k < 4:
		key = func(int32) uint32 { return uint32(c.rnd.next()) }
	case k < 8:
		key = func(v int32) uint32 { return ^(uint32(m.load[v][0]) + uint32(m.work[v])) }
	case k < 10:
		key = func(v int32) uint32 { return ^m.out[v] }
	case k < 11:
		key = func(v int32) uint32 { return m.out[v] }
	case k < 13:
		key = func(v int32) uint32 { return m.width[v] }
	case k < 15:
		key = func(v int32) uint32 { return m.opens[v] }
	case k < 17:
		key = func(v int32) uint32 { return ^m.closes[v] }
	default:
		key = func(v int32) uint32 { return m.rank[v] }
	}
	for _, v := range c.out {
		c.keys = append(c.keys, uint64(key(v))<<32|uint64(uint32(v)))
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
