package due

import (
	"cmp"
	"slices"
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

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
				if !f.Behind(b, day, s) {
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
			if f.Behind(b, r.Day, s) {
				past.Stops = append(past.Stops, s)
			}
		}
		if n := len(past.Stops); n > 0 {
			if n < len(r.Stops) {
				// Where nothing follows, the way home is the old one at best.
				past.Back = past.Stops[n-1].End + past.Home
			}
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
		if rested := to.Break; rested.OK && !r.Break.OK && f.Now.OK && rested.V <= seconds(f.Now.V) {
			r.Break = rested // it was taken before what is left of the day
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
		if g.Kind == round.GaveMoved {
			continue // told by Calls, with whom to phone
		}
		out.GaveUp = append(out.GaveUp, say.Render(g.Say, units))
	}
	for _, s := range plan.Said {
		out.GaveUp = append(out.GaveUp, say.Render(s, units))
	}
	slices.SortStableFunc(out.Routes, func(a, b Route) int { return cmp.Compare(a.Day, b.Day) })
	return out
}
