package round

import (
	"time"

	"scaperound/domain/say"
)

// cost prices a plan anew, stop by stop and shift by shift.
func (c *checker) cost() {
	w := c.p.Weights
	if w == (Weights{}) {
		w = DefaultWeights()
	}
	var want Cost
	for i := range c.p.Stops {
		s := &c.p.Stops[i]
		if at := c.at[s.ID]; len(at) > 0 && c.stop(s.ID) == s {
			c.priceStop(&want, w, s, at)
			continue
		}
		switch s.Press {
		case Urgent:
			want.Unplaced += 8 * w.Unplaced
		case NoSlip:
			want.Unplaced += 4 * w.Unplaced
		default:
			want.Unplaced += w.Unplaced
		}
	}
	for i := range c.plan.Routes {
		r := &c.plan.Routes[i]
		if who := c.person(r.Person); who != nil && len(r.Visits) > 0 {
			if shift := c.shift(who, r.Day); shift != nil {
				c.priceRoute(&want, w, r, shift)
			}
		}
	}
	want.Total = want.Unplaced + want.Urgent + want.Due + want.Weekday + want.Moved + want.Drive + want.Uneven + want.Person
	got := c.plan.Cost
	if got != want {
		c.out = append(c.out, Breach{Rule: BreachCost, Say: say.S("round.breach.cost")})
	}
}

func (c *checker) priceStop(to *Cost, w Weights, s *Stop, at []whereabouts) {
	late := int64(at[0].day) - int64(s.Due)
	switch {
	case s.Press == Urgent && late > 0:
		to.Urgent += late * w.UrgentLate
		to.Due += late * w.OffDue
	case s.Press == Urgent:
	default:
		size := late
		if size < 0 {
			size = -size
		}
		to.Due += size * w.OffDue
		if over := late - int64(max(s.LateDays, 0)); over > 0 {
			if s.Press == NoSlip {
				to.Due += over * w.SlipLate
			} else {
				to.Due += over * w.OutOfDays
			}
		}
		if over := -late - int64(max(s.EarlyDays, 0)); over > 0 && s.Press == Routine {
			to.Due += over * w.OutOfDays
		}
	}
	if s.Weekday.OK && time.Weekday(at[0].day.Weekday()) != s.Weekday.V {
		to.Weekday += w.Weekday
	}
	for _, x := range at {
		price := int64(0)
		if s.Prefer != "" && s.Prefer != x.person {
			price += w.NotPrefer
		}
		if s.LastBy != "" && s.LastBy != x.person {
			price += w.NotLast
		}
		if s.People >= 2 {
			price /= 2
		}
		to.Person += price
		if c.movedFromKnown(s.ID, x) {
			to.Moved += w.Moved
		}
	}
}

// movedFromKnown says whether somebody does a stop whom the known plan had not
// down for it, or on another day.
func (c *checker) movedFromKnown(stop string, x whereabouts) bool {
	if c.p.Known == nil {
		return false
	}
	held := false
	for _, r := range c.p.Known.Routes {
		for _, v := range r.Visits {
			if v.Stop != stop || c.person(r.Person) == nil {
				continue
			}
			held = true
			if r.Person == x.person && r.Day == x.day {
				return false
			}
		}
	}
	return held
}

func (c *checker) priceRoute(to *Cost, w Weights, r *Route, shift *Shift) {
	n, place, work := len(c.p.Places), shift.Start, int64(0)
	way := func(next int) {
		if place != next && c.known(place) && c.known(next) {
			to.Drive += int64(c.travel.Drive[place*n+next])
			if len(c.travel.Metres) == n*n {
				to.Metres += int64(c.travel.Metres[place*n+next])
			}
		}
		place = next
	}
	for _, v := range r.Visits {
		if s := c.stop(v.Stop); s != nil {
			way(s.Place)
			work += int64(max(s.Work, 0))
		}
	}
	way(shift.End)
	length := max(int64(shift.To-shift.From), 3600)
	to.Uneven += w.Uneven * work * work / (2 * length * 3600)
}
