package round

// Times with breaks, several windows and a pace by the hour. All of them only
// ever push the end back when the beginning is pushed back, so that the earliest
// end before a point and the latest arrival after it tell in constant time
// whether something fits between.

// beginAt is the first time not before t at which work may begin.
func (c *chain) beginAt(v int32, day int, t Seconds) Seconds {
	w := &c.window[day*c.m.nodes+int(v)]
	switch {
	case t > w.hi:
		return never
	case t <= w.lo:
		return w.lo
	case !w.many:
		return t
	}
	return c.m.begin(v, day, t)
}

// beginBy is the last time not after t at which work may begin.
func (c *chain) beginBy(v int32, day int, t Seconds) Seconds {
	w := &c.window[day*c.m.nodes+int(v)]
	switch {
	case t < w.lo:
		return beforeTime
	case t >= w.hi:
		return w.hi
	case !w.many:
		return t
	}
	spans := c.m.spansOf(v, day)
	for i := len(spans) - 1; i >= 0; i-- {
		if t >= spans[i].lo {
			return min(t, spans[i].hi)
		}
	}
	return beforeTime
}

// pair is a time with the break to come and with it behind.
type pair struct{ toCome, done Seconds }

// ends is when work at v is done, of somebody who comes from a point that is
// done at f, over a way of drive.
func (c *chain) ends(car *car, f pair, drive Seconds, v int32) pair {
	clk, work := &c.m.clk, c.m.work[v]
	out := pair{never, never}
	if !car.hasBreak {
		if b := c.beginAt(v, car.day, clk.arrive(f.done, drive)); b < never {
			out.done = b + work
		}
		return out
	}
	arrive := never
	if f.done < never {
		arrive = clk.arrive(f.done, drive)
	}
	if f.toCome < never {
		a := clk.arrive(f.toCome, drive)
		if b := c.beginAt(v, car.day, a); b < never {
			out.toCome = b + work
		}
		arrive = min(arrive, car.resting(a))
		if rested := car.resting(f.toCome); rested < never {
			arrive = min(arrive, clk.arrive(rested, drive))
		}
	}
	if arrive < never {
		if b := c.beginAt(v, car.day, arrive); b < never {
			out.done = b + work
		}
	}
	return out
}

// unrested is the last time from which a break is over by t.
func (car *car) unrested(t Seconds) Seconds {
	if t-car.bLen < car.bFrom {
		return beforeTime
	}
	return min(t-car.bLen, car.bTo)
}

// by is the last arrival at v from which a point is reached in time over a way
// of drive.
func (c *chain) by(car *car, v int32, drive Seconds, l pair) pair {
	clk, work := &c.m.clk, c.m.work[v]
	out := pair{beforeTime, beforeTime}
	if l.done > beforeTime {
		leave := clk.leave(l.done, drive)
		out.done = c.beginBy(v, car.day, leave-work)
		if !car.hasBreak {
			return out
		}
		out.toCome = max(car.unrested(out.done), c.beginBy(v, car.day, car.unrested(leave)-work))
	}
	if l.toCome > beforeTime {
		out.toCome = max(out.toCome, c.beginBy(v, car.day, clk.leave(l.toCome, drive)-work))
	}
	return out
}

// inTime says whether somebody done at f reaches a point with l over a way of
// drive.
func (c *chain) inTime(car *car, f pair, drive Seconds, l pair) bool {
	clk := &c.m.clk
	if f.done < never && clk.arrive(f.done, drive) <= l.done {
		return true
	}
	if !car.hasBreak || f.toCome >= never {
		return false
	}
	if clk.arrive(f.toCome, drive) <= l.toCome {
		return true
	}
	rested := car.resting(f.toCome)
	return rested < never && clk.arrive(rested, drive) <= l.done
}

// finish is l of the shift's end.
func (car *car) finish() pair {
	if !car.hasBreak {
		return pair{beforeTime, car.to}
	}
	return pair{max(min(car.to, car.bTo), car.unrested(car.to)), car.to}
}

func (car *car) set() pair {
	if car.hasBreak {
		return pair{car.from, never}
	}
	return pair{never, car.from}
}

// fl are f and l of a slot as pairs.
func (r *path) before(i int) pair { return pair{r.at[i].f, r.rest[i].f} }
func (r *path) after(i int) pair  { return pair{r.at[i].l, r.rest[i].l} }

// retimeRich is retimeSimple with breaks, several windows and a pace.
func (c *chain) retimeRich(r *path, car *car, from, to int) {
	for len(r.rest) < len(r.at) {
		r.rest = append(r.rest, slot2{})
	}
	f := car.set()
	r.at[0].f, r.rest[0].f = f.toCome, f.done
	end := len(r.at) - 1
	if from > 1 {
		f = r.before(from - 1)
	}
	for i := from; i < end; i++ {
		f = c.ends(car, f, Seconds(r.at[i].leg), r.at[i].node)
		if i > to && f == r.before(i) {
			break
		}
		r.at[i].f, r.rest[i].f = f.toCome, f.done
	}
	l := car.finish()
	r.at[end].l, r.rest[end].l = l.toCome, l.done
	if to < end {
		l = r.after(to + 1)
	}
	for i := min(to, end-1); i > 0; i-- {
		l = c.by(car, r.at[i].node, Seconds(r.at[i+1].leg), l)
		if i < from && l == r.after(i) {
			break
		}
		r.at[i].l, r.rest[i].l = l.toCome, l.done
	}
}
