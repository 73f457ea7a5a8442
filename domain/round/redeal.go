package round

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Call is somebody to phone because the plan has changed.
type Call struct {
	Stop  string // ID
	Phone string // may be empty
	Why   say.Sentence
}

// Redealt is a day dealt out anew.
type Redealt struct {
	Problem Problem // the given one, without the person on that day
	Plan    Plan
	Changes []Change
	Calls   []Call // in the order of the day
}

// Redeal deals a day out anew because a person cannot come. Only stops of that
// day move: to others on the same day where they fit, else to another day. What
// is planned on other days stays with its person.
func Redeal(p Problem, plan Plan, person string, day q.Date, o Options) Redealt {
	changed := p
	changed.People = slices.Clone(p.People)
	for i := range changed.People {
		if changed.People[i].ID == person {
			special := slices.DeleteFunc(slices.Clone(changed.People[i].Special), func(s Shift) bool { return s.Day == day })
			changed.People[i].Special = append(special, Shift{Day: day})
		}
	}
	search := changed
	search.Stops = slices.Clone(changed.Stops)
	search.Known = &plan
	for _, r := range plan.Routes {
		for _, v := range r.Visits {
			i := slices.IndexFunc(search.Stops, func(s Stop) bool { return s.ID == v.Stop })
			if i < 0 {
				continue
			}
			s := &search.Stops[i]
			switch {
			case r.Day != day && !s.Keep.OK:
				s.Keep = q.Some(Keep{Day: r.Day, Person: r.Person, With: v.With})
			case r.Day == day && (r.Person == person || v.With == person):
				// It was kept with whoever cannot come.
				if k := s.Keep.V; s.Keep.OK && (k.Person == person || k.With == person) {
					search.Stops[i].Keep = q.Some(Keep{Day: day, Start: k.Start})
					changed.Stops = slices.Clone(changed.Stops)
					changed.Stops[i].Keep = search.Stops[i].Keep
				}
			}
		}
	}
	out := Redealt{Problem: changed}
	changed.Known = &plan
	out.Problem.Known = &plan
	found := Solve(search, o)
	m := compile(&out.Problem)
	d := m.draftOf(found)
	out.Plan = m.plan(d)
	m.explain(d, &out.Plan)
	out.Changes = Diff(plan, out.Plan)
	out.Calls = m.calls(out.Changes)
	return out
}

// calls says whom to phone about changes: another day, another time than
// promised, another person than the customer is used to, or no place at all.
func (m *model) calls(changes []Change) []Call {
	var out []Call
	for _, c := range changes {
		i, ok := m.byStop[c.Stop]
		if !ok {
			continue
		}
		s := &m.p.Stops[i]
		args := []say.Arg{say.Text("stop", s.Name)}
		call := Call{Stop: s.ID, Phone: s.Phone}
		switch {
		case !c.FromDay.OK:
			continue
		case !c.ToDay.OK:
			call.Why = say.S("round.call.none", append(args, say.Day("day", c.FromDay.V))...)
		case c.FromDay.V != c.ToDay.V:
			call.Why = say.S("round.call.day", append(args, say.Day("day", c.ToDay.V), say.Text("at", clockText(c.ToStart.V)), say.Day("was", c.FromDay.V))...)
		case s.Promised.OK && (c.ToStart.V < s.Promised.V.From || c.ToStart.V > s.Promised.V.To):
			call.Why = say.S("round.call.promise", append(args, say.Text("at", clockText(c.ToStart.V)))...)
		case c.FromPerson != c.ToPerson:
			call.Why = say.S("round.call.person", append(args, say.Text("who", m.nameOf(c.ToPerson)), say.Text("at", clockText(c.ToStart.V)), say.Text("was", m.nameOf(c.FromPerson)))...)
		case max(c.ToStart.V-c.FromStart.V, c.FromStart.V-c.ToStart.V) >= 30*Minute:
			call.Why = say.S("round.call.time", append(args, say.Text("at", clockText(c.ToStart.V)), say.Text("was", clockText(c.FromStart.V)))...)
		default:
			continue
		}
		out = append(out, call)
	}
	return out
}
