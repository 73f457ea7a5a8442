package web

import (
	"context"
	"fmt"
	"net/http"
	"runtime/debug"
	"slices"
	"strconv"
	"sync/atomic"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// How long the planner looks for something better, where the configuration says
// nothing else, and how often it says how it stands.
const (
	usualSearch = 25 * time.Second
	illSearch   = 10 * time.Second
	beatEvery   = 500 * time.Millisecond
)

// plan starts the planner on a week, in the background.
func (p roundBook) plan(w http.ResponseWriter, r *http.Request) error {
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	if due.Monday(p.today(r)) > monday {
		return fault.New(fault.Conflict, "That week is over.")
	}
	id, err := p.store.BeginRun(r.Context(), who(r).Person.ID, monday, "", 0)
	if err != nil {
		return err
	}
	p.start(order{run: id, by: who(r).Person.ID, monday: monday, today: p.today(r), units: who(r).Shop.Reads("")})
	return p.done(w, r, weekPath(monday), view.Notice{})
}

// ill notes that somebody cannot come and deals their day out anew.
func (p roundBook) ill(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	day, err := dayOf(r)
	if err != nil {
		return err
	}
	facts, err := p.store.RoundFacts(r.Context(), due.Monday(day), 7, p.today(r))
	if err != nil {
		return err
	}
	one := facts.Person(values.Get("person"))
	switch {
	case day < p.today(r):
		return fault.New(fault.Conflict, "That day is over.")
	case one == nil:
		err := (fault.Fields{{Name: "person", Kind: fault.Missing, Text: "Choose who cannot come."}}).Err()
		frame, body, drawErr := p.drawDay(w, r, day, faulty(values, err))
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	id, err := p.store.BeginRun(r.Context(), who(r).Person.ID, due.Monday(day), one.ID, day)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(one.Leave, func(l due.Leave) bool { return l.Covers(day) }) {
		if _, err := p.store.AddLeave(r.Context(), who(r).Person.ID, due.Leave{Person: one.ID, From: day, To: day, Why: "ill"}); err != nil {
			return err
		}
	}
	p.start(order{run: id, by: who(r).Person.ID, monday: due.Monday(day), today: p.today(r), units: who(r).Shop.Reads(""), ill: one.ID, name: one.Name, day: day})
	return p.done(w, r, weekPath(due.Monday(day)), view.Notice{Text: one.Name + " is off on " + local(r).Day(day) + ". When the day is dealt out anew, the list below says whom to phone. Hand it out then."})
}

// stop asks the planner to keep the best so far.
func (p roundBook) stop(w http.ResponseWriter, r *http.Request) error {
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	if err := p.store.StopRun(r.Context()); err != nil {
		return err
	}
	return p.done(w, r, weekPath(monday), view.Notice{Text: "The planner stops and keeps the best so far."})
}

// running tells a script how the planner stands.
func (p roundBook) running(w http.ResponseWriter, r *http.Request) error {
	run, err := p.store.LastRun(r.Context())
	if err != nil {
		return err
	}
	return p.json(w, r, http.StatusOK, map[string]any{"running": run.Running, "text": progress(run, local(r), p.cfg.Now(), p.limit(run.Ill))})
}

// limit is how long a run looks for something better.
func (p roundBook) limit(ill string) time.Duration {
	limit := usualSearch
	if p.cfg.PlanFor > 0 {
		limit = p.cfg.PlanFor
	}
	if ill != "" {
		limit = min(limit, illSearch)
	}
	return limit
}

// progress is how a run stands, in words.
func progress(run due.Run, l view.Local, now time.Time, limit time.Duration) string {
	switch {
	case run.Failed:
		return run.Says
	case !run.Running:
		return "The planner rests."
	case run.Stopped:
		return "Stopping; the best so far is kept."
	}
	text := "Planning since " + l.Clock(run.Begun) + "."
	if left := (run.Begun.Add(limit).Sub(now) + time.Second - 1).Truncate(time.Second); left > 0 {
		text += " At most " + counted(int(left/time.Second), "second", "seconds") + " to go; you may leave this page."
	}
	if run.Tries > 0 {
		text += fmt.Sprintf(" %s ways weighed; %d of %s have a place so far.", thousands(run.Tries), run.Placed, counted(run.Wanted, "stop", "stops"))
	}
	return text
}

// thousands writes a whole number with a thin space between its thousands.
func thousands(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}

// order is one run of the planner.
type order struct {
	run, by       string
	monday, today q.Date
	units         say.Units
	ill, name     string // whose day is dealt out anew; empty: the week is planned
	day           q.Date
}

// start runs the planner apart from the request. What the request belongs to
// may end; the run ends with the server, and then its place falls free.
func (p roundBook) start(o order) {
	life := p.cfg.Life
	if life == nil {
		life = context.Background()
	}
	go func() {
		defer func() {
			if x := recover(); x != nil {
				p.log.Error("the planner broke", "panic", x, "stack", string(debug.Stack()))
				p.failed(life, o, nil)
			}
		}()
		book, err := p.search(life, o)
		if err == nil {
			// A server that is asked to end keeps what it has found.
			end, cancel := context.WithTimeout(context.WithoutCancel(life), 10*time.Second)
			defer cancel()
			err = p.store.EndRun(end, o.by, o.run, book)
		}
		if err != nil {
			p.log.Warn("a week was not planned", "err", err)
			p.failed(life, o, err)
		}
	}()
}

func (p roundBook) failed(life context.Context, o order, err error) {
	end, cancel := context.WithTimeout(context.WithoutCancel(life), 10*time.Second)
	defer cancel()
	text := "The planner broke off. The week is as it was."
	if f := fault.Of(err); f != nil && f.Msg != "" {
		text += " " + f.Msg
	}
	if err := p.store.FailRun(end, o.run, text); err != nil {
		p.log.Warn("how the planner ended could not be kept", "err", err)
	}
}

// search reads the facts, looks for the best plan in the time there is, and
// makes a book of it.
func (p roundBook) search(ctx context.Context, o order) (due.Book, error) {
	facts, err := p.store.RoundFacts(ctx, o.monday, 7, o.today)
	if err != nil {
		return due.Book{}, err
	}
	week, err := p.store.RoundWeek(ctx, o.monday)
	if err != nil {
		return due.Book{}, err
	}
	now := facts.Match(week.Draft)
	jobs := due.Without(now.Jobs, now.Dropped())
	problem, _ := facts.Problem(jobs, now.Keep)
	var how say.Sentence
	problem.Travel, how = p.travel(ctx, facts.Roads, problem.Places)
	if week.Handed.OK {
		known := facts.Plan(problem, week.Handed.V)
		problem.Known = &known
	}

	limit := p.limit(o.ill)
	begun := time.Now()
	var enough atomic.Bool
	var tries, placed atomic.Int64
	wanted := len(problem.Stops)
	quiet, watch := context.WithCancel(ctx)
	defer watch()
	go p.beat(quiet, o.run, &enough, &tries, &placed, wanted)
	opts := round.Options{
		Seed: uint64(o.monday), Threads: 2,
		Stop: func() bool { return enough.Load() || time.Since(begun) > limit || ctx.Err() != nil },
		Done: func() float64 { return min(1, float64(time.Since(begun))/float64(limit)) },
		Progress: func(r round.Report) {
			tries.Store(int64(r.Iterations))
			placed.Store(int64(wanted - r.Unplaced))
		},
	}

	var plan round.Plan
	what := "The week was planned"
	switch {
	case o.ill != "":
		redealt := round.Redeal(problem, facts.Plan(problem, week.Draft), o.ill, o.day, opts)
		plan, what = redealt.Plan, o.day.Weekday().String()+" was dealt out anew without "+o.name
	default:
		plan = round.Solve(problem, opts)
		if len(now.Keep) > 0 {
			what = "The week was planned around what is kept"
		}
	}
	book := facts.Keep(week.Draft, now, plan, week.Draft.Kept(), now.Aside, o.units)
	if o.ill != "" {
		book.Hold(week.Draft, q.Some(o.day))
	}
	book.What, book.How = what, say.Render(how, o.units)
	return book, nil
}

// beat says now and then how the search stands, and hears whether to stop.
func (p roundBook) beat(ctx context.Context, run string, enough *atomic.Bool, tries, placed *atomic.Int64, wanted int) {
	tick := time.NewTicker(beatEvery)
	defer tick.Stop()
	for {
		stop, err := p.store.BeatRun(ctx, run, tries.Load(), int(placed.Load()), wanted)
		if err != nil && ctx.Err() == nil {
			p.log.Warn("how the planner stands could not be kept", "err", err)
		}
		if stop {
			enough.Store(true)
			return
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return
		}
	}
}
