package care

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// followedFor is for how many days a task that was done is looked at, and for
// how many a remedy in vain or a customer's no is remembered.
const followedFor = 70

// followClosed holds the tasks that were done against what they were expected to
// do. The first look that can tell decides; what was decided at an earlier visit
// is not told again, and a remedy that did nothing goes on speaking against its
// cause.
func (v *View) followClosed() {
	// Of several rounds of one task the newest counts.
	newest := make(map[string]int, len(v.Closed))
	for i := range v.Closed {
		newest[v.Closed[i].Task.Key()] = i
	}
	for i := range v.Closed {
		c := &v.Closed[i]
		if newest[c.Task.Key()] != i || c.On >= v.Now.Day || v.Now.Day-c.On > followedFor || c.State != "done" || c.Task.Expect == nil {
			continue
		}
		verdict, value, at := v.verdict(c)
		if verdict == DidNot {
			v.inVain(&c.Task)
		}
		if verdict == "" || at < v.Now.Day {
			continue
		}
		v.Followed = append(v.Followed, FollowUp{
			Action: c.Task.Action, Subject: c.Task.Subject, Cause: c.Task.Cause, Since: c.On, Verdict: verdict,
			Say: outcome(&c.Task, c.On, verdict, value),
		})
	}
}

// verdict goes through the visits since the task was done up to this one; at is
// the day of the one that could tell.
func (v *View) verdict(c *Closed) (verdict Verdict, value float64, at q.Date) {
	start := len(v.History)
	for start > 0 && v.History[start-1].Day > c.On {
		start--
	}
	for i := start; i <= len(v.History); i++ {
		r := &v.Now
		if i < len(v.History) {
			r = &v.History[i]
		}
		if got, x, ok := judgeOutcome(c, r); ok {
			verdict, value, at = got, x, r.Day
			if got != NotYet {
				return verdict, value, at
			}
		}
	}
	return verdict, value, at
}

// judgeOutcome is what one visit says of a task; ok is false where nobody looked.
func judgeOutcome(c *Closed, r *visit.Record) (Verdict, float64, bool) {
	e := c.Task.Expect
	good, value := true, 0.0
	if e.Kind != "" {
		x, ok := r.Tankwater(e.Kind)
		if !ok {
			return "", 0, false
		}
		x, value = widened(x), x.Value
		// What the kit can mean counts: a class that reaches into the range is no
		// failure.
		good = x.Hi >= e.Lo && x.Lo <= e.Hi
	} else {
		looked := false
		for _, s := range e.Signs {
			if r.Has(s) {
				good = false
			}
			if d, ok := visit.SignOf(s); ok && r.Looks[visit.Look(d.Group)] != visit.NotLooked {
				looked = true
			}
		}
		if good && !looked {
			return "", 0, false
		}
	}
	switch {
	case good:
		return Worked, value, true
	case int(r.Day-c.On) < e.Days:
		return NotYet, value, true
	}
	return DidNot, value, true
}

// inVain lets a remedy that did nothing speak: against its cause where signs
// stayed, for a dose that never arrived where a reading did not move.
func (v *View) inVain(t *Task) {
	what := t.Cause
	if t.Expect.Kind != "" && doseOf[t.Action] != nil {
		v.doseInVain = true
		return
	}
	if what == "" {
		return
	}
	if v.Tried == nil {
		v.Tried, v.failed = map[string]bool{}, map[string]bool{}
	}
	v.failed[t.Key()] = true
	v.Tried[what] = true
}

func outcome(t *Task, on q.Date, verdict Verdict, value float64) say.Sentence {
	e := t.Expect
	args := []say.Arg{say.Word("action", "action."+t.Action), say.Day("day", on)}
	if e.Kind == "" {
		return say.S("follow.signs."+string(verdict), args...)
	}
	m, _ := q.MeasureOf(e.Kind)
	args = append(args, say.Text("what", m.Title), say.Reading("read", e.Kind, value), say.Num("lo", e.Lo, "", m.DecimalsAt(e.Hi)), say.Reading("hi", e.Kind, e.Hi))
	if e.Lo <= 0 {
		return say.S("follow.below."+string(verdict), args...)
	}
	return say.S("follow.reading."+string(verdict), args...)
}

// declinedBefore reports whether the customer said no to the task of late.
func (v *View) declinedBefore(key string) (Closed, bool) {
	for i := len(v.Closed) - 1; i >= 0; i-- {
		if c := &v.Closed[i]; c.Task.Key() == key && v.Now.Day-c.On <= followedFor {
			return *c, c.State == "declined"
		}
	}
	return Closed{}, false
}

// followOpen tells what has come of tasks at this visit besides being done: a
// no, and a second time of putting off.
func (p *planner) followOpen(t *Task, state string) {
	f := FollowUp{Action: t.Action, Subject: t.Subject, Cause: t.Cause, Since: p.v.Now.Day}
	action := say.Word("action", "action."+t.Action)
	switch {
	case state == "declined":
		f.Verdict, f.Say = Declined, say.S("follow.declined", action)
	case t.Skips >= 2:
		f.Since = t.Opened.Or(p.v.Now.Day)
		f.Verdict, f.Say = SkippedTwice, say.S("follow.skipped", action, say.Num("n", float64(t.Skips), "", 0))
	default:
		return
	}
	p.a.Followed = append(p.a.Followed, f)
}

// dueLooks are the kinds that ought to be read to see what a task has done.
func (v *View) dueLooks(on q.Date) []q.Kind {
	var out []q.Kind
	for i := range v.Closed {
		c := &v.Closed[i]
		if c.State != "done" || c.Task.Expect == nil || c.Task.Expect.Kind == "" || v.Now.Day-c.On > followedFor {
			continue
		}
		if got, _, _ := v.verdict(c); (got == "" || got == NotYet) && c.On.Add(c.Task.Expect.Days) <= on && !slices.Contains(out, c.Task.Expect.Kind) {
			out = append(out, c.Task.Expect.Kind)
		}
	}
	return out
}
