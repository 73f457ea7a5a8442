package round

import "testing"

// What the search believes a plan to cost is what the plan costs when it is
// worked out anew: no step loses or gains anything.
func TestTheSearchKeepsItsAccounts(t *testing.T) {
	p := small()
	p.Stops[1].People, p.Stops[4].People = 2, 2
	p.Stops[3].KeptApart = true
	p.People[0].Hours[2].Break = Break{From: 12 * Hour, To: 13 * Hour, Length: Hour / 2}
	p.Stops[5].Windows = []Window{{Weekday: 1, From: 9 * Hour, To: 11 * Hour}, {Weekday: 1, From: 12 * Hour, To: 14 * Hour}}
	m := compile(&p)
	c := newChain(m, 3)
	c.best.seq = nil
	c.bestCost = c.cost
	c.take(&c.best)
	for i := range 3000 {
		c.temp = 500
		c.step()
		d := draft{}
		c.take(&d)
		if got := m.plan(&d).Cost.Total; got != c.cost {
			t.Fatalf("step %d: the search reckons %d, the plan costs %d", i, c.cost, got)
		}
		for v := range c.where {
			if out := c.where[v] < 0; out != contains(c.out, int32(v)) {
				t.Fatalf("step %d: node %d is lost", i, v)
			}
		}
	}
}

func contains(list []int32, v int32) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}
