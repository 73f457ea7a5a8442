package due

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

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
			if seen[p.Job] || f.Behind(b, r.Day, p) {
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
