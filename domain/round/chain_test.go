package round

import (
	"slices"
	"testing"
	"time"
)

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

// The times that a step works out anew in part are those of the whole route, and
// both halves of a job for two begin when that is fixed.
func TestTheSearchKeepsItsTimes(t *testing.T) {
	p := small()
	p.Places = line(40)
	p.Stops = nil
	for i := 1; i < 40; i++ {
		s := Stop{ID: "s" + itoa(i), Name: "site " + itoa(i), Place: i, Work: 40*Minute + Seconds(i%5)*8*Minute, Due: monday.Add(i % 5)}
		if i%4 == 0 {
			s.People = 2
		}
		if i%7 == 0 {
			s.KeptApart = true
		}
		if i%3 == 0 {
			for d := time.Monday; d <= time.Friday; d++ {
				s.Windows = append(s.Windows, Window{Weekday: d, From: 9 * Hour, To: 12 * Hour}, Window{Weekday: d, From: 13 * Hour, To: 15 * Hour})
			}
		}
		p.Stops = append(p.Stops, s)
	}
	for k := range p.People {
		for d := range p.People[k].Hours {
			p.People[k].Hours[d].Break = Break{From: 11*Hour + 30*Minute, To: 13*Hour + 30*Minute, Length: Hour / 2}
		}
	}
	m := compile(&p)
	for seed := range uint64(3) {
		c := newChain(m, seed)
		c.first()
		c.begin(m.emptyDraft())
		for i := range 3000 {
			c.temp = 500
			c.step()
			for ri := range c.routes {
				r := &c.routes[ri]
				a, b := slices.Clone(r.at), slices.Clone(r.rest[:len(r.at)])
				v := c.versions[ri]
				c.retime(ri, 1, len(r.at)-1)
				c.versions[ri] = v
				for k := range a {
					if a[k].node != r.at[k].node || k < len(a)-1 && (a[k].f != r.at[k].f || b[k].f != r.rest[k].f) || k > 0 && (a[k].l != r.at[k].l || b[k].l != r.rest[k].l) {
						t.Fatalf("step %d route %d slot %d of %d: %+v %+v / %+v %+v", i, ri, k, len(a), a[k], b[k], r.at[k], r.rest[k])
					}
				}
			}
			d := draft{}
			c.take(&d)
			for ci, seq := range d.seq {
				at, _, _, _, ok := m.times(&d, ci, seq, nil)
				for k, v := range seq {
					if d.fixed[v] >= 0 && at[k].start != d.fixed[v] {
						t.Fatalf("step %d: a half of a job for two begins at another time", i)
					}
				}
				if !ok {
					t.Fatalf("step %d: route %d does not hold", i, ci)
				}
			}
		}
	}
}
