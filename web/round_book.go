package web

import (
	"context"
	"net/http"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/web/view"
)

// planStore keeps weeks and their plans.
type planStore interface {
	// RoundFacts reads all that a plan of the days is made from.
	RoundFacts(ctx context.Context, from q.Date, days int, today q.Date) (due.Facts, error)
	RoundWeek(ctx context.Context, monday q.Date) (due.Week, error)
	// KeepBook keeps a plan that a hand has changed; Conflict where its Base is
	// no longer the draft or the planner is at work.
	KeepBook(ctx context.Context, by string, b due.Book) (id string, err error)
	UndoWeek(ctx context.Context, by string, monday q.Date, seen string) error
	RedoWeek(ctx context.Context, by string, monday q.Date, seen string) error
	HandOut(ctx context.Context, by string, monday q.Date, seen string) error

	// BeginRun takes the shop's one place for a run; Conflict where it is taken.
	BeginRun(ctx context.Context, by string, monday q.Date, ill string, illDay q.Date) (id string, err error)
	BeatRun(ctx context.Context, id string, tries int64, placed, wanted int) (stop bool, err error)
	EndRun(ctx context.Context, by, id string, b due.Book) error
	FailRun(ctx context.Context, id, says string) error
	StopRun(ctx context.Context) error
	LastRun(ctx context.Context) (due.Run, error)

	AddLeave(ctx context.Context, by string, l due.Leave) (id string, err error)
	Extras(ctx context.Context) ([]due.Extra, error)
}

// roundBook is the owner's week.
type roundBook struct {
	*shell
	store planStore
	days  dayStore
	ways  *ways
}

func weekPath(monday q.Date) string { return "/round-book/weeks/" + monday.String() }
func dayPath(day q.Date) string     { return "/round-book/days/" + day.String() }

func jobPath(monday q.Date, job, act string) string {
	return weekPath(monday) + "/jobs/" + job + "/" + act
}

// mondayOf reads the week from the address: its Monday, whatever day it names.
func mondayOf(r *http.Request) (q.Date, error) {
	day, ok := q.ParseDate(r.PathValue("week"))
	if !ok || day < 0 || day > 1<<16 {
		return 0, fault.New(fault.NotFound, "There is no such week. An address ends in a date such as 2026-11-23.")
	}
	return due.Monday(day), nil
}

func dayOf(r *http.Request) (q.Date, error) {
	day, ok := q.ParseDate(r.PathValue("day"))
	if !ok || day < 0 || day > 1<<16 {
		return 0, fault.New(fault.NotFound, "There is no such day. An address ends in a date such as 2026-11-23.")
	}
	return day, nil
}

// open shows the week that the owner has most to do with: this one, and from
// Friday on the next.
func (p roundBook) open(w http.ResponseWriter, r *http.Request) error {
	today := p.today(r)
	monday := due.Monday(today)
	if today-monday >= 4 {
		monday = monday.Add(7)
	}
	return p.showWeek(w, r, monday)
}

// undo goes back to the plan before.
func (p roundBook) undo(w http.ResponseWriter, r *http.Request) error {
	return p.turn(w, r, p.store.UndoWeek, view.Notice{Text: "Taken back."})
}

// redo does again what undo took back.
func (p roundBook) redo(w http.ResponseWriter, r *http.Request) error {
	return p.turn(w, r, p.store.RedoWeek, view.Notice{Text: "Done again."})
}

func (p roundBook) turn(w http.ResponseWriter, r *http.Request, turn func(context.Context, string, q.Date, string) error, n view.Notice) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	if err := turn(r.Context(), who(r).Person.ID, monday, values.Get("draft")); err != nil {
		return err
	}
	return p.done(w, r, backTo(values.Get("day"), monday), n)
}

// backTo is the day's page that somebody came from, else the week's.
func backTo(day string, monday q.Date) string {
	if d, ok := q.ParseDate(day); ok && due.Monday(d) == monday {
		return dayPath(d)
	}
	return weekPath(monday)
}

// handOut makes the week known.
func (p roundBook) handOut(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	if err := p.store.HandOut(r.Context(), who(r).Person.ID, monday, values.Get("draft")); err != nil {
		return err
	}
	return p.done(w, r, weekPath(monday), view.Notice{Text: "The week is handed out: everybody sees it under My round and in their calendar."})
}
