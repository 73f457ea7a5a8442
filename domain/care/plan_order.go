package care

import (
	"cmp"
	"slices"

	"scaperound/domain/num"
	"scaperound/domain/say"
)

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
	repair := slices.ContainsFunc(p.tasks, func(t Task) bool { return t.Action == "swap_cylinder" })
	for i := range p.tasks {
		t := &p.tasks[i]
		if a := ActionOf(t.Action).Alters; a == "" || a == "co2" && repair {
			continue // what was there before comes back: that is no change
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
		if a == "" || a == kind || a == "co2" && repair || t.Rank <= RankAnimals || p.oneRemedy(*first, t) {
			return false
		}
		p.step("postponed", t.Action, say.S("plan.one_change"))
		p.a.Later = append(p.a.Later, t)
		return true
	})
}

// oneRemedy reports two tasks that are one remedy: less light and phosphate where
// hard spots sit in water without any.
func (p *planner) oneRemedy(a, b Task) bool {
	light := a.Action == "light_down" || b.Action == "light_down"
	food := a.Action == "dose_po4" || b.Action == "dose_po4"
	return light && food && p.v.spotsWithoutPhosphate()
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
	// A test of tomorrow does not stand among what is done today.
	level := func(t Task) int {
		if t.When == WhenOnDay && ActionOf(t.Action).Test && t.Day.OK && t.Day.V > p.v.Now.Day {
			return max(t.Urgency.Level(), ThisVisit.Level())
		}
		return t.Urgency.Level()
	}
	num.SortStable(p.tasks, func(a, b Task) int {
		return cmp.Or(
			cmp.Compare(level(a), level(b)),
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
