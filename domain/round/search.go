package round

import (
	"cmp"
	"slices"
	"sync"

	"scaperound/domain/num"
)

// Parameters of the search. Steps are those of one chain, for each node.
const (
	annealShare = 0.4  // of the search: annealing from the start, before solutions are crossed
	annealSteps = 1200 // that one annealing of a small problem takes at least, where there are several
	manyMost    = 4    // annealings from the start of a chain
	smallNodes  = 150  // below so many nodes a problem is small
	crossFrom   = 40   // with fewer steps for each node, times the nodes, there is one annealing and no crossing
	childSteps  = 600  // a child is annealed for so many
	dealSteps   = 3000 // of a chain with its share, at least, before shares are drawn anew
	warmth      = 0.3  // where it begins: 0 as hot as at the start, 1 as cold as at the end
)

// A search goes in rounds: the chains run side by side for as many steps, then
// meet. At first each chain anneals from the start, on small problems several
// times over; then what the best of these end in is crossed, see pool. So what
// comes of it depends on seed, iterations and threads alone.
type search struct {
	m      *model
	o      Options
	rnd    chance
	start  *draft
	chains []*chain
	jobs   []job // one for each chain
	pool   []member
	top    draft // the best of all
	cost   int64
	per    int // steps of a chain in a round
	done   int // rounds' steps of each chain so far
	hot    float64
	cold   float64
	warm   float64 // where a child's annealing begins
	met    int
	staged int     // see stage
	limit  float64 // above which costs are light, 0 for none
	weary  []int64 // by node: see urge

	divided       bool   // the chains have shares, see deal
	cur           draft  // the solution that is divided
	base          int64  // what it costs
	routes, nodes []int8 // whose share they are in

	many   int     // annealings of each chain from the start, one after the other; 0: not settled yet
	anneal float64 // share of the search that they take
}

// job is what a chain is at: a whole annealing, by the share of the time gone,
// or a child's, by its steps.
type job struct {
	number     int // of annealings from the start
	child      bool
	done, long int // steps
}

func newSearch(m *model, o Options, start *draft) *search {
	s := &search{m: m, o: o, start: start, rnd: chance{o.Seed ^ 0x5851f42d4c957f2d}}
	threads := o.Threads
	if threads <= 0 {
		threads = 2
	}
	threads = min(threads, 8)
	s.per = min(max(400_000/max(m.nodes, 1), 200), 4000)
	for t := range threads {
		c := newChain(m, o.Seed*0x9e3779b97f4a7c15+uint64(t)*0xd1342543de82ef95+1)
		c.begin(start)
		s.chains = append(s.chains, c)
	}
	s.jobs = make([]job, threads)
	s.top, s.cost = *start.clone(), s.chains[0].cost
	s.temperatures()
	if s.divided = s.divides(start); s.divided {
		s.cur = *start.clone()
	}
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
	hot, cold := mean, mean/10
	if m.tried != nil {
		hot, cold = 5*mean, mean/7 // a stop also changes day and person, which costs more than the way
	}
	s.hot, s.cold = max(hot, 1), max(cold, 0.02)
	s.warm = s.hot * num.Pow(s.cold/s.hot, warmth)
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
			break
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
		s.settle(total, share)
		if s.many == 1 {
			s.stage(share / s.anneal)
		}
		apart := s.apart(share)
		switch {
		case apart:
			s.deal()
		case s.divided:
			s.unite()
		}
		per := s.per
		if apart {
			per = max(per, dealSteps)
		}
		if total > 0 {
			per = min(per, total-s.done)
		}
		var wg sync.WaitGroup
		for i, c := range s.chains {
			s.assign(i, share)
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
		for i, c := range s.chains {
			s.jobs[i].done += per
			if !apart {
				s.note(c)
			}
		}
		if apart {
			s.gather()
		}
		s.meet(share)
		if s.o.Progress != nil {
			s.o.Progress(Report{Iterations: s.done * len(s.chains), Cost: s.cost, Unplaced: s.m.countOut(&s.top), Plan: func() Plan { return s.m.finished(&s.top) }})
		}
	}
}

// note keeps a chain's best where it is the best of all.
func (s *search) note(c *chain) {
	cost := c.bestCost
	if c.m != s.m {
		if c.bestCost == c.noted {
			return
		}
		c.noted = c.bestCost
		cost = s.m.price(&c.best)
	}
	if cost < s.cost {
		s.cost = cost
		s.top = *c.best.clone()
	}
}

// settle says, as soon as the pace is known, how many annealings there are from
// the start.
func (s *search) settle(total int, share float64) {
	if s.many > 0 || total <= 0 && share < 0.01 {
		return
	}
	steps := float64(total)
	if total <= 0 {
		steps = float64(s.done) / share
	}
	perNode := steps / float64(s.m.nodes)
	s.many, s.anneal = 1, annealShare
	if s.m.nodes < smallNodes {
		s.many = min(max(int(annealShare*perNode/annealSteps), 1), manyMost)
	}
	if perNode < crossFrom*float64(s.m.nodes) {
		s.anneal = 1
	}
}

// assign gives a chain its temperature, and something new to do where it is done.
func (s *search) assign(i int, share float64) {
	c, j := s.chains[i], &s.jobs[i]
	if !j.child && j.number >= s.many && s.many > 0 || j.child && j.done >= j.long {
		s.admit(&c.best, c.bestCost)
		s.child(i)
	}
	if j.child {
		c.temp = s.warm * num.Pow(s.cold/s.warm, float64(j.done)/float64(j.long))
		return
	}
	gone := 0.0
	if s.many > 0 {
		gone = share/s.anneal*float64(s.many) - float64(j.number)
	}
	if gone >= 1 {
		s.admit(&c.best, c.bestCost)
		j.number++
		if j.number >= s.many {
			s.child(i)
			c.temp = s.warm
			return
		}
		c.begin(s.start)
		gone = 0
	}
	c.temp = s.hot * num.Pow(s.cold/s.hot, max(gone, 0))
}

// child crosses two of the pool for a chain.
func (s *search) child(i int) {
	c := s.chains[i]
	s.jobs[i] = job{child: true, number: s.many, long: int(childSteps * float64(s.m.nodes))}
	if len(s.pool) < 2 {
		c.begin(s.pool[0].d)
		return
	}
	c.begin(s.cross(s.parents()))
}

// meetings is how often in the course of a search the chains compare, and
// firstMeet how much of it is over before they do.
const (
	meetings  = 20
	firstMeet = 0.3
)

// meet lets chains that fell behind go on from where the best of them stands.
func (s *search) meet(share float64) {
	if len(s.chains) < 2 || s.divided || s.many != 1 || s.chains[1].m != s.m || share > s.anneal || s.jobs[0].child {
		return
	}
	share /= s.anneal
	if int(share*meetings) <= s.met || share < firstMeet {
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
