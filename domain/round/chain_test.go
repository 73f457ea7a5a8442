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

// What is kept of a route's prices from one step to the next is what working
// them out anew gives, whether a step was kept, taken back, or came to nothing.
func TestWhatIsReckonedOfARouteHolds(t *testing.T) {
	p := wide(160, 5)
	p.Weights = DefaultWeights()
	for i := range p.Stops {
		p.Stops[i].Prefer = p.People[i%len(p.People)].ID
		if i%20 == 3 {
			p.Stops[i].People = 2
		}
	}
	m := compile(&p)
	c := newChain(m, 5)
	c.first()
	held, restored := 0, 0
	versions := make([]uint32, len(c.routes))
	for i := range 4000 {
		c.temp = 300 * float64(1+i%3)
		copy(versions, c.versions)
		c.step()
		for _, ri := range c.touched {
			if c.versions[ri] == versions[ri] {
				restored++
			}
		}
		if i%50 != 0 {
			continue
		}
		for v := range int32(m.nodes) {
			if m.twin[v] >= 0 {
				continue
			}
			for ri := range c.routes {
				o := c.offers[int(v)*len(c.routes)+ri]
				if o.version != c.versions[ri] {
					continue
				}
				held++
				var anew offer
				c.price(v, ri, &anew, o.limit)
				if anew != o {
					t.Fatalf("step %d: node %d in route %d: kept %+v, anew %+v", i, v, ri, o, anew)
				}
			}
		}
	}
	if held < 1000 || restored < 1000 {
		t.Errorf("only %d prices were compared, %d routes came back", held, restored)
	}
}

// A stop that stands with somebody it does not want makes room on a day of the
// person it does want, and is the first to be put back.
func TestAStopIsLuredToItsPerson(t *testing.T) {
	p := wide(160, 5)
	p.Weights = DefaultWeights()
	m := compile(&p)
	first := newChain(m, 5)
	first.first()
	var d draft
	first.take(&d)
	v, was := d.seq[0][0], int32(0)
	wanted := func(ri int) bool { return m.cars[ri].person != m.cars[was].person }
	row := m.cost[int(v)*len(m.cars) : (int(v)+1)*len(m.cars)]
	for ri := range row {
		row[ri] = 100
		if wanted(ri) {
			row[ri] = 0
		}
	}
	m.compileTried()
	lost := 0
	for seed := range uint64(40) {
		c := newChain(m, seed)
		c.load(&d)
		c.pressing = -1
		n := c.lure(v, was, 4)
		lost += n
		for _, ri := range c.touched {
			if !wanted(int(ri)) {
				t.Fatalf("a stop was taken from shift %d, where it costs as much", ri)
			}
		}
		if (n > 0) != (len(c.out) > len(first.out)) || (n > 0) != (c.pressing == v) {
			t.Fatalf("%d routes lost %d stops; %d is pressing", n, len(c.out)-len(first.out), c.pressing)
		}
	}
	if lost == 0 {
		t.Error("nothing made room for it")
	}
}
