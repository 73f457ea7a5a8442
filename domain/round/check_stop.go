package round

import (
	"slices"

	"scaperound/domain/say"
)

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
		listed := 1 // as without a place, at most; of several of one ID only the first can have one
		for k := range c.p.Stops {
			if k != i && c.p.Stops[k].ID == s.ID {
				listed++
			}
		}
		if len(at) > 0 {
			listed--
		}
		if s.People >= 2 {
			want = 2
		}
		switch {
		case len(at) == 0 && unplaced[s.ID] == 0:
			c.say(BreachMissing, nil, s.ID, "round.breach.missing")
		case len(at) > want, unplaced[s.ID] > listed:
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
