package round

import (
	"math"
	"slices"
	"testing"
	"time"
)

// crowded is a week with more work than its people have hours for.
func crowded() Problem {
	p := wide(160, 2)
	p.Weights = DefaultWeights()
	for i := range p.Stops {
		if i%11 == 0 {
			p.Stops[i].KeptApart = true
		}
		if i%6 == 0 {
			p.Stops[i].Load.WaterL = 10 * (i % 13)
		}
	}
	p.Vans = []Van{{ID: "v", Carries: Load{WaterL: 150}}, {ID: "w", Carries: Load{WaterL: 150}}}
	for k := range p.People {
		for d := range p.People[k].Hours {
			p.People[k].Hours[d].Van = p.Vans[k].ID
			p.People[k].Hours[d].Break = Break{From: 11*Hour + 30*Minute, To: 13*Hour + 30*Minute, Length: Hour / 2}
		}
	}
	return p
}

// filled is a chain with a first solution.
func filled(p *Problem) (*model, *chain) {
	m := compile(p)
	c := newChain(m, 3)
	c.first()
	return m, c
}

// remember keeps what a step is taken back to.
func remember(c *chain) {
	c.was, c.wasOut, c.touched = c.cost, append(c.wasOut[:0], c.out...), c.touched[:0]
	c.wasFix, c.refixed = append(c.wasFix[:0], c.fixed...), c.refixed[:0]
	c.pressing = -1
}

// ruinAround takes a string around a node out, as a step does.
func ruinAround(c *chain, v int32, most int) {
	c.ruinAt(v, most)
	c.dropMates()
	for _, ri := range c.touched {
		c.routes[ri].ruined = false
	}
}

// A stop without a place takes that of one that has more to choose from; the
// round still holds, costs what the search believes, and can be taken back.
func TestAStopTakesThePlaceOfOneWithMoreToChooseFrom(t *testing.T) {
	p := crowded()
	m, c := filled(&p)
	costs := func() int64 {
		var d draft
		c.take(&d)
		for ci, seq := range d.seq {
			if _, _, _, _, ok := m.times(&d, ci, seq, nil); !ok {
				t.Fatalf("route %d does not hold", ci)
			}
			load := int32(0)
			for i, v := range seq {
				load += m.load[v][0]
				if m.last[v] && i < len(seq)-1 {
					t.Fatalf("after a stop that is the last of route %d comes another", ci)
				}
			}
			if load > m.cars[ci].room[0] {
				t.Fatalf("route %d carries %d l, its van %d", ci, load, m.cars[ci].room[0])
			}
		}
		return m.plan(&d).Cost.Total
	}
	done := 0
	for _, v := range slices.Clone(c.out) {
		if m.twin[v] >= 0 {
			continue
		}
		before := costs()
		remember(c)
		u := c.eject(v, math.MaxInt32)
		if u < 0 {
			continue
		}
		done++
		if c.where[u] >= 0 || c.where[v] < 0 {
			t.Fatalf("%d is in route %d, %d instead of it in %d", u, c.where[u], v, c.where[v])
		}
		if m.choice[u] <= m.choice[v] {
			t.Errorf("the one that went had %d to choose from, the one that came %d", m.choice[u], m.choice[v])
		}
		if got := costs(); got != c.cost {
			t.Fatalf("the search reckons %d, the plan costs %d", c.cost, got)
		}
		c.back()
		if got := costs(); got != before || c.cost != before {
			t.Fatalf("taken back it costs %d and is reckoned %d, before %d", got, c.cost, before)
		}
	}
	if done < 5 {
		t.Errorf("only %d took another's place", done)
	}
}

// What comes of a place costs less than was asked for, whether another was
// ejected for it or not.
func TestAPlaceIsNeverTooDear(t *testing.T) {
	p := wide(160, 4)
	p.Weights = DefaultWeights()
	m, c := filled(&p)
	of, where := map[bool]int{}, slices.Clone(c.where)
	for _, v := range slices.Clone(c.mine) {
		for more := -m.absent[v]; more < 1500-m.absent[v] && m.twin[v] < 0 && c.where[v] >= 0; more += 50 {
			remember(c)
			ri := int(c.where[v])
			c.touch(ri)
			pos := slices.IndexFunc(c.routes[ri].at, func(x slot) bool { return x.node == v })
			c.cut(ri, pos, pos+1, pos+1, pos+1)
			without := c.cost
			if c.place(v, without, without+more) < 0 {
				of[slices.ContainsFunc(c.mine, func(x int32) bool { return x != v && c.where[x] != where[x] })]++
				if c.cost >= without+more {
					t.Fatalf("it costs %d, and was to cost less than %d", c.cost, without+more)
				}
			}
			c.back()
		}
	}
	if of[true] == 0 || of[false] == 0 {
		t.Errorf("places found: %v (whether another was ejected)", of)
	}
}

// Where only dearer places are to be had than asked for, nobody is ejected.
func TestNobodyIsEjectedAtAnyPrice(t *testing.T) {
	p := crowded()
	m, c := filled(&p)
	for _, v := range c.out {
		if m.twin[v] >= 0 {
			continue
		}
		if u := c.eject(v, -m.absent[v]-200_000); u >= 0 {
			t.Errorf("%d was ejected", u)
		}
	}
}

