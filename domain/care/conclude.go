package care

import (
	"slices"
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Lines that a customer gets at most.
const (
	mostLines = 7
	mostDonts = 3
)

// conclude draws the rest from findings and tasks: urgency, systems, strips,
// the customer's list, the next date.
func (p *planner) conclude() {
	a := p.a
	a.Urgency = Routine
	for i := range a.Findings {
		if a.Findings[i].State != Internal {
			a.Urgency = Sooner(a.Urgency, a.Findings[i].Urgency)
		}
	}
	a.Strips = strips(p.v)
	a.Separate = separators(p.v)
	a.Systems = systems(a.Findings, p.v, a.Separate, a.Strips)
	a.Recipe = recipe(p.v, a.Tasks)
	inNewWater(a.Tasks, &a.Recipe)
	a.Next = nextVisit(p.v, a)
	p.customer()
	a.Status, a.Top = top(p.v, a)
}

// customer writes the list for the customer: what this customer does, and what
// to leave alone.
func (p *planner) customer() {
	a := p.a
	for _, t := range a.Tasks {
		if t.Who != Customer || len(a.Customer) >= mostLines || t.Action == "explain_normal" && (!p.v.lookedWell() || p.works()) {
			continue // nobody reads that nothing needs doing where nobody looked, or where we do something
		}
		id := "customer." + t.Action
		if t.Subject != "" {
			id += "." + t.Subject
		}
		if t.Action == "feed_less" && p.fedLess(t) {
			id = "customer.feed_less.again" // half of half is no meal
		}
		if say.Has(id) {
			a.Customer = append(a.Customer, Line{Action: t.Action, Day: t.Day, Icon: t.Action, Say: p.until(id)})
		}
	}
	if slices.ContainsFunc(a.Tasks, func(t Task) bool { return t.Action == "no_new_animals" }) {
		// Never a day: it would read as the day on which they may come.
		line := Line{Action: "no_new_animals", Icon: "no_new_animals", Say: say.S("dont.no_new_animals")}
		if p.v.gated() {
			line.Say.ID = "dont.no_new_animals.gate"
		}
		a.Donts = append(a.Donts, line)
	}
	urgent := map[string]bool{}
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Urgency.Level() <= Today.Level() {
			urgent[f.Rule] = true
		}
	}
	for _, r := range p.doneFirst(a.Refused) {
		id := "dont." + r.Action
		if !say.Has(id) || len(a.Donts) >= mostDonts || r.Action == "add_animals" && len(a.Donts) > 0 && a.Donts[0].Action == "no_new_animals" {
			continue
		}
		if r.Action == "co2_up" {
			if !p.v.Injected || !r.Asked && !strings.HasPrefix(r.Rule, "co2_") {
				continue // nobody thinks of it where CO2 is not the matter
			}
			if slices.ContainsFunc(a.Tasks, func(t Task) bool { return t.Action == "co2_off_now" }) {
				id += ".off"
			}
		}
		if againstAlgae[r.Action] && !r.Asked && !p.v.algae() && !p.v.Has("algicide_overdosed") {
			continue // nobody thinks of it
		}
		// Only what somebody asked for, or might do in a pressing case.
		if r.Asked || urgent[r.Rule] && r.Rank <= RankAnimals {
			a.Donts = append(a.Donts, Line{Action: r.Action, Icon: "dont", Say: say.S(id)})
		}
	}
}

// doneFirst puts before the rest what somebody did here of late.
func (p *planner) doneFirst(rs []Refusal) []Refusal {
	done := ""
	switch {
	case p.v.Has("algicide_overdosed"):
		done = "dose_aldehyde"
	case p.v.Has("medicine_used_recently"):
		done = "antibiotic"
	}
	i := slices.IndexFunc(rs, func(r Refusal) bool { return r.Action == done })
	if i <= 0 {
		return rs
	}
	return append(append([]Refusal{rs[i]}, rs[:i]...), rs[i+1:]...)
}

// works reports whether anything is done for people or animals, beyond looking and
// telling.
func (p *planner) works() bool {
	return slices.ContainsFunc(p.tasks, func(t Task) bool {
		a := ActionOf(t.Action)
		return !a.Test && !a.Told && (t.Rank <= RankAnimals && a.Minutes > 0 || a.Family == "change" || t.Action == "feed_less")
	})
}

// againstAlgae is what people do against algae and against nothing else.
var againstAlgae = map[string]bool{"blackout": true, "dose_aldehyde": true}

// fedLess reports whether the customer was told to feed less before and still does.
func (p *planner) fedLess(t Task) bool {
	return t.Renewed || slices.ContainsFunc(p.v.Closed, func(c Closed) bool {
		return c.Task.Action == t.Action && c.State == "done" && p.v.Now.Day-c.On <= followedFor
	})
}

// until is the sentence with the day on which somebody comes again, where that is
// known.
func (p *planner) until(id string) say.Sentence {
	until := p.a.Next.On
	if p.a.Next.Extra.OK {
		until.OK = false // the owner has not decided on it
	}
	if until.OK {
		return say.S(dated(id), say.Day("until", until.V))
	}
	return say.S(id, say.Text("until", "until we are back"))
}

// dated is the sentence's form with a day, where the catalogue has one.
func dated(id string) string {
	if say.Has(id + ".until") {
		return id + ".until"
	}
	return id
}

// nextVisit takes the date from the agreement. Rules may ask for an extra visit;
// the owner decides.
func nextVisit(v *View, a *Assessment) Next {
	n := Next{Tests: testsDue(v, a)}
	ag := v.Setup.Agreement
	if ag.EveryDays.OK && ag.EveryDays.V > 0 {
		due := v.Now.Day.Add(ag.EveryDays.V)
		n.Latest = q.Some(due.Add(max(ag.ToleranceDays, 0)))
		n.On = q.Some(nearest(v.Days, due, ag.ToleranceDays))
	}
	for _, t := range a.Tasks {
		if t.Action == "extra_visit" {
			days := 2
			if t.Urgency.Level() <= Today.Level() {
				days = 1
			}
			if t.Day.OK {
				n.Extra = t.Day
			} else {
				n.Extra = q.Some(nearest(v.Days, v.Now.Day.Add(days), 1))
			}
		}
		if t.When != WhenNow && t.When != WhenToday && t.Who == Technician {
			n.Bring = union(n.Bring, t.Bring)
		}
	}
	switch {
	case n.On.OK:
		n.Say = say.S("next.on", say.Day("day", n.On.V))
	default:
		n.Say = say.S("next.open")
	}
	return n
}

// nearest is the possible day closest to the one that is due, within the
// tolerance where there is one; without days any day will do.
func nearest(days []q.Date, due q.Date, tolerance int) q.Date {
	best, found := due, false
	for _, d := range days {
		gap := int(d - due)
		if gap < 0 {
			gap = -gap
		}
		if gap > max(tolerance, 0) {
			continue
		}
		if !found || gap < abs(int(best-due)) {
			best, found = d, true
		}
	}
	return best
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
