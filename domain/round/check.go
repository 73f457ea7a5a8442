package round

import (
	"slices"

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

// reaches says whether a way from place a to place b that is begun at from is
// done by by: each second does its part of the way.
func (c *checker) reaches(a, b int, from, by Seconds) bool {
	left := int64(0)
	if a != b {
		left = int64(c.travel.Drive[a*len(c.p.Places)+b]) * 10000
	}
	for t := from; left > 0; t++ {
		if t >= by {
			return false
		}
		pace := 100
		if h := int(t / 3600); t >= 0 && h < 24 && c.travel.Pace[h] > 0 {
			pace = min(max(c.travel.Pace[h], 10), 1000)
		}
		left -= int64(1000000 / pace)
	}
	return from <= by
}

func (c *checker) known(place int) bool {
	return place >= 0 && place < len(c.p.Places) && !c.p.Places[place].Unknown
}

func (c *checker) route(r *Route) {
	who := c.person(r.Person)
	if who == nil {
		c.say(BreachUnknown, r, "", "round.breach.nobody_known")
		return
	}
	shift := c.shift(who, r.Day)
	if shift == nil || r.Day < c.p.From || r.Day >= c.p.From.Add(c.p.Days) {
		if len(r.Visits) > 0 {
			c.say(BreachHours, r, "", "round.breach.day_off")
		}
		return
	}
	if len(r.Visits) == 0 {
		return
	}
	if !c.known(shift.Start) || !c.known(shift.End) {
		c.say(BreachUnknown, r, "", "round.breach.no_start")
		return
	}
	if r.Leave < shift.From || r.Back > shift.To {
		c.say(BreachHours, r, "", "round.breach.hours")
	}
	c.walk(r, who, shift)
	c.load(r, shift)
}

// walk follows a route from stop to stop.
func (c *checker) walk(r *Route, who *Person, shift *Shift) {
	place, free := shift.Start, r.Leave
	taken := false
	var resting, over Seconds
	if r.Break.OK {
		resting, over = r.Break.V, r.Break.V+shift.Break.Length
	}
	// between says whether what lies between the end of one thing and the
	// beginning of the next has room for the drive, and for the break if it is
	// taken there.
	between := func(next int, arrive, start Seconds) bool {
		if r.Break.OK && !taken && resting >= free && over <= start {
			if c.reaches(place, next, over, arrive) || resting >= arrive && c.reaches(place, next, free, arrive) {
				taken = true
				return true
			}
		}
		return c.reaches(place, next, free, arrive)
	}
	for i := range r.Visits {
		v := &r.Visits[i]
		s := c.stop(v.Stop)
		if s == nil {
			c.say(BreachUnknown, r, v.Stop, "round.breach.no_such_stop")
			continue
		}
		if !c.known(s.Place) {
			c.say(BreachUnknown, r, v.Stop, "round.breach.no_position")
			continue
		}
		if !between(s.Place, v.Arrive, v.Start) || v.Start < v.Arrive || v.Done != v.Start+s.Work {
			c.say(BreachTimes, r, v.Stop, "round.breach.times")
		}
		c.visit(r, who, s, v)
		if s.KeptApart && i < len(r.Visits)-1 {
			c.say(BreachLast, r, v.Stop, "round.breach.last")
		}
		place, free = s.Place, v.Done
	}
	if !between(shift.End, r.Back, r.Back) {
		c.say(BreachTimes, r, "", "round.breach.back")
	}
	if b := shift.Break; b.Length > 0 {
		switch {
		case !r.Break.OK && r.Back > max(b.To, b.From):
			c.say(BreachBreak, r, "", "round.breach.no_break")
		case r.Break.OK && (!taken || resting < b.From || resting > max(b.To, b.From)):
			c.say(BreachBreak, r, "", "round.breach.break")
		}
	}
}

// visit looks at what one stop asks of whoever comes, and when.
func (c *checker) visit(r *Route, who *Person, s *Stop, v *Visit) {
	for _, k := range s.Skills {
		if !slices.Contains(who.Skills, k) {
			c.say(BreachSkill, r, s.ID, "round.breach.skill", say.Text("skill", k))
		}
	}
	if slices.Contains(s.Unsuited, who.ID) {
		c.say(BreachSkill, r, s.ID, "round.breach.unsuited")
	}
	for _, a := range s.Away {
		if r.Day >= a.From && r.Day <= a.To {
			c.say(BreachAway, r, s.ID, "round.breach.away")
		}
	}
	if s.NotBefore.OK && r.Day < s.NotBefore.V || s.NotAfter.OK && r.Day > s.NotAfter.V {
		c.say(BreachAway, r, s.ID, "round.breach.not_then")
	}
	if pr := s.Promised; pr.OK && (pr.V.Day != r.Day || v.Start < pr.V.From || v.Start > pr.V.To) {
		c.say(BreachPromise, r, s.ID, "round.breach.promise")
	}
	if k := s.Keep; k.OK && (k.V.Day != r.Day || k.V.Start.OK && k.V.Start.V != v.Start) {
		c.say(BreachLock, r, s.ID, "round.breach.keep")
	}
	inside := len(s.Windows) == 0
	for i := range s.Windows {
		w := s.Windows[i]
		fits := w.Weekday == r.Day.Weekday()
		if w.Day.OK {
			fits = w.Day.V == r.Day
		}
		// Windows that touch are one: the work may pass from one to the next.
		to := w.To
		for again := true; again && fits; {
			again = false
			for _, x := range s.Windows {
				same := x.Weekday == r.Day.Weekday()
				if x.Day.OK {
					same = x.Day.V == r.Day
				}
				if same && x.From <= to && x.To > to {
					to, again = x.To, true
				}
			}
		}
		inside = inside || fits && v.Start >= w.From && v.Start+s.Work <= to
	}
	if !inside {
		c.say(BreachWindow, r, s.ID, "round.breach.window")
	}
}

func (c *checker) load(r *Route, shift *Shift) {
	for _, van := range c.p.Vans {
		if van.ID != shift.Van || shift.Van == "" {
			continue
		}
		var sum Load
		for _, v := range r.Visits {
			s := c.stop(v.Stop)
			if s == nil {
				continue
			}
			sum.WaterL += max(s.Load.WaterL, 0)
			sum.Cylinders += max(s.Load.Cylinders, 0)
		}
		if sum.WaterL > van.Carries.WaterL || sum.Cylinders > van.Carries.Cylinders {
			c.say(BreachLoad, r, "", "round.breach.load", say.Text("van", van.Name))
		}
		return
	}
}

// places looks at each stop of the problem: there once, or listed as unplaced.
func (c *checker) places() {
	unplaced := map[string]int{}
	for _, u := range c.plan.Unplaced {
		unplaced[u.Stop]++
		if c.stop(u.Stop) == nil {
			c.say(BreachUnknown, nil, u.Stop, "round.breach.no_such_stop")
		}
	}
	for i := range c.p.Stops {
		s := &c.p.Stops[i]
		if c.stop(s.ID) != s {
			continue // a second one of the same ID
		}
		at, want := c.at[s.ID], 1
		if s.People >= 2 {
			want = 2
		}
		switch {
		case len(at) == 0 && unplaced[s.ID] == 0:
			c.say(BreachMissing, nil, s.ID, "round.breach.missing")
		case len(at) > 0 && unplaced[s.ID] > 0, len(at) > want, unplaced[s.ID] > 1 && c.stop(s.ID) == nil:
			c.say(BreachTwice, nil, s.ID, "round.breach.twice")
		case want == 2 && len(at) > 0 && (len(at) != 2 || at[0].person == at[1].person || at[0].day != at[1].day || at[0].visit.Start != at[1].visit.Start):
			c.say(BreachTogether, nil, s.ID, "round.breach.together")
		}
		if k := s.Keep; k.OK && len(at) > 0 {
			for _, wanted := range []string{k.V.Person, k.V.With} {
				if wanted != "" && !slices.ContainsFunc(at, func(w whereabouts) bool { return w.person == wanted }) {
					c.say(BreachLock, nil, s.ID, "round.breach.keep_person")
				}
			}
		}
	}
}