// hope is never less than what a place is worth.
func TestHopeIsABound(t *testing.T) {
	p := crowded()
	m, c := filled(&p)
	seen := 0
	for v := range int32(m.nodes) {
		ri := int(c.where[v])
		if ri < 0 || m.twin[v] >= 0 {
			continue
		}
		pos := slices.IndexFunc(c.routes[ri].at[1:], func(x slot) bool { return x.node == v }) + 1
		c.touched = c.touched[:0]
		c.cut(ri, pos, pos+1, pos+1, pos+1)
		without := c.cost
		if !c.insertBest(v, math.MaxInt64) {
			t.Fatalf("node %d finds no way back", v)
		}
		c.out = slices.DeleteFunc(c.out, func(x int32) bool { return x == v })
		for _, ri := range c.touched {
			c.routes[ri].marked = false
		}
		if got := without - c.cost; got > c.hope(v) {
			t.Errorf("a place for node %d is worth %d, hoped for %d", v, got, c.hope(v))
		}
		seen++
	}
	if seen < 50 {
		t.Errorf("only %d were tried", seen)
	}
}

// Nothing more is put back once the solution is too dear, and all is taken back.
func TestMendingGivesUpInTime(t *testing.T) {
	p := wide(160, 5)
	p.Weights = DefaultWeights()
	_, c := filled(&p)
	was, gaveUp := c.cost, 0
	for _, v := range slices.Clone(c.mine) {
		remember(c)
		if c.where[v] < 0 {
			continue
		}
		ruinAround(c, v, 4)
		out := slices.Clone(c.out)
		if c.mend(was - 1_000_000) {
			t.Fatal("a million was saved")
		}
		for _, x := range out {
			if c.where[x] >= 0 {
				t.Fatalf("node %d was put back in vain", x)
			}
		}
		gaveUp++
		c.back()
		if c.cost != was {
			t.Fatalf("taken back it costs %d, before %d", c.cost, was)
		}
	}
	if gaveUp < 50 {
		t.Errorf("only %d times there was something to put back", gaveUp)
	}
}

// A job for two that was taken out goes back where it was, whichever of its
// halves comes first in the order.
func TestAJobForTwoGoesBack(t *testing.T) {
	p := wide(160, 6)
	p.Weights = DefaultWeights()
	m, c := filled(&p)
	tried, back := 0, 0
	for range 20 {
		for v := range int32(m.nodes) {
			if m.twin[v] < v || c.where[v] < 0 {
				continue
			}
			remember(c)
			ruinAround(c, v, 1)
			tried++
			if c.mend(c.was + 1) {
				back++
			}
			c.back()
		}
	}
	if tried < 100 || back < tried*9/10 {
		t.Errorf("%d of %d went back", back, tried)
	}
}

// What can be done by fewer, on fewer days, in less time, or takes longer, has
// less to choose from and is put back first.
func TestWhatHasTheLeastToChooseFromGoesFirst(t *testing.T) {
	p := wide(8, 2)
	p.Weights = DefaultWeights()
	p.People[0].Skills = []string{"gas"}
	for i := range p.Stops {
		p.Stops[i] = Stop{ID: p.Stops[i].ID, Name: p.Stops[i].Name, Place: i + 1, Work: 30 * Minute, Due: monday.Add(2), EarlyDays: 2, LateDays: 2, LastBy: "w1"}
	}
	p.Stops[1].Skills = []string{"gas"}
	p.Stops[2].Work = 2 * Hour
	p.Stops[3].EarlyDays, p.Stops[3].LateDays = 0, 0
	for d := time.Monday; d <= time.Friday; d++ {
		p.Stops[4].Windows = append(p.Stops[4].Windows, Window{Weekday: d, From: 9 * Hour, To: 10 * Hour})
	}
	for d := time.Monday; d <= time.Friday; d++ { // begun until half past nine, as the other
		p.Stops[6].Windows = append(p.Stops[6].Windows, Window{Weekday: d, From: 9 * Hour, To: 11 * Hour})
	}
	p.Stops[6].Work = 90 * Minute
	m := compile(&p)
	if m.choice[6] >= m.choice[4] {
		t.Errorf("begun in the same time the longer has %d to choose from, the shorter %d", m.choice[6], m.choice[4])
	}
	for v := 1; v <= 4; v++ {
		if m.choice[v] >= m.choice[0] {
			t.Errorf("stop %d has %d to choose from, any other %d", v, m.choice[v], m.choice[0])
		}
	}
	if m.choice[5] != m.choice[0] {
		t.Errorf("of two alike one has %d to choose from, one %d", m.choice[5], m.choice[0])
	}
	c := newChain(m, 1)
	for range 200 {
		if x := c.about(m.choice[0]); x < m.choice[0]/2 || x > m.choice[0]*3/2 {
			t.Fatalf("about %d is %d", m.choice[0], x)
		}
	}
	if a, b := c.key(byScarcity, 4), c.key(byScarcity, 0); a >= b {
		t.Errorf("the short windows come at %d, the long ones at %d", a, b)
	}
}

// A stage in which a stop may be without a place is held while one stands badly,
// but not for ever.
func TestAStageIsHeldWhileSomethingStandsBadly(t *testing.T) {
	for _, of := range []struct {
		name  string
		p     Problem
		holds bool
	}{{"with room for all", wide(160, 6), false}, {"crowded", crowded(), true}} {
		of.p.Weights = DefaultWeights()
		s := inShares(t, &of.p, Options{Seed: 1, Threads: 2})
		if bad := len(s.badly()); (bad > 0) != of.holds {
			t.Fatalf("%s: %d stand badly", of.name, bad)
		}
		at := func(gone float64) int {
			s.stage(gone)
			return s.staged - 1
		}
		if got := at(0.2); got != lingering {
			t.Fatalf("%s: stage %d", of.name, got)
		}
		if held := at(lingerMost-0.01) == lingering; held != of.holds {
			t.Errorf("%s: held is %v", of.name, held)
		}
		if at(lingerMost) == lingering {
			t.Errorf("%s: held for ever", of.name)
		}
	}
}
