package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/web/view"
)

// placeValue is a place as the form posts it: who, and after which stop.
func placeValue(m round.Move) string { return m.Person + " " + m.With + " " + m.After }

func readPlace(s string) (person, with, after string, ok bool) {
	parts := strings.Split(s, " ")
	if len(parts) != 3 || parts[0] == "" {
		return "", "", "", false
	}
	return parts[0], parts[1], parts[2], true
}

// cannot are the rules that no hand may break; the rest is told and done.
var cannot = []string{round.BreachLast, round.BreachUnknown, round.BreachTogether, round.BreachMissing, round.BreachTwice, round.BreachTimes, round.BreachVan}

func refused(c round.Quote) bool {
	return slices.ContainsFunc(c.Breaks, func(b round.Breach) bool { return slices.Contains(cannot, b.Rule) })
}

func errNoStopHere() error {
	return fault.New(fault.NotFound, "This stop is not in the week any more.")
}

func (s *weekNow) personName(id string) string {
	if p := s.facts.Person(id); p != nil {
		return p.Name
	}
	return "somebody who has left"
}

// together names who does a job, with being the second person or empty.
func (s *weekNow) together(person, with string) string {
	if with == "" {
		return s.personName(person)
	}
	return s.personName(person) + " and " + s.personName(with)
}

// withWord names the second person of a job for two; empty where there is none.
func (s *weekNow) withWord(with string) string {
	if with == "" {
		return ""
	}
	return ", with " + s.personName(with)
}

// withIn is the second person of a job in a plan; empty where it is for one.
func withIn(p round.Plan, person string, day q.Date, job string) string {
	for _, r := range p.Routes {
		for _, v := range r.Visits {
			if r.Person == person && r.Day == day && v.Stop == job {
				return v.With
			}
		}
	}
	return ""
}

func (s *weekNow) job(id string) (due.Job, bool) {
	for _, j := range s.now.Jobs {
		if j.ID == id {
			return j, true
		}
	}
	return due.Job{}, false
}

func (s *weekNow) tankNamesOf(job string) string {
	j, _ := s.job(job)
	return s.tankNames(j.Tanks)
}

func clockOf(s round.Seconds) string { return due.Clock(s) }

// changed is the book of a plan that a hand has made from the draft.
func (s *weekNow) changed(r *http.Request, plan round.Plan, kept, aside map[string]bool, what string) due.Book {
	b := s.facts.Keep(s.week.Draft, s.now, plan, kept, aside, who(r).Shop.Reads(""))
	b.Hold(s.week.Draft, q.Opt[q.Date]{})
	b.What = what
	return b
}

// sees refuses a form that was made from another draft than the week has now.
func (s *weekNow) sees(values url.Values) error {
	if values.Get("draft") != s.week.Draft.ID {
		return &fault.Error{Kind: fault.Conflict, Code: "edited-meanwhile", Msg: "The week was changed by somebody else meanwhile. Nothing was done; look at it as it is now."}
	}
	return nil
}

func (p roundBook) change(w http.ResponseWriter, r *http.Request, do func(s *weekNow, job string, values url.Values) (due.Book, string, error)) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	s, err := p.read(r, monday)
	if err != nil {
		return err
	}
	if s.over {
		return fault.New(fault.Conflict, "That week is over.")
	}
	job := r.PathValue("job")
	if _, ok := s.job(job); !ok {
		return errNoStopHere()
	}
	if err := s.sees(values); err != nil {
		return err
	}
	b, text, err := do(s, job, values)
	if err != nil {
		if len(fault.Of(err).Fields) == 0 {
			return err
		}
		frame, body, drawErr := p.drawPlaces(r, s, job, values.Get("day"), faulty(values, err))
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	id, err := p.store.KeepBook(r.Context(), who(r).Person.ID, b)
	if err != nil {
		return err
	}
	to := values.Get("day")
	if back := values.Get("back"); back != "" {
		to = back
	}
	return p.done(w, r, backTo(to, monday), view.Notice{Text: text, Undo: &view.Post{Label: "Undo", Action: weekPath(monday) + "/undo",
		Hidden: []view.Pair{{Name: "draft", Value: id}, {Name: "day", Value: to}}}})
}

// move puts a stop where the owner wants it, and keeps it there.
func (p roundBook) move(w http.ResponseWriter, r *http.Request) error {
	return p.change(w, r, func(s *weekNow, job string, values url.Values) (due.Book, string, error) {
		person, with, after, ok := readPlace(values.Get("place"))
		day, dayOK := q.ParseDate(values.Get("day"))
		if !ok || !dayOK {
			return due.Book{}, "", (fault.Fields{{Name: "place", Kind: fault.Missing, Text: "Choose a place for it first."}}).Err()
		}
		c, ok := round.Price(s.problem, s.plan, round.Move{Stop: job, Day: day, Person: person, With: with, After: after})
		if !ok {
			return due.Book{}, "", (fault.Fields{{Name: "place", Kind: fault.NotChoice, Text: "That place is not there any more. Choose another."}}).Err()
		}
		if refused(c) {
			return due.Book{}, "", (fault.Fields{{Name: "place", Kind: fault.Impossible, Text: strings.Join(priceWords(c, reads(r)), " ")}}).Err()
		}
		kept, aside := s.week.Draft.Kept(), s.now.Aside
		kept[job] = true
		delete(aside, job)
		what := upperFirst(s.jobName(job)) + " was put on " + day.Weekday().String() + " with " + s.together(person, withIn(c.Plan, person, day, job))
		return s.changed(r, c.Plan, kept, aside, what), what + ", and is kept there. " + strings.Join(priceWords(c, reads(r)), " "), nil
	})
}

// takeOut takes a stop out of the week: it waits in the margin and the planner
// leaves it there.
func (p roundBook) takeOut(w http.ResponseWriter, r *http.Request) error {
	return p.change(w, r, func(s *weekNow, job string, _ url.Values) (due.Book, string, error) {
		c, ok := round.Price(s.problem, s.plan, round.Move{Stop: job, Out: true})
		if !ok {
			return due.Book{}, "", errNoStopHere()
		}
		kept, aside := s.week.Draft.Kept(), s.now.Aside
		delete(kept, job)
		aside[job] = true
		what := upperFirst(s.jobName(job)) + " was taken out"
		return s.changed(r, c.Plan, kept, aside, what), what + ". The planner leaves it out until you place it.", nil
	})
}

// keep holds a stop where it is, or lets it go.
func (p roundBook) keep(w http.ResponseWriter, r *http.Request) error {
	return p.change(w, r, func(s *weekNow, job string, values url.Values) (due.Book, string, error) {
		kept := s.week.Draft.Kept()
		what := upperFirst(s.jobName(job)) + " is kept where it is"
		if values.Get("keep") == "no" {
			delete(kept, job)
			what = upperFirst(s.jobName(job)) + " may be moved by the planner again"
		} else {
			kept[job] = true
		}
		b := s.changed(r, s.plan, kept, s.now.Aside, what)
		b.GaveUp, b.Left = s.week.Draft.GaveUp, s.week.Draft.Left
		return b, what + ".", nil
	})
}
