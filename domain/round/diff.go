package round

import q "scaperound/domain/quantity"

// Change is where two plans differ about a stop.
type Change struct {
	Stop                 string // ID
	FromDay, ToDay       q.Opt[q.Date]
	FromPerson, ToPerson string // IDs; empty where it has no place. Of a job for two, whoever changes
	FromStart, ToStart   q.Opt[Seconds]
	Moved                bool // another person or day, or in or out of the plan; else only another time
}

// Diff lists the stops that differ between two plans, those moved first, then
// those that begin at another time. Of a job for two it does not matter who is
// named first.
func Diff(a, b Plan) []Change {
	type at struct {
		day          q.Date
		person, with string
		start        Seconds
	}
	read := func(p Plan) (map[string]at, []string) {
		out, order := map[string]at{}, []string(nil)
		for _, r := range p.Routes {
			for _, v := range r.Visits {
				if _, twice := out[v.Stop]; !twice {
					out[v.Stop] = at{r.Day, r.Person, v.With, v.Start}
					order = append(order, v.Stop)
				}
			}
		}
		return out, order
	}
	was, gone := read(a)
	is, order := read(b)
	var moved, shifted []Change
	seen := map[string]bool{}
	for _, stop := range append(order, gone...) {
		if seen[stop] {
			continue
		}
		seen[stop] = true
		x, before := was[stop]
		y, after := is[stop]
		if x.person == y.with || x.with != "" && x.with == y.person {
			x.person, x.with = x.with, x.person
		}
		c := Change{Stop: stop, FromPerson: x.person, ToPerson: y.person}
		if x.person == y.person && x.with != y.with {
			c.FromPerson, c.ToPerson = x.with, y.with
		}
		if before {
			c.FromDay, c.FromStart = q.Some(x.day), q.Some(x.start)
		}
		if after {
			c.ToDay, c.ToStart = q.Some(y.day), q.Some(y.start)
		}
		switch c.Moved = before != after || x.day != y.day || c.FromPerson != c.ToPerson; {
		case c.Moved:
			moved = append(moved, c)
		case x.start != y.start:
			shifted = append(shifted, c)
		}
	}
	return append(moved, shifted...)
}
