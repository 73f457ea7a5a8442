package care

import (
	"slices"
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// followUp holds the wishes against what was open and what the visit itself did:
// a task that is wished again is renewed, one whose rules looked and found
// nothing is withdrawn, one whose rules could not look stays as it was, and what
// was done at this very visit is off the list. While people are in danger (alone)
// the rest waits.
func (p *planner) followUp(alone bool) {
	p.a.Followed = append(p.a.Followed, p.v.Followed...)
	answered := map[string]string{}
	for _, t := range Answers(p.v.Open, &p.v.Now) {
		answered[t.Task] = t.State
	}
	for i := range p.tasks {
		p.tasks[i].Opened = q.Some(p.v.Now.Day)
	}
	ticked := map[string]bool{}
	for _, open := range p.v.Open {
		if ActionOf(open.Action).Told {
			continue // said anew at each visit, never booked
		}
		state := ""
		if open.ID != "" {
			state = answered[open.ID]
		}
		if state == "skipped" {
			open.Skips++
		}
		p.followOpen(&open, state)
		at := slices.IndexFunc(p.tasks, func(t Task) bool { return t.Key() == open.Key() })
		switch {
		case state == "done":
			ticked[open.Key()] = true
			continue
		case state == "not_needed" || state == "declined":
			if at >= 0 && p.tasks[at].Rank > RankAnimals {
				p.step("vetoed", open.Action, say.S("plan."+state))
				p.tasks = slices.Delete(p.tasks, at, at+1)
			}
			continue
		case at >= 0:
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
		if open.Action == "test_nh3_no2" && open.Opened.OK {
			open.Why = []Reason{{Rule: "tan", Say: say.S("find.still_untested", say.Day("day", open.Opened.V)), Source: sourceOf("tan")}}
		}
		if open.Action != "test_nh3_no2" && open.Opened.OK && len(open.Why) > 0 && open.Why[0].Say.ID != "find.kept_from" && !p.v.readAgain(&open.Why[0]) {
			from := Reason{Rule: open.Why[0].Rule, Say: say.S("find.kept_from", say.Day("day", open.Opened.V)), Source: open.Why[0].Source}
			open.Why = append([]Reason{from}, open.Why...)
		}
		if alone && open.Rank != RankPeople {
			p.a.Later = append(p.a.Later, open)
			continue
		}
		p.tasks = append(p.tasks, open)
	}
	p.untilRead()
	p.dropDone(ticked)
	p.restOfChange()
	p.dropDeclined()
}

// dropDone takes off the list what this visit has already done: the readings
// behind it are from before. What is done again and again goes on tomorrow.
func (p *planner) dropDone(ticked map[string]bool) {
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		met, trace := fulfilled(&t, &p.v.Now)
		if !met && (trace || !ticked[t.Key()] || t.When != WhenThisVisit) || repeated[t.Action] {
			if ticked[t.Key()] {
				p.step("kept", t.Action, say.S("plan.done_wished_again"))
			}
			return false
		}
		if again[t.Action] || t.Action == "filter_clean_gentle" && p.v.stillClogged() {
			p.step("kept", t.Action, say.S("plan.done_wished_again"))
			return false
		}
		p.step("kept", t.Action, say.S("plan.done_now"))
		return true
	})
	for i := range p.tasks {
		t := &p.tasks[i]
		if met, _ := fulfilled(t, &p.v.Now); met && again[t.Action] {
			t.When, t.Day = WhenOnDay, q.Some(p.v.Now.Day.Add(1))
		}
	}
}

// restOfChange asks only for what is left of a change of which this visit did a
// part: two changes of a day add up for the animals.
func (p *planner) restOfChange() {
	w, ok := p.v.Now.Did(visit.WaterChange)
	if !ok || !w.Litres.OK {
		return
	}
	for i := range p.tasks {
		t := &p.tasks[i]
		if ActionOf(t.Action).Family != "change" || t.When == WhenOnDay {
			continue
		}
		for k, a := range t.Amount {
			rest := a.Value - float64(w.Litres.V)
			if a.What != "water" || rest <= 0 {
				continue
			}
			t.Amount = slices.Clone(t.Amount)
			t.Amount[k].Value = rest
			t.Say = say.S("instead.rest_of_change", say.Num("rest", rest, q.L, litreDecimals(rest)), say.Num("done", float64(w.Litres.V), q.L, litreDecimals(float64(w.Litres.V))))
			p.step("kept", t.Action, say.S("plan.rest_of_change"))
		}
	}
}

