package due

import (
	"cmp"
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// Reached is a stop of today at which somebody has arrived.
type Reached struct {
	Stop, Site string
	People     []string // staff ids
	Arrived    q.MinuteOfDay
	Left       q.Opt[q.MinuteOfDay]
	Outcome    visit.StopOutcome
	Tanks      []string // those that the round handed out sends somebody for; none for a stop beside it
}

// holds reports whether the tanks that the stop was made for are seen to: now,
// or already.
func (r Reached) holds() bool { return r.Outcome == visit.UnderWay || r.Outcome == visit.StopDone }

// Reach takes over the stops of today. Their tanks are seen to today, though
// their visits may still wait on a tablet.
func (f *Facts) Reach(stops []Reached) {
	f.Reached = stops
	for _, r := range stops {
		if !r.holds() {
			continue
		}
		for _, id := range r.Tanks {
			if t := f.Tank(id); t != nil {
				t.Planned = q.Some(max(t.Planned.V, f.Today))
			}
		}
	}
}

// ReachedAt is what is known of a planned stop's call: of several calls at a
// site on one day the first is the first planned one, and so on. ok is false where
// nobody has arrived.
func (f *Facts) ReachedAt(b Book, day q.Date, p Placed) (r Reached, ok bool) {
	if day != f.Today {
		return r, false
	}
	var calls []Reached
	for _, r := range f.Reached {
		if r.Site == p.Site {
			calls = append(calls, r)
		}
	}
	if len(calls) == 0 {
		return r, false
	}
	var planned []Placed
	for _, route := range b.Routes {
		for _, s := range route.Stops {
			if route.Day == day && s.Site == p.Site && !slices.ContainsFunc(planned, func(x Placed) bool { return x.Job == s.Job }) {
				planned = append(planned, s)
			}
		}
	}
	slices.SortStableFunc(planned, func(a, b Placed) int { return cmp.Compare(a.Begin, b.Begin) })
	n := slices.IndexFunc(planned, func(x Placed) bool { return x.Job == p.Job })
	if n < 0 || n >= len(calls) {
		return r, false
	}
	return calls[n], true
}

// Behind reports whether a stop of a plan is over or under way: its day is over,
// somebody has arrived there today, or all of its tanks have been visited since.
func (f *Facts) Behind(b Book, day q.Date, p Placed) bool {
	switch {
	case day < f.Today:
		return true
	case day > f.Today:
		return false
	}
	if _, reached := f.ReachedAt(b, day, p); reached {
		return true
	}
	for _, id := range p.Tanks {
		if t := f.Tank(id); t != nil && !(t.Last.OK && t.Last.V >= day) {
			return false
		}
	}
	return len(p.Tanks) > 0
}

// silence is how long after the beginning of somebody's hours the owner is told
// that nothing was heard of them.
const silence = 90 * round.Minute

// rest is what is left of somebody's shift today: it begins now, or when the stop
// under way will be done, and where they arrived last. ok is false where the
// day is as it is written down.
func (b *builder) rest(p *Person, s round.Shift) (round.Shift, bool) {
	f := b.facts
	if !f.Now.OK || f.Today < f.first() || slices.ContainsFunc(p.Leave, func(l Leave) bool { return l.Covers(f.Today) }) {
		return s, false
	}
	now := seconds(f.Now.V)
	var last *Reached
	for i := range f.Reached {
		if slices.Contains(f.Reached[i].People, p.ID) {
			last = &f.Reached[i]
		}
	}
	if last == nil && now <= s.From {
		return s, false
	}
	if last == nil && now >= s.From+silence && now < s.To {
		b.tell("due.not_heard", say.Text("who", p.Name))
	}
	s.Day, s.From = f.Today, max(s.From, now)
	if last != nil {
		if site := f.Site(last.Site); site != nil && site.Position.OK {
			s.Start = b.place(round.Place{ID: site.ID, Name: site.Name}, site.Position)
			if last.Outcome == visit.UnderWay {
				s.From = max(s.From, seconds(last.Arrived)+round.Seconds(f.Minutes(site, f.seenTo(*last)))*round.Minute)
			}
		}
	}
	// A day that is over has no hours left.
	s.From = min(s.From, s.To)
	switch rest := &s.Break; {
	case rest.Length == 0:
	case s.From > rest.To:
		*rest = round.Break{}
	default:
		rest.From = max(rest.From, s.From)
	}
	return s, true
}

// seenTo are the tanks of a stop: those it was planned for, else all of the site.
func (f *Facts) seenTo(r Reached) []string {
	if len(r.Tanks) > 0 {
		return r.Tanks
	}
	var out []string
	for _, t := range f.Tanks {
		if t.Site == r.Site {
			out = append(out, t.ID)
		}
	}
	return out
}

// Hold gives back to each route that a change left alone the times that people
// know: those whose stops are the same, in the same order, or in any order where
// the day is not the one that was dealt out anew.
func (b *Book) Hold(was Book, anew q.Opt[q.Date]) {
	for i := range b.Routes {
		now := &b.Routes[i]
		old := was.Route(now.Person, now.Day)
		if old == nil || anew.OK && now.Day == anew.V {
			continue
		}
		kept := map[string]bool{}
		for _, s := range now.Stops {
			kept[s.Job] = s.Kept
		}
		if !same(jobsOf(*old), jobsOf(*now), anew.OK) {
			continue
		}
		*now = *old
		now.Stops = slices.Clone(old.Stops)
		for k := range now.Stops {
			now.Stops[k].Kept = kept[now.Stops[k].Job]
		}
	}
}

func jobsOf(r Route) []string {
	var out []string
	for _, s := range r.Stops {
		out = append(out, s.Job+" "+s.With)
	}
	return out
}

func same(a, b []string, inAnyOrder bool) bool {
	if inAnyOrder {
		slices.Sort(a)
		slices.Sort(b)
	}
	return slices.Equal(a, b)
}
