package round

import "testing"

// A stop that stays without a place costs the search more each time, up to a
// limit; what it costs in the plan stays.
func TestAStopWithoutAPlaceIsUrged(t *testing.T) {
	p := wide(160, 5)
	p.Weights = DefaultWeights()
	s := inShares(t, &p, Options{Seed: 1, Threads: 2})
	s.many, s.anneal = 1, 1
	s.stage(0.7)
	soft := s.chains[0].m
	if soft == s.m {
		t.Fatal("the search has no weights of its own")
	}
	out := s.cur.seq[0][0]
	s.m.takeOut(&s.cur, out)
	was := soft.absent[out]
	for n := range 3 * wearyMost {
		s.urge()
		now := soft.absent[out]
		if (n < wearyMost) != (now > was) {
			t.Fatalf("urged for the %d. time: %d, before %d", n+1, now, was)
		}
		was = now
	}
	if got := s.m.absent[out]; got != p.Weights.Unplaced {
		t.Errorf("in the plan it costs %d", got)
	}
	for v, n := range s.weary {
		if int32(v) != out && n > 0 {
			t.Errorf("node %d stands well and is urged", v)
		}
	}
}

// A stop that is days late is urged away from there, and costs no more where it
// would be on time.
func TestALateStopIsUrgedToItsDay(t *testing.T) {
	p := wide(160, 5)
	s := inShares(t, &p, Options{Seed: 1, Threads: 2})
	s.many, s.anneal = 1, 1
	s.stage(0.7)
	soft := s.chains[0].m
	late, on := int32(-1), -1
	for ri, seq := range s.cur.seq {
		for i, v := range seq {
			if late < 0 && s.m.twin[v] < 0 && s.m.cars[ri].day == 0 {
				late, on = v, ri
				s.cur.seq[ri] = append(seq[:i:i], seq[i+1:]...)
			}
		}
	}
	friday := len(s.m.cars) - 1
	s.cur.seq[friday] = append(s.cur.seq[friday], late)
	at := func(m *model, ri int) int32 { return m.cost[int(late)*len(m.cars)+ri] }
	there, where := at(soft, friday), at(soft, on)
	for _, c := range s.chains {
		c.price(late, friday, &c.offers[int(late)*len(c.routes)+friday], noOffer)
	}
	s.urge()
	if got := at(soft, friday); got <= there {
		t.Errorf("late it costs %d, before %d", got, there)
	}
	for i, c := range s.chains {
		if c.offers[int(late)*len(c.routes)+friday].version == c.versions[friday] {
			t.Errorf("chain %d goes on with what it reckoned before", i)
		}
	}
	if got := at(soft, on); got != where {
		t.Errorf("on time it costs %d, before %d", got, where)
	}
	if got, want := at(s.m, friday), int32(DefaultWeights().OutOfDays); got < want {
		t.Errorf("in the plan it costs %d late, want at least %d", got, want)
	}
}

// What was reckoned of a stop's places is dropped when it is urged: of a job for
// two, the lists of places of the half that is.
func TestAnUrgedStopIsReckonedAnew(t *testing.T) {
	p := wide(160, 5)
	m := compile(&p)
	c := newChain(m, 1)
	c.first()
	forgotten, kept := int32(-1), int32(-1)
	for v := range int32(m.nodes) {
		if m.twin[v] > v {
			forgotten, kept = v, m.twin[v]
			break
		}
	}
	fresh := func(v int32) (n int) {
		for ri := range c.routes {
			if c.mates[int(m.half[v])*len(c.routes)+ri].version == c.versions[ri] {
				n++
			}
		}
		return n
	}
	for ri := range int32(len(c.routes)) {
		c.matesIn(forgotten, ri)
		c.matesIn(kept, ri)
	}
	if fresh(forgotten) != len(c.routes) || fresh(kept) != len(c.routes) {
		t.Fatal("nothing to forget")
	}
	c.forget(forgotten)
	if fresh(forgotten) != 0 || fresh(kept) != len(c.routes) {
		t.Errorf("%d lists of it are left, and %d of its other half's", fresh(forgotten), fresh(kept))
	}
}
