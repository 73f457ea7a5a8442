package care

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// followUp holds the wishes against what was open: a task that is wished again
// is renewed, one whose rules looked and found nothing is withdrawn, and one
// whose rules could not look stays as it was. While people are in danger (alone)
// it waits.
func (p *planner) followUp(alone bool) {
	answered := map[string]string{}
	for _, t := range p.v.Now.Tasks {
		answered[t.Task] = t.State
	}
	for i := range p.tasks {
		p.tasks[i].Opened = q.Some(p.v.Now.Day)
	}
	for _, open := range p.v.Open {
		switch state := answered[open.ID]; {
		case open.ID != "" && (state == "done" || state == "not_needed" || state == "declined"):
			p.followDone(open, state)
			continue
		case open.ID != "" && state == "skipped":
			open.Skips++
		}
		at := slices.IndexFunc(p.tasks, func(t Task) bool { return t.Key() == open.Key() })
		if at >= 0 {
			t := &p.tasks[at]
			t.ID, t.Renewed, t.Skips = open.ID, true, open.Skips
			if open.Opened.OK {
				t.Opened = open.Opened
			}
			p.step("renewed", t.Action, say.S("plan.renewed"))
			continue
		}
		if why, gone := p.settled(open); gone {
			p.a.Withdrawn = append(p.a.Withdrawn, Withdrawn{open, why})
			p.step("withdrawn", open.Action, why)
			continue
		}
		open.Renewed = true
		if alone && open.Rank != RankPeople {
			p.a.Later = append(p.a.Later, open)
			continue
		}
		p.tasks = append(p.tasks, open)
	}
}

// followDone looks at a task that was answered: one that was done and is
// wished again was not enough yet, so it stays on the list as a new one.
func (p *planner) followDone(open Task, state string) {
	at := slices.IndexFunc(p.tasks, func(t Task) bool { return t.Key() == open.Key() })
	switch {
	case state == "done" && at >= 0 && p.tasks[at].When == WhenThisVisit:
		// It was done at this visit; the readings are from before.
		p.step("kept", open.Action, say.S("plan.done_now"))
		p.tasks = slices.Delete(p.tasks, at, at+1)
	case state == "done" && at >= 0:
		p.step("kept", open.Action, say.S("plan.done_wished_again"))
	case state == "declined" && at >= 0 && p.tasks[at].Rank > RankAnimals:
		p.step("vetoed", open.Action, say.S("plan.declined"))
		p.tasks = slices.Delete(p.tasks, at, at+1)
	case state == "not_needed" && at >= 0 && p.tasks[at].Rank > RankAnimals:
		p.step("vetoed", open.Action, say.S("plan.not_needed"))
		p.tasks = slices.Delete(p.tasks, at, at+1)
	}
}

// settled reports whether an open task is no longer called for: it is banned
// now, or every rule behind it looked again and did not wish it.
func (p *planner) settled(open Task) (say.Sentence, bool) {
	if ActionOf(open.Action).Never && open.Action != "" {
		return say.S("plan.banned_now"), true
	}
	for _, r := range p.a.Refused {
		if r.Action == open.Action {
			return say.S("plan.banned_now"), true
		}
	}
	if len(open.Why) == 0 {
		return say.Sentence{}, false
	}
	for _, why := range open.Why {
		looked := slices.ContainsFunc(p.a.Trace, func(s Step) bool {
			return s.At == why.Rule && (s.What == "fine" || s.What == "hit" || s.What == "not_applicable")
		})
		if !looked && slices.ContainsFunc(rules, func(r Rule) bool { return r.ID == why.Rule }) {
			return say.Sentence{}, false
		}
	}
	return say.S("plan.settled"), true
}
