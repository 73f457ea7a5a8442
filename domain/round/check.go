package round

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Check says what a plan breaks of its problem, and which of its figures are not
// true; nothing where all is well. It is written from the problem's description
// alone and shares no code with the search, slow and plain on purpose.
func Check(p Problem, plan Plan) []Breach {
	c := checker{p: &p, plan: &plan, travel: p.Travel}
	if len(c.travel.Drive) != len(p.Places)*len(p.Places) {
		c.travel = GreatCircle(p.Places)
	}
	c.whoIsWhere()
	seen := map[string]bool{}
	for i := range plan.Routes {
		r := &plan.Routes[i]
		key := r.Person + " " + r.Day.String()
		if seen[key] {
			c.say(BreachTwice, r, "", "round.breach.route_twice")
		}
		seen[key] = true
		c.route(r)
	}
	c.vans()
	c.places()
	c.cost()
	return c.out
}

type checker struct {
	p      *Problem
	plan   *Plan
	travel Travel
	at     map[string][]whereabouts // by stop
	out    []Breach
}

type whereabouts struct {
	person string
	day    q.Date
	visit  *Visit
}

func (c *checker) say(rule string, r *Route, stop, id string, more ...say.Arg) {
	b := Breach{Rule: rule, Stop: stop}
	args := more
	if r != nil {
		b.Day, b.Person = r.Day, r.Person
		name := r.Person
		if x := c.person(r.Person); x != nil {
			name = x.Name
		}
		args = append(args, say.Text("who", name), say.Day("day", r.Day))
	}
	name := stop
	if s := c.stop(stop); s != nil {
		name = s.Name
	}
	b.Say = say.S(id, append(args, say.Text("stop", name))...)
	c.out = append(c.out, b)
}

func (c *checker) stop(id string) *Stop {
	for i := range c.p.Stops {
		if c.p.Stops[i].ID == id {
			return &c.p.Stops[i]
		}
	}
	return nil
}

func (c *checker) person(id string) *Person {
	for i := range c.p.People {
		if c.p.People[i].ID == id {
			return &c.p.People[i]
		}
	}
	return nil
}

// shift is the working day of a person; nil on a day off.
func (c *checker) shift(who *Person, day q.Date) *Shift {
	for i, s := range who.Special {
		if s.Day == day {
			if s.From >= s.To {
				return nil
			}
			return &who.Special[i]
		}
	}
	for _, l := range who.Leave {
		if day >= l.From && day <= l.To {
			return nil
		}
	}
	for i := range who.Hours {
		h := &who.Hours[i]
		if h.Weekday == day.Weekday() && h.From < h.To {
			return &h.Shift
		}
	}
	return nil
}

func (c *checker) whoIsWhere() {
	c.at = map[string][]whereabouts{}
	for i := range c.plan.Routes {
		r := &c.plan.Routes[i]
		for j := range r.Visits {
			v := &r.Visits[j]
			c.at[v.Stop] = append(c.at[v.Stop], whereabouts{r.Person, r.Day, v})
		}
	}
}
