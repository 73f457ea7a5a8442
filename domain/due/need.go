package due

import (
	"cmp"
	"slices"
	"strconv"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// need is one visit that one tank wants.
type need struct {
	tank             *Tank
	due, from, until q.Date // until is the last day that the agreement tolerates
	press            round.Press
}

// Job is a stop that the days want: a site with those of its tanks that fall due
// together.
type Job struct {
	ID, Site string
	Tanks    []string
	Due      q.Date
	// From and Until are the days that all of its tanks' agreements tolerate.
	From, Until q.Date
	Press       round.Press
	Promise     q.Opt[Promise]
}

// JobID names the nth stop of a site in a week, counted from 1.
func JobID(site string, n int) string { return site + "." + strconv.Itoa(n) }

// need says what a tank wants within the days: nothing, one visit or several.
// Beyond the last day it looks as far as the tank's own tolerance, for what can
// be taken along.
func (f *Facts) needs(t *Tank) []need {
	every, tolerance := t.Agreement.EveryDays.V, t.Agreement.ToleranceDays
	last := f.From.Add(f.Days - 1)
	var out []need
	if t.Agreement.EveryDays.OK && every > 0 {
		due := t.Began
		if was := t.was(); was.OK {
			due = was.V.Add(every)
		}
		press := round.Routine
		if t.Asks.Urgency == care.Now || t.Asks.Urgency == care.Today {
			press = round.NoSlip
		}
		for due <= last.Add(tolerance) && len(out) < f.Days {
			n := need{tank: t, due: due, from: due.Add(-tolerance), until: due.Add(tolerance), press: press}
			// What an open task wants to see is seen sooner, within the agreement.
			if l := t.Asks.LookOn; len(out) == 0 && l.OK && l.V < n.due {
				n.due = max(l.V, n.from)
			}
			if k := len(out); k > 0 {
				n.from = max(n.from, out[k-1].until+1)
			}
			out = append(out, n)
			// The one after is reckoned from when this one can be at the soonest.
			due = max(due, f.first()).Add(every)
			press = round.Routine
		}
	}
	if x := t.Asks.Extra; x.OK && x.V <= last && (!t.Last.OK || t.Last.V < x.V) && !(t.Planned.OK && t.Planned.V <= x.V) {
		out = f.withExtra(out, need{tank: t, due: x.V, from: f.first(), until: x.V, press: round.Urgent})
	}
	return out
}

// was is the last day on which somebody was there, or will have been when the
// days begin.
func (t *Tank) was() q.Opt[q.Date] {
	if t.Planned.OK && (!t.Last.OK || t.Last.V < t.Planned.V) {
		return t.Planned
	}
	return t.Last
}

// withExtra puts an extra visit before the others; the next one by the agreement
// goes along with it where its tolerance allows.
func (f *Facts) withExtra(by []need, extra need) []need {
	if len(by) > 0 && by[0].from <= extra.due {
		by = by[1:]
	}
	return append([]need{extra}, by...)
}

// first is the first of the days that is not over.
func (f *Facts) first() q.Date { return max(f.From, f.Today) }

// group is tanks of one site whose days have one in common.
type group struct {
	needs       []need
	from, until q.Date
}

func (g *group) takes(n need) bool {
	for _, other := range g.needs {
		if other.tank == n.tank {
			return false
		}
	}
	return max(g.from, n.from) <= min(g.until, n.until)
}

func (g *group) add(n need) {
	if len(g.needs) == 0 {
		g.from, g.until = n.from, n.until
	} else {
		g.from, g.until = max(g.from, n.from), min(g.until, n.until)
	}
	g.needs = append(g.needs, n)
}

// Jobs are the stops that the days want, site by site. done is how many stops of
// a site are behind us in these days already; theirs are the first names.
func (f *Facts) Jobs(done map[string]int) []Job {
	var out []Job
	for i := range f.Sites {
		s := &f.Sites[i]
		if s.Archived {
			continue
		}
		for k, g := range f.groups(s) {
			j := f.job(s, g)
			j.ID = JobID(s.ID, done[s.ID]+k+1)
			out = append(out, j)
		}
	}
	return out
}

// groups puts what a site's tanks want into stops.
func (f *Facts) groups(s *Site) []*group {
	last := f.From.Add(f.Days - 1)
	var must, may []need
	for i := range f.Tanks {
		if f.Tanks[i].Site != s.ID {
			continue
		}
		for _, n := range f.needs(&f.Tanks[i]) {
			if n.due <= last || n.until <= last {
				must = append(must, n)
			} else {
				may = append(may, n)
			}
		}
	}
	slices.SortStableFunc(must, func(a, b need) int { return cmp.Compare(a.due, b.due) })
	var all []*group
	put := func(n need, alone bool) {
		for _, g := range all {
			if g.takes(n) {
				g.add(n)
				return
			}
		}
		if alone {
			g := &group{}
			g.add(n)
			all = append(all, g)
		}
	}
	for _, n := range must {
		if n.until < f.first() {
			// Late already: it goes with whoever comes first.
			n.from, n.until = f.first(), last
			n.press = max(n.press, round.NoSlip)
		}
		put(n, true)
	}
	// What falls due just after the days is done along, never for itself.
	for _, n := range may {
		put(n, false)
	}
	return append(all, f.promised(s, all)...)
}

// promised are stops for promises that no group of the site can keep.
func (f *Facts) promised(s *Site, all []*group) []*group {
	var out []*group
	for _, p := range f.Promises {
		if p.Site != s.ID || slices.ContainsFunc(append(all, out...), func(g *group) bool { return g.from <= p.Day && p.Day <= g.until }) {
			continue
		}
		g := &group{from: p.Day, until: p.Day}
		for i := range f.Tanks {
			if f.Tanks[i].Site == s.ID {
				g.needs = append(g.needs, need{tank: &f.Tanks[i], due: p.Day, from: p.Day, until: p.Day})
			}
		}
		if len(g.needs) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// job is a group as a stop.
func (f *Facts) job(s *Site, g *group) Job {
	j := Job{Site: s.ID, From: g.from, Until: g.until, Due: g.until}
	for _, n := range g.needs {
		j.Tanks = append(j.Tanks, n.tank.ID)
		j.Due = min(j.Due, n.due)
		j.Press = max(j.Press, n.press)
	}
	j.Due = max(j.Due, g.from)
	for _, p := range f.Promises {
		if p.Site == s.ID && g.from <= p.Day && p.Day <= g.until && !j.Promise.OK {
			j.Promise = q.Some(p)
		}
	}
	return j
}
