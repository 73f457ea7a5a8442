package round

import (
	"slices"
	"testing"
	"time"
)

// wide is a week of so many stops, in five days of some people, for shares.
func wide(stops, people int) Problem {
	p := small()
	p.Places, p.Stops, p.People = line(stops+1), nil, nil
	for i := range p.Places {
		p.Places[i].Lat = 50 + float64(i)/1000
	}
	for k := range people {
		p.People = append(p.People, Person{ID: "w" + itoa(k), Name: "Worker " + itoa(k), Hours: nine(0)})
	}
	for i := 1; i <= stops; i++ {
		s := Stop{ID: "s" + itoa(i), Name: "site " + itoa(i), Place: i, Work: 20*Minute + Seconds(i%5)*5*Minute, Due: monday.Add(i % 5), LateDays: i % 2, LastBy: "w" + itoa(i%people)}
		if i%20 == 0 {
			s.People = 2
		}
		if i%9 == 0 {
			for d := time.Monday; d <= time.Friday; d++ {
				s.Windows = append(s.Windows, Window{Weekday: d, From: 9 * Hour, To: 12 * Hour})
			}
		}
		p.Stops = append(p.Stops, s)
	}
	return p
}

// inShares is a search of it that is divided between two chains.
func inShares(t *testing.T, p *Problem, o Options) *search {
	t.Helper()
	m := compile(p)
	s := newSearch(m, o, m.begun())
	if !s.divided {
		t.Fatal("the search is not divided")
	}
	return s
}

// Each route and each node is in one share, both halves of a job for two are in
// the same, and so are shifts with one van.
func TestSharesKeepTogetherWhatBelongsTogether(t *testing.T) {
	p := wide(160, 5)
	p.Vans = []Van{{ID: "v", Carries: Load{WaterL: 100}}}
	for d := range p.People[1].Hours {
		p.People[1].Hours[d].Van, p.People[3].Hours[d].Van = "v", "v"
	}
	s := inShares(t, &p, Options{Seed: 1, Threads: 2})
	m := s.m
	for range 40 {
		routes, nodes := s.divide(&s.cur)
		for ri, seq := range s.cur.seq {
			for _, v := range seq {
				if nodes[v] != routes[ri] {
					t.Fatalf("node %d is in another share than its route", v)
				}
			}
			for _, o := range m.rivals[ri] {
				if routes[o] != routes[ri] {
					t.Fatalf("shifts %d and %d have one van and are in two shares", ri, o)
				}
			}
		}
		stops := make([]int, 2)
		for v, of := range nodes {
			stops[of]++
			if x := m.twin[v]; x >= 0 && nodes[x] != of {
				t.Fatalf("the halves %d and %d are in two shares", v, x)
			}
		}
		if least := min(stops[0], stops[1]); least < m.nodes/5 {
			t.Errorf("one share has %d of %d stops", least, m.nodes)
		}
	}
}

// A chain changes nothing outside of its share and keeps its accounts while
// stops are urged, and what the search then puts together costs what it reckons.
func TestChainsKeepToTheirShares(t *testing.T) {
	p := wide(160, 2)
	s := inShares(t, &p, Options{Seed: 3, Threads: 2})
	s.many, s.anneal = 1, 1
	s.stage(0.7)
	urged := int64(0)
	for round := range 12 {
		s.deal()
		before := s.cur.clone()
		for i, c := range s.chains {
			c.temp = s.hot
			c.rounds(400)
			var d draft
			c.take(&d)
			if got := c.m.price(&d); got != c.cost {
				t.Fatalf("round %d: chain %d reckons %d, and it costs %d", round, i, c.cost, got)
			}
			for ri, seq := range d.seq {
				if s.routes[ri] != int8(i) && !slices.Equal(seq, before.seq[ri]) {
					t.Fatalf("round %d: chain %d changed route %d of the other share", round, i, ri)
				}
			}
		}
		s.gather()
		if got := s.m.price(&s.top); got != s.cost {
			t.Fatalf("round %d: the best is reckoned at %d and costs %d", round, s.cost, got)
		}
		found := make([]int, s.m.nodes)
		for ri, seq := range s.cur.seq {
			for _, v := range seq {
				found[v]++
			}
			if _, _, _, _, ok := s.m.times(&s.cur, ri, seq, nil); !ok {
				t.Fatalf("round %d: route %d does not hold", round, ri)
			}
		}
		if twice := slices.Max(found); twice > 1 {
			t.Fatalf("round %d: a node stands twice", round)
		}
	}
	for _, n := range s.weary {
		urged += n
	}
	if urged == 0 {
		t.Error("no stop was urged")
	}
}

// When the search is no more in shares, each chain may touch everything again.
func TestTheSearchGoesOnWithoutShares(t *testing.T) {
	p := wide(160, 5)
	s := inShares(t, &p, Options{Seed: 2, Iterations: 9000, Threads: 2})
	s.many, s.anneal = 1, 0.3
	s.run()
	if s.divided {
		t.Fatal("the search is still divided")
	}
	for i, c := range s.chains {
		if len(c.mine) != s.m.nodes || slices.Contains(c.active, false) {
			t.Errorf("chain %d has %d of %d nodes", i, len(c.mine), s.m.nodes)
		}
	}
	if got := s.m.plan(&s.top).Cost.Total; got != s.cost {
		t.Errorf("the best is reckoned at %d and costs %d", s.cost, got)
	}
}
