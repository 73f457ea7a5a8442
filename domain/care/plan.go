package care

import (
	"cmp"
	"slices"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Ceiling is the most tasks that a list may hold; what must be done now or
// today is never cut.
const Ceiling = 8

// wished is a wish with the finding that made it.
type wished struct {
	Wish
	from *Finding
}

// planner turns wishes into tasks. It alone decides: by rank it vetoes, within
// a family it chooses, it merges, puts in order, and follows up what was open.
type planner struct {
	v      *View
	a      *Assessment
	wishes []wished
	tasks  []Task
}

func decide(v *View, a *Assessment) {
	p := &planner{v: v, a: a}
	n := 0
	for i := range a.Findings {
		n += len(a.Findings[i].Wishes)
	}
	p.wishes = make([]wished, 0, n)
	for i := range a.Findings {
		f := &a.Findings[i]
		for _, w := range f.Wishes {
			p.wishes = append(p.wishes, wished{w, f})
		}
		if f.Hold != "" && a.HoldFor != "death" {
			a.HoldFor = f.Hold
		}
	}
	p.refuseNever()
	p.veto()
	alone := p.alone()
	p.merge()
	p.followUp(alone)
	p.chooseInFamilies()
	p.sampleFirst()
	p.dropIdle()
	p.dropExtra()
	p.oneChangeAtATime()
	p.order()
	p.ceiling()
	a.Tasks = p.tasks
	p.conclude()
}

func (p *planner) step(what, on string, s say.Sentence) {
	p.a.Trace = append(p.a.Trace, Step{At: "planner", What: what, On: on, Say: s})
}

func (p *planner) refuse(r Refusal) {
	for i := range p.a.Refused {
		if p.a.Refused[i].Action == r.Action {
			p.a.Refused[i].Asked = p.a.Refused[i].Asked || r.Asked
			if r.Rank < p.a.Refused[i].Rank {
				p.a.Refused[i].Rank, p.a.Refused[i].Why, p.a.Refused[i].Rule = r.Rank, r.Why, r.Rule
			}
			return
		}
	}
	p.a.Refused = append(p.a.Refused, r)
}

// refuseNever strikes out what the product never advises.
func (p *planner) refuseNever() {
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Action == "" || !ActionOf(w.Action).Never {
			return false
		}
		p.refuse(Refusal{Action: w.Action, Rule: w.from.Rule, Rank: w.Rank, Asked: true, Why: say.S("refused.never")})
		p.step("vetoed", w.Action, say.S("refused.never"))
		return true
	})
}

// veto lets every ban of a wish's own rank or a higher one stand.
func (p *planner) veto() {
	type ban struct {
		Forbid
		rank Rank
		rule string
	}
	bans := map[string]ban{}
	for _, w := range p.wishes {
		for _, f := range w.Forbids {
			b, ok := bans[f.Action]
			if !ok || w.Rank < b.rank {
				bans[f.Action] = ban{f, w.Rank, w.from.Rule}
			}
		}
	}
	hit, standing := map[string]bool{}, map[string]bool{}
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Action == "" {
			return true
		}
		b, ok := bans[w.Action]
		if ok && b.rank <= w.Rank {
			hit[w.Action] = true
			p.step("vetoed", w.Action, b.Why)
			return true
		}
		if ok {
			p.step("kept", w.Action, say.S("plan.outranks", say.Word("rank", "rank."+w.Rank.String())))
		}
		standing[w.Action] = true
		return false
	})
	// In the order of the actions, so that the list is the same every time.
	for i := range actions {
		if b, ok := bans[actions[i].ID]; ok && !standing[actions[i].ID] {
			p.refuse(Refusal{Action: b.Action, Rule: b.rule, Rank: b.rank, Asked: hit[b.Action], Why: b.Why})
		}
	}
}

// alone clears the list of all but the people's safety while that is at stake.
func (p *planner) alone() bool {
	if !slices.ContainsFunc(p.wishes, func(w wished) bool { return w.Alone }) {
		return false
	}
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Alone || w.Rank == RankPeople {
			return false
		}
		p.step("postponed", w.Action, say.S("plan.people_first"))
		return true
	})
	return true
}

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
		return s.TopsUp
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

// chooseInFamilies keeps one action of each family: the first in the order of
// actions, which is the safer or stronger one.
func (p *planner) chooseInFamilies() {
	best := map[string]int{}
	for _, t := range p.tasks {
		a := ActionOf(t.Action)
		if a.Family == "" {
			continue
		}
		if b, ok := best[a.Family]; !ok || a.Order < b {
			best[a.Family] = a.Order
		}
	}
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		a := ActionOf(t.Action)
		if a.Family == "" || a.Order == best[a.Family] {
			return false
		}
		why := say.S("plan.other_chosen", say.Word("action", "action."+actions[best[a.Family]].ID))
		p.step("merged", t.Action, why)
		if t.Renewed {
			p.a.Withdrawn = append(p.a.Withdrawn, Withdrawn{t, why})
		}
		return true
	})
}

