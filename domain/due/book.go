package due

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// Book is a week's plan as it is kept, after one change.
type Book struct {
	ID, Base string // Base is what it was made from; empty: nothing
	Monday   q.Date
	What     string   // in words: what was changed
	How      string   // in words: how ways were reckoned
	GaveUp   []string // in words
	By       string   // a name
	At       time.Time
	Routes   []Route
	Left     []Left
}

// Route is one person's day.
type Route struct {
	Day         q.Date
	Person      string
	Leave, Back round.Seconds // of the day
	Home        round.Seconds // the way from the last stop
	Break       q.Opt[round.Seconds]
	Stops       []Placed
}

// Placed is a job in somebody's day. A job for two stands in both days.
type Placed struct {
	Job, Site string
	Tanks     []string
	With      string        // who else; empty: nobody
	Drive     round.Seconds // from the stop before
	Arrive    round.Seconds // of the day
	Begin     round.Seconds
	End       round.Seconds
	Kept      bool
}

// Left is a job that found no place.
type Left struct {
	Job, Site string
	Tanks     []string
	Reason    string // in words
	LetsIn    string // in words: the cheapest thing that would let it in
	Aside     bool   // by hand
}

// Week is a week as the round book shows it.
type Week struct {
	Monday   q.Date
	Planned  bool // there is a draft
	Draft    Book
	Handed   q.Opt[Book]
	HandedBy string // a name
	HandedAt q.Opt[time.Time]
	Newer    string // the plan that an undo came from; empty: none
}

// Out reports whether the draft is what was handed out.
func (w *Week) Out() bool { return w.Handed.OK && w.Handed.V.ID == w.Draft.ID }

// Monday is the first day of the week that holds the day.
func Monday(d q.Date) q.Date { return d - q.Date((int(d.Weekday())+6)%7) }

// Route finds a person's day; nil where there is none.
func (b Book) Route(person string, day q.Date) *Route {
	for i := range b.Routes {
		if b.Routes[i].Person == person && b.Routes[i].Day == day {
			return &b.Routes[i]
		}
	}
	return nil
}

// Find is where a job stands; ok is false where it has no place.
func (b Book) Find(job string) (r Route, p Placed, ok bool) {
	for _, r := range b.Routes {
		for _, p := range r.Stops {
			if p.Job == job {
				return r, p, true
			}
		}
	}
	return r, p, false
}

// behind reports whether a stop of a plan is over: its day is, or all of its
// tanks have been visited since.
func (f *Facts) behind(day q.Date, p Placed) bool {
	if day < f.Today {
		return true
	}
	if day > f.Today {
		return false
	}
	for _, id := range p.Tanks {
		if t := f.Tank(id); t != nil && !(t.Last.OK && t.Last.V >= day) {
			return false
		}
	}
	return len(p.Tanks) > 0
}

// number is the n of a job's name.
func number(job string) int {
	_, n, _ := strings.Cut(job, ".")
	v, err := strconv.Atoi(n)
	if err != nil {
		return 0
	}
	return v
}

// held is a job of a plan that is still ahead, or without a place.
type held struct {
	job, site string
	tanks     []string
	day       q.Opt[q.Date]
	person    string
	with      string
	kept      bool
	aside     bool
}

// ahead lists the jobs of a plan that are not over, by site and day.
func (f *Facts) ahead(b Book) []held {
	var out []held
	seen := map[string]bool{}
	for _, r := range b.Routes {
		for _, p := range r.Stops {
			if seen[p.Job] || f.behind(r.Day, p) {
				continue
			}
			seen[p.Job] = true
			out = append(out, held{job: p.Job, site: p.Site, tanks: p.Tanks, day: q.Some(r.Day), person: r.Person, with: p.With, kept: p.Kept})
		}
	}
	for _, l := range b.Left {
		if !seen[l.Job] {
			out = append(out, held{job: l.Job, site: l.Site, tanks: l.Tanks, aside: l.Aside})
		}
	}
	return out
}

