package due

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// Call is a customer to phone because what was handed out has changed.
type Call struct {
	Site   string
	Job    string
	Phones []string
	Why    say.Sentence
}

// callFrom is the shift of a begin from which a customer is phoned.
const callFrom = 30 * round.Minute

// Calls says whom to phone when a week is handed out in place of another: about
// another day, a promised time that is not kept, another person, another time by
// half an hour and more, or no visit at all. Stops that are over are left alone.
func (f *Facts) Calls(was, now Book) []Call {
	var out []Call
	seen := map[string]bool{}
	for _, r := range was.Routes {
		for _, p := range r.Stops {
			if seen[p.Job] || f.Behind(was, r.Day, p) {
				continue
			}
			seen[p.Job] = true
			s := f.Site(p.Site)
			if s == nil {
				continue
			}
			if why := f.why(r, p, now); why.ID != "" {
				out = append(out, Call{Site: s.ID, Job: p.Job, Phones: s.Phones, Why: why})
			}
		}
	}
	return out
}

func (f *Facts) why(was Route, p Placed, now Book) say.Sentence {
	r, x, ok := now.Find(p.Job)
	if ok {
		if same := now.Route(was.Person, was.Day); same != nil {
			for _, y := range same.Stops {
				if y.Job == p.Job {
					r, x = *same, y // a job for two: this person's own line
				}
			}
		}
	}
	at := say.Text("at", Clock(x.Begin))
	switch {
	case !ok:
		return say.S("due.call.none", say.Day("day", was.Day))
	case r.Day != was.Day:
		return say.S("due.call.day", say.Day("day", r.Day), at, say.Day("was", was.Day))
	case f.broken(p.Site, r.Day, x.Begin):
		return say.S("due.call.promise", at)
	case r.Person != was.Person:
		return say.S("due.call.person", say.Text("who", f.name(r.Person)), at, say.Text("was", f.name(was.Person)))
	case max(x.Begin-p.Begin, p.Begin-x.Begin) >= callFrom:
		return say.S("due.call.time", at, say.Text("was", Clock(p.Begin)))
	}
	return say.Sentence{}
}

// broken reports whether a promise of that day is not kept.
func (f *Facts) broken(site string, day q.Date, begin round.Seconds) bool {
	for _, p := range f.Promises {
		if p.Site == site && p.Day == day && (begin < seconds(p.From) || begin > seconds(p.To)) {
			return true
		}
	}
	return false
}

func (f *Facts) name(person string) string {
	if p := f.Person(person); p != nil {
		return p.Name
	}
	return "somebody else"
}

// Clock writes a time of the day as 07:45.
func Clock(s round.Seconds) string { return q.MinuteOfDay(s / 60 % (24 * 60)).String() }