// sampleFirst puts the sample of the old water before whatever alters the water.
func (p *planner) sampleFirst() {
	at := slices.IndexFunc(p.tasks, func(t Task) bool { return t.Action == "keep_water_sample" })
	if at < 0 {
		return
	}
	for i := range p.tasks {
		if t := &p.tasks[i]; (ActionOf(t.Action).Family == "change" || t.Action == "carbon" || t.Action == "dechlorinate") && t.Urgency.Level() < p.tasks[at].Urgency.Level() {
			p.tasks[at].Urgency, p.tasks[at].When, p.tasks[at].Day = t.Urgency, t.When, t.Day
		}
	}
}

// dropIdle strikes out "change nothing else" beside something that changes.
func (p *planner) dropIdle() {
	changes := slices.ContainsFunc(p.tasks, func(t Task) bool {
		a := ActionOf(t.Action)
		return !a.Test && !a.Told && a.Minutes > 0
	})
	if !changes {
		return
	}
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		if t.Action != "do_nothing_else" {
			return false
		}
		p.step("postponed", t.Action, say.S("plan.other_work"))
		return true
	})
}

// soon is how many days may pass until an agreed visit that makes an extra one
// needless, where nothing presses.
const soon = 4

// dropExtra strikes out an extra visit where the agreed one is as near.
func (p *planner) dropExtra() {
	every := p.v.Setup.Agreement.EveryDays
	if !every.OK || every.V > soon {
		return
	}
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		if t.Action != "extra_visit" || t.Urgency.Level() <= Today.Level() {
			return false
		}
		p.step("merged", t.Action, say.S("plan.visit_is_near"))
		return true
	})
}

// oneChangeAtATime keeps one kind of change (light, CO2, nutrients) where cause
// and effect must be seen. Cleaning and trimming do not count, and what the
// animals need is never put off.
func (p *planner) oneChangeAtATime() {
	var first *Task
	for i := range p.tasks {
		t := &p.tasks[i]
		if ActionOf(t.Action).Alters == "" {
			continue
		}
		if first == nil || before(*t, *first) {
			first = t
		}
	}
	if first == nil {
		return
	}
	kind := ActionOf(first.Action).Alters
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		a := ActionOf(t.Action).Alters
		if a == "" || a == kind || t.Rank <= RankAnimals {
			return false
		}
		p.step("postponed", t.Action, say.S("plan.one_change"))
		p.a.Later = append(p.a.Later, t)
		return true
	})
}

// before orders tasks: urgency, rank, weight of the cause, order of work.
func before(a, b Task) bool { return compareTasks(a, b) < 0 }

func compareTasks(a, b Task) int {
	return cmp.Or(
		cmp.Compare(a.Urgency.Level(), b.Urgency.Level()),
		cmp.Compare(a.Rank, b.Rank),
		cmp.Compare(b.weight, a.weight),
		cmp.Compare(ActionOf(a.Action).Order, ActionOf(b.Action).Order),
		cmp.Compare(a.Subject, b.Subject),
	)
}

func (p *planner) order() {
	num.SortStable(p.tasks, func(a, b Task) int {
		return cmp.Or(
			cmp.Compare(a.Urgency.Level(), b.Urgency.Level()),
			cmp.Compare(a.Rank, b.Rank),
			cmp.Compare(ActionOf(a.Action).Order, ActionOf(b.Action).Order),
			cmp.Compare(a.Subject, b.Subject),
		)
	})
}

// ceiling keeps the list short enough to be done. What is only told, or is the
// owner's to decide, takes no time at the tank and is not counted.
func (p *planner) ceiling() {
	i := -1
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		if ActionOf(t.Action).Told || t.Who == Owner {
			return false
		}
		i++
		if i < Ceiling || t.Urgency.Level() <= Today.Level() {
			return false
		}
		p.step("postponed", t.Action, say.S("plan.ceiling", say.Num("n", Ceiling, "", 0)))
		p.a.Later = append(p.a.Later, t)
		return true
	})
}

// lookAfter is after how many days a task is looked at again: where plants or
// looks alone wait for it, at a visit that is agreed anyway.
func (v *View) lookAfter(days int, rank Rank) int {
	every := v.Setup.Agreement.EveryDays
	if rank <= RankAnimals || !every.OK || every.V <= 0 {
		return days
	}
	return (days + every.V - 1) / every.V * every.V
}
