package round

// rest says whether a break is behind: times with it to come and with it done
// are kept side by side, and each is the earliest that can be.
const (
	toCome = 0
	done   = 1
)

// draft is a solution: the nodes of each shift in order, and when a job for two
// begins.
type draft struct {
	seq   [][]int32
	fixed []Seconds // by node; -1 where nothing is fixed
}

func (m *model) emptyDraft() *draft {
	d := &draft{seq: make([][]int32, len(m.cars)), fixed: make([]Seconds, m.nodes)}
	for v := range d.fixed {
		d.fixed[v] = -1
	}
	return d
}

// beginFixed is begin, for a node that may be one of a job for two.
func (m *model) beginFixed(d *draft, v int32, day int, t Seconds) Seconds {
	if m.free == v+1 {
		return max(t, m.freeFrom)
	}
	if f := d.fixed[v]; f >= 0 {
		if t > f {
			return never
		}
		return f
	}
	return m.begin(v, day, t)
}

// resting is when a break that begins not before t is over; never where it is
// too late for one.
func (c *car) resting(t Seconds) Seconds {
	if begin := max(t, c.bFrom); begin <= c.bTo {
		return begin + c.bLen
	}
	return never
}

// timed is when a node of a route is reached, begun and done.
type timed struct{ arrive, start, done, rest Seconds } // rest: when a break begins before the node; -1

// times works a route out, second by second, and is the only place that does so
// for what people see. The break is taken where the day ends earliest. back is
// when the end point is reached, restEnd when a break begins on the last way or
// at the end. ok is false where the hours or a window do not hold; the times
// are then those of somebody who does it all the same, begun as soon as there.
func (m *model) times(d *draft, ci int, seq []int32, out []timed) (list []timed, leave, back, restEnd Seconds, ok bool) {
	c := &m.cars[ci]
	n := len(seq)
	type state struct {
		t      Seconds // done
		broken bool
		rest   Seconds // where a break was taken just before this node
		from   int8
		at     timed
	}
	// Forward: for each node, the best with the break to come and behind.
	states := make([][2]state, n+1)
	cur := [2]state{{t: c.from}, {t: never}}
	if !c.hasBreak {
		cur = [2]state{{t: never}, {t: c.from}}
	}
	prev := c.start
	step := func(at Seconds, v int32, rest Seconds, from int8) state {
		s := state{rest: rest, from: from}
		begin := m.beginFixed(d, v, c.day, at)
		if begin >= never {
			begin = max(at, d.fixed[v])
			if d.fixed[v] >= 0 && at > d.fixed[v] {
				begin = at
			}
			s.broken = true
		}
		s.at = timed{arrive: at, start: begin, done: begin + m.work[v], rest: rest}
		s.t = s.at.done
		return s
	}
	better := func(a, b state) state {
		if a.t >= never || b.t < never && (a.broken && !b.broken || a.broken == b.broken && b.t < a.t) {
			return b
		}
		return a
	}
	for i, v := range seq {
		drive := m.drive[int(prev)*m.points+int(v)]
		var next [2]state
		next[toCome].t, next[done].t = never, never
		if cur[toCome].t < never {
			arrive := m.clk.arrive(cur[toCome].t, drive)
			next[toCome] = step(arrive, v, -1, toCome)
			if over := c.resting(arrive); over < never {
				s := step(over, v, over-c.bLen, toCome)
				s.at.arrive = arrive
				next[done] = better(next[done], s)
			}
			if over := c.resting(cur[toCome].t); over < never {
				next[done] = better(next[done], step(m.clk.arrive(over, drive), v, over-c.bLen, toCome))
			}
			next[toCome].broken = next[toCome].broken || cur[toCome].broken
			if next[done].t < never {
				next[done].broken = next[done].broken || cur[toCome].broken
			}
		}
		if cur[done].t < never {
			s := step(m.clk.arrive(cur[done].t, drive), v, -1, done)
			s.broken = s.broken || cur[done].broken
			next[done] = better(next[done], s)
		}
		states[i] = next
		cur, prev = next, v
	}
	drive := m.drive[int(prev)*m.points+int(c.end)]
	back, restEnd = never, -1
	end := int8(done)
	if cur[done].t < never {
		back = m.clk.arrive(cur[done].t, drive)
		ok = !cur[done].broken
	}
	if cur[toCome].t < never {
		home := m.clk.arrive(cur[toCome].t, drive)
		consider := func(b, rest Seconds) {
			good := !cur[toCome].broken
			if back >= never || good && !ok || good == ok && b < back {
				back, restEnd, end, ok = b, rest, toCome, good
			}
		}
		if home <= c.bTo || n == 0 {
			consider(home, -1)
		}
		if over := c.resting(home); over < never {
			consider(over, over-c.bLen)
		}
		if over := c.resting(cur[toCome].t); over < never {
			consider(m.clk.arrive(over, drive), over-c.bLen)
		}
		if back >= never { // no time for a break at all
			back, end, ok = home, toCome, false
		}
	}
	ok = ok && back <= c.to
	for len(out) < n {
		out = append(out, timed{})
	}
	out = out[:n]
	for i := n - 1; i >= 0; i-- {
		s := states[i][end]
		out[i] = s.at
		end = s.from
	}
	leave = c.from
	if n > 0 {
		leave = m.lateLeave(c, seq[0], &out[0])
	}
	return out, leave, back, restEnd, ok
}

// lateLeave lets nobody wait before the first stop: the start is left as late as
// that stop's beginning allows.
func (m *model) lateLeave(c *car, v int32, first *timed) Seconds {
	if first.rest >= 0 || first.start <= first.arrive {
		return c.from
	}
	drive := m.drive[int(c.start)*m.points+int(v)]
	leave := max(m.clk.leave(first.start, drive), c.from)
	first.arrive = m.clk.arrive(leave, drive)
	return leave
}
