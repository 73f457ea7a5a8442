package round

import "scaperound/domain/say"

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
