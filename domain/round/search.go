package round

import (
	"cmp"
	"slices"
	"sync"

	"scaperound/domain/num"
)

// step ruins and mends once, and keeps what came of it or takes it back.
func (c *chain) step() {
	c.steps++
	c.was = c.cost
	c.wasOut = append(c.wasOut[:0], c.out...)
	c.touched = c.touched[:0]
	if c.m.twins {
		c.wasFix = append(c.wasFix[:0], c.fixed...)
	}
	c.recount()
	c.ruin()
	c.mend()
	if float64(c.cost) < float64(c.was)+c.temp*c.rnd.expo() {
		for _, ri := range c.touched {
			c.routes[ri].marked = false
		}
		if c.cost < c.bestCost {
			c.bestCost = c.cost
			c.take(&c.best)
		}
		return
	}
	c.back()
}

// back takes a step back.
func (c *chain) back() {
	if c.m.twins {
		for v, f := range c.wasFix {
			if c.fixed[v] == f {
				continue
			}
			c.loosen(int32(v))
		}
	}
	for _, v := range c.out {
		c.where[v] = -1
	}
	for i, ri := range c.touched {
		c.versions[ri] = c.savedVersion[i]
		r, s := &c.routes[ri], &c.saved[i]
		if (len(r.at) == 2) != (len(s.at) == 2) {
			c.dirty = true
		}
		*r, *s = *s, *r
		r.marked, r.ruined = false, false
	}
	for _, ri := range c.touched {
		at := c.routes[ri].at
		for i := 1; i < len(at)-1; i++ {
			c.where[at[i].node] = ri
		}
	}
	c.out = append(c.out[:0], c.wasOut...)
	for _, v := range c.out {
		c.where[v] = -1
	}
	if c.m.twins {
		for v, f := range c.wasFix {
			if f >= 0 && c.fixed[v] != f {
				c.hold(int32(v), c.m.cars[c.where[v]].day, f)
			}
		}
	}
	c.cost = c.was
}

// A search goes in rounds: the chains run side by side for as many steps, then
// meet. So what comes of it depends on seed, iterations and threads alone.
type search struct {
	m      *model
	o      Options
	chains []*chain
	per    int // steps of a chain in a round
	done   int // rounds' steps of each chain so far
	hot    float64
	cold   float64
	met    int
}

func newSearch(m *model, o Options, start *draft) *search {
	s := &search{m: m, o: o}
	threads := o.Threads
	if threads <= 0 {
		threads = 2
	}
	threads = min(threads, 8)
	s.per = min(max(400_000/max(m.nodes, 1), 200), 4000)
	for t := range threads {
		c := newChain(m, o.Seed*0x9e3779b97f4a7c15+uint64(t)*0xd1342543de82ef95+1)
		c.load(start)
		c.take(&c.best)
		c.bestCost = c.cost
		s.chains = append(s.chains, c)
	}
	s.temperatures()
	return s
}

// temperatures take the scale of the way between neighbours.
func (s *search) temperatures() {
	m := s.m
	sum, n := int64(0), int64(0)
	for v, near := range m.near {
		for _, o := range near[:min(len(near), 10)] {
			sum += int64(m.drive[v*m.points+int(o)])
			n++
		}
	}
	mean := float64(sum) / float64(max(n, 1))
	if m.tried != nil {
		mean *= 2 // a stop also changes day and person, which costs more than the way
	}
	s.hot = max(mean, 1)
	s.cold = max(mean/10, 0.02)
}

// run searches until it is told to stop.
func (s *search) run() {
	if s.m.nodes == 0 || len(s.m.cars) == 0 {
		return
	}
	total := s.o.Iterations
	if total <= 0 && s.o.Stop == nil {
		total = 20_000
	}
	for {
		if s.o.Stop != nil && s.o.Stop() || total > 0 && s.done >= total {
			return
		}
		share := 0.0
		switch {
		case total > 0:
			share = float64(s.done) / float64(total)
		case s.o.Done != nil:
			share = min(max(s.o.Done(), 0), 1)
		default:
			share = 1
		}
		per := s.per
		if total > 0 {
			per = min(per, total-s.done)
		}
		temp := s.hot * num.Pow(s.cold/s.hot, share)
		var wg sync.WaitGroup
		for _, c := range s.chains {
			c.temp = temp
			if len(s.chains) == 1 {
				c.rounds(per)
				continue
			}
			wg.Add(1)
			go func() {
				defer wg.Done()
				c.rounds(per)
			}()
		}
		wg.Wait()
		s.done += per
		s.meet(share)
		if s.o.Progress != nil {
			b := s.best()
			s.o.Progress(Report{Iterations: s.done * len(s.chains), Cost: b.bestCost, Unplaced: s.m.countOut(&b.best), Plan: func() Plan { return s.m.finished(&b.best) }})
		}
	}
}

func (c *chain) rounds(n int) {
	for range n {
		c.step()
	}
}

func (s *search) best() *chain {
	return slices.MinFunc(s.chains, func(a, b *chain) int { return cmp.Compare(a.bestCost, b.bestCost) })
}

// meetings is how often in the course of a search the chains compare, and
// firstMeet how much of it is over before they do: on small problems they search
// apart for longer, or both end in the same place.
func (m *model) meetings() (often, first float64) {
	if m.nodes < 150 {
		return 8, 0.5
	}
	return 20, 0.3
}

// meet lets chains that fell behind go on from where the best of them stands.
func (s *search) meet(share float64) {
	meetings, first := s.m.meetings()
	if len(s.chains) < 2 || int(share*meetings) <= s.met || share < first {
		return
	}
	s.met = int(share * meetings)
	ahead := slices.MinFunc(s.chains, func(a, b *chain) int { return cmp.Compare(a.cost, b.cost) })
	var d draft
	ahead.take(&d)
	for _, c := range s.chains {
		if c.cost > ahead.cost {
			c.load(&d)
		}
	}
}

func (m *model) countOut(d *draft) int {
	n := len(m.p.Stops)
	for _, seq := range d.seq {
		for _, v := range seq {
			if m.twin[v] < 0 || m.twin[v] > v {
				n--
			}
		}
	}
	return n
}

func (m *model) finished(d *draft) Plan {
	p := m.plan(d)
	m.explain(d, &p)
	return p
}
