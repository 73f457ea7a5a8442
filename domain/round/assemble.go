package round

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// plan writes a draft out with its times, costs, and what it gave up.
func (m *model) plan(d *draft) Plan {
	p := Plan{Said: slices.Clone(m.said.list)}
	placed := make([]int, m.nodes) // car+1
	for ci, seq := range d.seq {
		for _, v := range seq {
			placed[v] = ci + 1
		}
	}
	for ci, seq := range d.seq {
		p.Routes = append(p.Routes, m.route(d, ci, seq, placed))
	}
	known := m.knownPlaces()
	for v := range m.nodes {
		if m.twin[v] >= 0 && m.twin[v] < int32(v) {
			continue
		}
		i := int(m.stopOf[v])
		if placed[v] == 0 {
			p.Unplaced = append(p.Unplaced, Unplaced{Stop: m.p.Stops[i].ID})
			p.Cost.Unplaced += m.absent[v]
			continue
		}
		c := &m.cars[placed[v]-1]
		one := m.partOf(&m.p.Stops[i], c, known[i])
		t := m.twin[v]
		if t < 0 {
			p.GaveUp = append(p.GaveUp, m.givenUp(&m.p.Stops[i], c, nil, one)...)
			p.Cost.add(one)
			continue
		}
		with := &m.cars[placed[t]-1]
		two := m.partOf(&m.p.Stops[i], with, known[i])
		p.Cost.add(one.ofTwo(false))
		p.Cost.add(two.ofTwo(true))
		one.moved += two.moved
		p.GaveUp = append(p.GaveUp, m.givenUp(&m.p.Stops[i], c, with, one)...)
	}
	slices.SortStableFunc(p.GaveUp, func(a, b GivenUp) int { return gravity(a.Kind) - gravity(b.Kind) })
	for ci, r := range p.Routes {
		work := Seconds(0)
		for _, v := range d.seq[ci] {
			work += m.work[v]
		}
		p.Cost.Uneven += m.unevenOf(&m.cars[ci], work)
		p.Cost.Drive += int64(m.driveOf(ci, d.seq[ci]))
		p.Cost.Metres += r.metres()
	}
	c := &p.Cost
	c.Total = c.Unplaced + c.Urgent + c.Due + c.Weekday + c.Moved + c.Drive + c.Uneven + c.Person
	return p
}

func (c *Cost) add(p part) {
	c.Urgent += p.urgent
	c.Due += p.due
	c.Weekday += p.weekday
	c.Moved += p.moved
	c.Person += p.person
}

func (r Route) metres() int64 {
	sum := int64(r.HomeM)
	for _, v := range r.Visits {
		sum += int64(v.Metres)
	}
	return sum
}

// driveOf is the driving of a route at pace 100.
func (m *model) driveOf(ci int, seq []int32) Seconds {
	if len(seq) == 0 {
		return 0
	}
	c, sum := &m.cars[ci], Seconds(0)
	prev := c.start
	for _, v := range seq {
		sum += m.drive[int(prev)*m.points+int(v)]
		prev = v
	}
	return sum + m.drive[int(prev)*m.points+int(c.end)]
}

func (m *model) route(d *draft, ci int, seq []int32, placed []int) Route {
	c := &m.cars[ci]
	r := Route{Day: m.p.From.Add(c.day), Person: m.p.People[c.person].ID}
	at, leave, back, rest, _ := m.times(d, ci, seq, nil)
	r.Leave, r.Back = leave, back
	if len(seq) == 0 {
		r.Back = leave
		return r
	}
	prev := c.start
	from := leave
	for i, v := range seq {
		drive := m.drive[int(prev)*m.points+int(v)]
		if at[i].rest >= 0 {
			r.Break = q.Some(at[i].rest)
		}
		set := from
		if at[i].rest >= 0 && at[i].rest < at[i].arrive {
			set = at[i].rest + c.bLen
		}
		x := Visit{
			Stop: m.p.Stops[m.stopOf[v]].ID, Drive: m.clk.arrive(set, drive) - set, Metres: m.metres[int(prev)*m.points+int(v)],
			Arrive: at[i].arrive, Start: at[i].start, Done: at[i].done,
		}
		if t := m.twin[v]; t >= 0 && placed[t] > 0 {
			x.With = m.p.People[m.cars[placed[t]-1].person].ID
		}
		r.Visits = append(r.Visits, x)
		prev, from = v, at[i].done
	}
	if rest >= 0 {
		r.Break = q.Some(rest)
		if rest < back-c.bLen {
			from = rest + c.bLen
		}
	}
	drive := m.drive[int(prev)*m.points+int(c.end)]
	r.HomeDrive, r.HomeM = m.clk.arrive(from, drive)-from, m.metres[int(prev)*m.points+int(c.end)]
	return r
}

// gravity orders what was given up, the gravest first.
func gravity(kind string) int {
	return slices.Index([]string{GaveUrgent, GaveSlip, GaveDue, GaveWeekday, GaveMoved, GavePrefer, GaveLast}, kind)
}

// givenUp says what a stop on a shift gives up; with is the other shift of a job
// for two, or nil. Whoever of the two the customer is used to comes.
func (m *model) givenUp(s *Stop, c, with *car, p part) []GivenUp {
	var out []GivenUp
	d := m.p.From.Add(c.day)
	give := func(kind string, days int, sentence say.Sentence) {
		out = append(out, GivenUp{Stop: s.ID, Kind: kind, Days: days, Say: sentence})
	}
	come, names := []string{m.p.People[c.person].ID}, []string{m.p.People[c.person].Name}
	if with != nil {
		come, names = append(come, m.p.People[with.person].ID), append(names, m.p.People[with.person].Name)
	}
	who := say.Text("who", say.JoinAnd(names))
	at := say.Text("stop", s.Name)
	if p.days != 0 {
		kind := GaveDue
		switch s.Press {
		case Urgent:
			kind = GaveUrgent
		case NoSlip:
			kind = GaveSlip
		}
		id := "round.gave.late"
		if p.days < 0 {
			id = "round.gave.early"
		}
		give(kind, p.days, say.S(id, at, daysArg(p.days), say.Day("day", d), say.Day("due", s.Due)))
	}
	if p.weekday > 0 {
		give(GaveWeekday, 0, say.S("round.gave.weekday", at, say.Day("day", d), say.Text("usual", s.Weekday.V.String())))
	}
	if p.moved > 0 {
		give(GaveMoved, 0, say.S("round.gave.moved", at, say.Day("day", d), who))
	}
	if s.Prefer != "" && !slices.Contains(come, s.Prefer) {
		give(GavePrefer, 0, say.S("round.gave.prefer", at, who, say.Text("usual", m.nameOf(s.Prefer))))
	} else if s.LastBy != "" && !slices.Contains(come, s.LastBy) {
		give(GaveLast, 0, say.S("round.gave.last", at, who, say.Text("usual", m.nameOf(s.LastBy))))
	}
	return out
}

func (m *model) nameOf(id string) string {
	if i, ok := m.persons[id]; ok {
		return m.p.People[i].Name
	}
	return id
}

func daysArg(n int) say.Arg {
	n = max(n, -n)
	if n == 1 {
		return say.Text("days", "1 day")
	}
	return say.Text("days", itoa(n)+" days")
}