// Now is a plan held against the facts as they are today: the jobs that are
// ahead under the names that the plan gives them, and those that are new.
type Now struct {
	Jobs  []Job
	Keep  map[string]round.Keep
	Aside map[string]bool // taken out by hand
	Gone  []string        // jobs of the plan that nobody asks for any more
	New   []string        // jobs that the plan does not know
}

// Match holds a plan against the facts.
func (f *Facts) Match(b Book) Now {
	out := Now{Keep: map[string]round.Keep{}, Aside: map[string]bool{}}
	top := map[string]int{}
	for _, r := range b.Routes {
		for _, p := range r.Stops {
			top[p.Site] = max(top[p.Site], number(p.Job))
		}
	}
	for _, l := range b.Left {
		top[l.Site] = max(top[l.Site], number(l.Job))
	}
	old := f.ahead(b)
	used := make([]bool, len(old))
	for _, j := range f.Jobs(nil) {
		if i := f.twin(old, used, j); i >= 0 {
			used[i] = true
			j.ID = old[i].job
			out.note(j.ID, old[i])
		} else {
			top[j.Site]++
			j.ID = JobID(j.Site, top[j.Site])
			out.New = append(out.New, j.ID)
		}
		out.Jobs = append(out.Jobs, j)
	}
	for i, o := range old {
		if used[i] || !o.day.OK {
			continue // what nobody asks for and has no place is simply gone
		}
		out.Gone = append(out.Gone, o.job)
		out.note(o.job, o)
		out.Jobs = append(out.Jobs, Job{ID: o.job, Site: o.site, Tanks: o.tanks, Due: o.day.V, From: f.first(), Until: f.From.Add(f.Days - 1)})
	}
	slices.SortStableFunc(out.Jobs, func(a, b Job) int {
		return cmp.Or(cmp.Compare(a.Due, b.Due), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (n *Now) note(job string, o held) {
	if o.kept && o.day.OK {
		n.Keep[job] = round.Keep{Day: o.day.V, Person: o.person, With: o.with}
	}
	if o.aside {
		n.Aside[job] = true
	}
}

// twin is the job of the plan that is meant by a job of the facts: of the same
// site, with a tank in common, on a day that suits where there is one. -1 is none.
func (f *Facts) twin(old []held, used []bool, j Job) int {
	best := -1
	for i, o := range old {
		if used[i] || o.site != j.Site || !slices.ContainsFunc(o.tanks, func(t string) bool { return slices.Contains(j.Tanks, t) }) {
			continue
		}
		if o.day.OK && j.From <= o.day.V && o.day.V <= j.Until {
			return i
		}
		if best < 0 {
			best = i
		}
	}
	return best
}

// Plan is the part of a book that is still ahead, as the planner reads it.
func (f *Facts) Plan(p round.Problem, b Book) round.Plan {
	var out round.Plan
	for day := p.From; day < p.From.Add(p.Days); day++ {
		for _, person := range p.People {
			r := b.Route(person.ID, day)
			if r == nil {
				continue
			}
			x := round.Route{Day: day, Person: person.ID, Leave: r.Leave, Back: r.Back, Break: r.Break, HomeDrive: r.Home}
			for _, s := range r.Stops {
				if !f.behind(day, s) {
					x.Visits = append(x.Visits, round.Visit{Stop: s.Job, Drive: s.Drive, Arrive: s.Arrive, Start: s.Begin, Done: s.End, With: s.With})
				}
			}
			out.Routes = append(out.Routes, x)
		}
	}
	return out
}

// Keep makes a book of a plan: what is behind comes from the book before, what
// is ahead from the plan. kept says which jobs are held where they are, aside
// which were taken out by hand.
func (f *Facts) Keep(b Book, n Now, plan round.Plan, kept, aside map[string]bool, units say.Units) Book {
	out := Book{Base: b.ID, Monday: f.From, How: b.How}
	for _, r := range b.Routes {
		past := r
		past.Stops = nil
		for _, s := range r.Stops {
			if f.behind(r.Day, s) {
				past.Stops = append(past.Stops, s)
			}
		}
		if len(past.Stops) > 0 {
			out.Routes = append(out.Routes, past)
		}
	}
	jobs := map[string]Job{}
	for _, j := range n.Jobs {
		jobs[j.ID] = j
	}
	for _, r := range plan.Routes {
		if len(r.Visits) == 0 {
			continue
		}
		to := out.Route(r.Person, r.Day)
		if to == nil {
			out.Routes = append(out.Routes, Route{Day: r.Day, Person: r.Person, Leave: r.Leave})
			to = &out.Routes[len(out.Routes)-1]
		}
		to.Back, to.Home, to.Break = r.Back, r.HomeDrive, r.Break
		visits := slices.Clone(r.Visits)
		if first := &visits[0]; len(to.Stops) == 0 && r.Break.OK && r.Break.V < first.Start {
			// Nobody leaves to rest, or to wait, before the first stop.
			first.Arrive = first.Start
			to.Break, to.Leave = q.Opt[round.Seconds]{}, first.Start-first.Drive
		}
		for _, v := range visits {
			j := jobs[v.Stop]
			to.Stops = append(to.Stops, Placed{Job: j.ID, Site: j.Site, Tanks: j.Tanks, With: v.With, Drive: v.Drive, Arrive: v.Arrive, Begin: v.Start, End: v.Done, Kept: kept[j.ID]})
		}
	}
	for _, u := range plan.Unplaced {
		j, ok := jobs[u.Stop]
		if !ok {
			continue
		}
		l := Left{Job: j.ID, Site: j.Site, Tanks: j.Tanks}
		var why []string
		for _, s := range u.Why {
			why = append(why, say.Render(s, units))
		}
		l.Reason = strings.Join(why, " ")
		if u.Remedy.ID != "" {
			l.LetsIn = say.Render(u.Remedy, units)
		}
		out.Left = append(out.Left, l)
	}
	for _, j := range n.Jobs {
		if _, _, placed := out.Find(j.ID); aside[j.ID] && !placed {
			out.Left = slices.DeleteFunc(out.Left, func(l Left) bool { return l.Job == j.ID })
			out.Left = append(out.Left, Left{Job: j.ID, Site: j.Site, Tanks: j.Tanks, Aside: true, Reason: say.Render(say.S("due.aside"), units)})
		}
	}
	for _, g := range plan.GaveUp {
		out.GaveUp = append(out.GaveUp, say.Render(g.Say, units))
	}
	for _, s := range plan.Said {
		out.GaveUp = append(out.GaveUp, say.Render(s, units))
	}
	slices.SortStableFunc(out.Routes, func(a, b Route) int { return cmp.Compare(a.Day, b.Day) })
	return out
}

// Kept are the jobs that a book holds where they are.
func (b Book) Kept() map[string]bool {
	out := map[string]bool{}
	for _, r := range b.Routes {
		for _, s := range r.Stops {
			if s.Kept {
				out[s.Job] = true
			}
		}
	}
	return out
}

// Without are the jobs but for those of the names.
func Without(jobs []Job, names map[string]bool) []Job {
	return slices.DeleteFunc(slices.Clone(jobs), func(j Job) bool { return names[j.ID] })
}

// Dropped are the jobs that the planner leaves out: taken out by hand, or asked
// for by nobody any more and not kept.
func (n *Now) Dropped() map[string]bool {
	out := map[string]bool{}
	for id := range n.Aside {
		out[id] = true
	}
	for _, id := range n.Gone {
		if _, kept := n.Keep[id]; !kept {
			out[id] = true
		}
	}
	return out
}
