package care

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// merge makes one task of all wishes of one action and subject.
func (p *planner) merge() {
	at := map[string]int{}
	p.tasks = make([]Task, 0, len(p.wishes))
	for _, w := range p.wishes {
		t := p.task(w)
		i, ok := at[t.Key()]
		if !ok {
			at[t.Key()] = len(p.tasks)
			p.tasks = append(p.tasks, t)
			continue
		}
		old := &p.tasks[i]
		p.step("merged", t.Action, say.S("plan.merged"))
		if t.Urgency.Level() < old.Urgency.Level() {
			old.Urgency, old.When, old.Day = t.Urgency, t.When, t.Day
		}
		old.Rank = min(old.Rank, t.Rank)
		// The rule that says how, says how much.
		if len(old.Amount) == 0 || old.Say.ID == "task.do" && t.Say.ID != "task.do" && len(t.Amount) > 0 {
			old.Amount = t.Amount
		}
		if old.Expect == nil || old.Expect.Kind == "" && t.Expect != nil && t.Expect.Kind != "" {
			old.Expect, old.LookOn = t.Expect, t.LookOn
		}
		if t.weight > old.weight {
			old.Cause = t.Cause
		}
		// What is said for people's safety is not softened by a rule that knows of less.
		if old.Say.ID == "task.do" && (old.Rank != RankPeople || t.Rank != RankPeople) {
			old.Say = t.Say
		}
		old.Minutes = max(old.Minutes, t.Minutes)
		old.weight = max(old.weight, t.weight)
		old.Bring = union(old.Bring, t.Bring)
		old.Cautions = union(old.Cautions, t.Cautions)
		for _, why := range t.Why {
			if !slices.ContainsFunc(old.Why, func(o Reason) bool { return o.Rule == why.Rule || o.Say.ID == why.Say.ID }) {
				old.Why = append(old.Why, why)
			}
		}
	}
}

func union(a, b []string) []string {
	for _, x := range b {
		if !slices.Contains(a, x) {
			a = append(a, x)
		}
	}
	return a
}

func (p *planner) task(w wished) Task {
	act := ActionOf(w.Action)
	t := Task{
		Action: w.Action, Subject: w.Subject, When: w.When, Day: w.Day, Who: w.Who, Urgency: w.from.Urgency, Rank: w.Rank,
		Amount: w.Amount, Minutes: w.Minutes, Expect: w.Expect, Say: w.Say, Cause: w.Cause, weight: w.Weight,
		Bring: union(slices.Clone(act.Bring), w.Bring), Cautions: union(slices.Clone(act.Caution), w.Cautions),
		Why: []Reason{{Rule: w.from.Rule, Say: w.from.Say, Calc: w.from.Calc, Source: sourceOf(w.from.Rule)}},
	}
	if t.When == "" && (t.Action == "measure_late" || t.Action == "measure_dawn_o2" || t.Action == "test_nh3_no2" && p.v.nitrogenKnown()) {
		// The day is not over, or it was read just now: look again.
		t.When = WhenNextVisit
		if w.from.Urgency.Level() <= Today.Level() {
			t.When, t.Day = WhenOnDay, q.Some(p.v.Now.Day.Add(1))
			if t.Action == "test_nh3_no2" && t.Say.ID == "" {
				t.Say = say.S("instead.nitrogen_again")
			}
		}
	}
	if t.When == "" {
		switch w.from.Urgency {
		case Now:
			t.When = WhenNow
		case Today:
			t.When = WhenToday
		case ThisVisit:
			t.When = WhenThisVisit
		default:
			t.When = WhenNextVisit
		}
	}
	if act.Family == "change" && len(t.Amount) == 0 {
		t.Amount = p.v.water(shareOf(t.Action))
	}
	if t.Say.ID == "" && t.Action == "wc_matched" {
		t.Say = p.v.matchWords()
	}
	if t.Say.ID == "" {
		t.Say = say.S("task.do", say.Word("action", "action."+w.Action))
	}
	if t.Minutes == 0 {
		t.Minutes = act.Minutes
	}
	if t.Who == "" && t.Action == "extra_visit" {
		t.Who = Owner
	}
	if t.Who == "" && act.Told {
		t.Who = Customer
	}
	if t.Who == "" {
		t.Who = Technician
		if p.customerMay(act) {
			t.Who = Customer
		}
	}
	if t.Expect != nil && t.Expect.Days > 0 {
		t.LookOn.V, t.LookOn.OK = p.v.Now.Day.Add(p.v.lookAfter(t.Expect.Days, t.Rank)), true
	}
	return t
}

// customerMay reports whether the action is within what this customer does.
// Weighing salts, touching a regulator and opening a filter never are.
func (p *planner) customerMay(a Action) bool {
	s := p.v.Setup.Share
	switch a.Share {
	case "any":
		return s.Feeds || s.TopsUp || s.Doses || s.ChangesWater
	case "feeds":
		return s.Feeds || p.v.Has("owner_feeds_several_times_a_day")
	case "tops_up":
		return s.TopsUp || p.v.Has("owner_tops_off_with_tap")
	case "leaves_out":
		return s.Doses
	}
	return false
}

func sourceOf(rule string) string {
	for i := range rules {
		if rules[i].ID == rule {
			return rules[i].Source
		}
	}
	return ""
}