// untilRead keeps animals out while a test of ammonia and nitrite stands open
// from an earlier visit: nobody knows yet what it was asked for.
func (p *planner) untilRead() {
	waits := slices.IndexFunc(p.tasks, func(t Task) bool { return t.Action == "test_nh3_no2" && t.Renewed })
	if waits < 0 || !p.v.Animals || p.v.nitrogenKnown() {
		return
	}
	if !slices.ContainsFunc(p.tasks, func(t Task) bool { return t.Action == "no_new_animals" }) {
		from := Finding{Rule: "tan", Urgency: Routine, Say: say.S("find.untested")}
		p.tasks = append(p.tasks, p.task(wished{&Wish{Action: "no_new_animals", Rank: RankAnimals}, &from}))
	}
}

// repeated are tests that are wished again though they were just made.
var repeated = map[string]bool{"test_nh3_no2": true, "retest": true, "test_source": true, "measure_dawn_o2": true, "measure_late": true}

// again are changes that one round does not finish.
var again = map[string]bool{"wc_50_repeat": true, "wc_many_small": true}

// dropDeclined leaves out what the customer said no to of late, where no animal
// or person depends on it.
func (p *planner) dropDeclined() {
	p.tasks = slices.DeleteFunc(p.tasks, func(t Task) bool {
		if t.Rank <= RankAnimals || t.Renewed {
			return false
		}
		if p.v.failed[t.Key()] && ActionOf(t.Action).Alters != "" {
			p.step("vetoed", t.Action, say.S("plan.did_not_help"))
			return true
		}
		if _, no := p.v.declinedBefore(t.Key()); !no {
			return false
		}
		p.step("vetoed", t.Action, say.S("plan.declined"))
		return true
	})
}

// settled reports whether an open task is no longer called for: it is banned
// now, or every rule behind it looked again and did not wish it.
func (p *planner) settled(open Task) (say.Sentence, bool) {
	if ActionOf(open.Action).Never {
		return say.S("plan.banned_now"), true
	}
	for _, r := range p.a.Refused {
		if r.Action == open.Action {
			return say.S("plan.banned_now"), true
		}
	}
	if !p.v.Injected && strings.HasPrefix(open.Action, "co2_") {
		return say.S("plan.no_co2"), true
	}
	if len(open.Why) == 0 || p.v.ordinary() && (open.Action == "test_nh3_no2" && p.v.Animals || open.Action == "retest") {
		return say.Sentence{}, false // only its reading closes it
	}
	for _, why := range open.Why {
		if !p.v.readAgain(&why) {
			return say.Sentence{}, false
		}
		looked := slices.ContainsFunc(p.a.Trace, func(s Step) bool {
			return s.At == why.Rule && (s.What == "fine" || s.What == "hit" || s.What == "not_applicable")
		})
		if !looked && slices.ContainsFunc(rules, func(r Rule) bool { return r.ID == why.Rule }) {
			return say.Sentence{}, false
		}
	}
	return say.S("plan.settled"), true
}

// readAgain reports whether what a reason rests on was read at this visit: only a
// reading takes back what a reading said.
func (v *View) readAgain(why *Reason) bool {
	if why.Rule == "hardening" {
		return v.readAny(q.GH, q.EC)
	}
	for _, a := range why.Say.Args {
		if a.Kind == say.ReadingArg && !v.readAny(a.Quantity) {
			return false
		}
	}
	return true
}

// stillClogged reports whether the flow was read again after the work and is
// still too little.
func (v *View) stillClogged() bool {
	after, ok := v.flowAfter()
	return ok && v.Flow.Clean.OK && after < 0.6*v.Flow.Clean.V
}

// flowAfter is the flow after the work in L/h, by reading or by bucket.
func (v *View) flowAfter() (float64, bool) {
	if r, ok := v.Read(q.Flow, visit.After); ok {
		return r.Value, true
	}
	return bucket(v.Now.Buckets, visit.After)
}
