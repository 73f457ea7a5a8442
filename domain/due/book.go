package due

import (
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// Book is a week's plan as it is kept, after one change.
type Book struct {
	ID, Base string // Base is what it was made from; empty: nothing
	Monday   q.Date
	What     string   // in words: what was changed
	How      string   // in words: how ways were reckoned
	GaveUp   []string // in words
	By       string   // a name
	At       time.Time
	Routes   []Route
	Left     []Left
}

// Route is one person's day.
type Route struct {
	Day         q.Date
	Person      string
	Leave, Back round.Seconds // of the day
	Home        round.Seconds // the way from the last stop
	Break       q.Opt[round.Seconds]
	Stops       []Placed
}

// Placed is a job in somebody's day. A job for two stands in both days.
type Placed struct {
	Job, Site string
	Tanks     []string
	With      string        // who else; empty: nobody
	Drive     round.Seconds // from the stop before
	Arrive    round.Seconds // of the day
	Begin     round.Seconds
	End       round.Seconds
	Kept      bool
}

// Left is a job that found no place.
type Left struct {
	Job, Site string
	Tanks     []string
	Reason    string // in words
	LetsIn    string // in words: the cheapest thing that would let it in
	Aside     bool   // by hand
}

// Week is a week as the round book shows it.
type Week struct {
	Monday   q.Date
	Planned  bool // there is a draft
	Draft    Book
	Handed   q.Opt[Book]
	HandedBy string // a name
	HandedAt q.Opt[time.Time]
	Newer    string // the plan that an undo came from; empty: none
}

// Out reports whether the draft is what was handed out.
func (w *Week) Out() bool { return w.Handed.OK && w.Handed.V.ID == w.Draft.ID }

// Monday is the first day of the week that holds the day.
func Monday(d q.Date) q.Date { return d - q.Date((int(d.Weekday())+6)%7) }

// Route finds a person's day; nil where there is none.
func (b Book) Route(person string, day q.Date) *Route {
	for i := range b.Routes {
		if b.Routes[i].Person == person && b.Routes[i].Day == day {
			return &b.Routes[i]
		}
	}
	return nil
}

// Find is where a job stands; ok is false where it has no place.
func (b Book) Find(job string) (r Route, p Placed, ok bool) {
	for _, r := range b.Routes {
		for _, p := range r.Stops {
			if p.Job == job {
				return r, p, true
			}
		}
	}
	return r, p, false
}

// Kept are the jobs that a book holds where they are.
func (b Book) Kept() map[string]bool {
	out := map[string]bool{}
	for _, r := range b.Routes {
		for _, s := range r.Stops {
			if s.Kept {
				out[s.Job] = true
			}
		}
	}
	return out
}
