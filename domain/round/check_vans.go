package round

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// vans looks for two rounds that have one van out at the same time.
func (c *checker) vans() {
	for i := range c.plan.Routes {
		for j := i + 1; j < len(c.plan.Routes); j++ {
			a, b := &c.plan.Routes[i], &c.plan.Routes[j]
			if a.Day != b.Day || a.Person == b.Person || len(a.Visits) == 0 || len(b.Visits) == 0 || a.Leave >= b.Back || b.Leave >= a.Back {
				continue
			}
			if van := c.vanOf(a.Person, a.Day); van != "" && van == c.vanOf(b.Person, b.Day) {
				name := van
				for _, v := range c.p.Vans {
					if v.ID == van {
						name = v.Name
					}
				}
				other := c.person(a.Person).Name
				c.say(BreachVan, b, "", "round.breach.van", say.Text("van", name), say.Text("other", other))
			}
		}
	}
}

func (c *checker) vanOf(person string, day q.Date) string {
	who := c.person(person)
	if who == nil {
		return ""
	}
	if s := c.shift(who, day); s != nil {
		return s.Van
	}
	return ""
}
