package web

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// tankPages are the pages of one tank and the list of tanks.
type tankPages struct {
	*shell
	store    tankStore
	profiles profileStore
	sources  sourceStore
}

// tankNow is a tank as it is at this moment.
type tankNow struct {
	tank.Card
	Setup    tank.Setup
	Profile  tank.Profile
	Plan     tank.Plan
	Versions tank.Versions
	Today    q.Date
}

// now reads a tank as it is at this moment.
func (p tankPages) now(r *http.Request) (n tankNow, err error) {
	id := r.PathValue("tank")
	n.Today = p.today(r)
	if n.Card, err = p.store.TankCard(r.Context(), id); err != nil {
		return n, err
	}
	if n.Setup, n.Profile, n.Plan, err = p.store.TankAt(r.Context(), id, p.cfg.Now()); err != nil {
		return n, err
	}
	n.Versions, err = p.store.TankVersions(r.Context(), id)
	return n, err
}

// A record is one dated record of a tank with a form of its own.
type record struct {
	title, segment, kept string
	lead                 string
	measures             []typed.Measure
	// show writes the record as it is now into the form; ticks are the fields
	// that hold several values.
	show  func(tankNow, tank.Shown) tank.Shown
	ticks []string
	// written says how often it was written so far, and since when the newest is true.
	written func(tank.Versions) tank.Written
	// read returns what keeps it. Faults are in the form.
	read func(*typed.Form, tankNow) func(ctx context.Context, by string, since time.Time, version int) error
	// body draws the fields.
	body func(*http.Request, tankNow, view.RecordForm) (templ.Component, error)
}

func (p tankPages) drawRecord(r *http.Request, rec record, n tankNow, version int, theirs url.Values) func(view.Form) (view.Frame, templ.Component, error) {
	return func(f view.Form) (view.Frame, templ.Component, error) {
		body := view.RecordForm{
			Form: f, Action: tankPath(n.ID) + "/" + rec.segment, Version: version, Theirs: theirs,
			Units: unitChoices(reads(r), rec.measures), Cancel: view.Link{Label: "Leave as it is", Href: tankPath(n.ID)},
		}
		frame := view.Frame{Title: rec.title, Lead: rec.lead, Up: &view.Link{Label: n.Name, Href: tankPath(n.ID)}}
		c, err := rec.body(r, n, body)
		return frame, c, err
	}
}

func (p tankPages) recordValues(r *http.Request, rec record, n tankNow) url.Values {
	v := shownValues(rec.show(n, tank.NewShown(reads(r))), rec.ticks...)
	v.Set("since", n.Today.String())
	return v
}

func (p tankPages) showRecord(rec record) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		n, err := p.now(r)
		if err != nil {
			return err
		}
		frame, body, err := p.drawRecord(r, rec, n, rec.written(n.Versions).Times, nil)(view.Form{Values: p.recordValues(r, rec, n)})
		if err != nil {
			return err
		}
		return p.page(w, r, http.StatusOK, frame, body)
	}
}

func (p tankPages) saveRecord(rec record) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		values, err := p.form(r)
		if err != nil {
			return err
		}
		n, err := p.now(r)
		if err != nil {
			return err
		}
		f := typedForm(r, values)
		keep := rec.read(f, n)
		since := readSince(r, f, n.Today)
		version := rowVersion(values)
		if err = f.Faults.Err(); err == nil && values.Get("do") == "preview" {
			return p.redraw(w, r, nil, values, rec, n, version, nil)
		}
		if err == nil {
			err = keep(r.Context(), who(r).Person.ID, since, version)
		}
		if err == nil {
			return p.done(w, r, tankPath(n.ID), view.Notice{Text: rec.kept + outdone(rec.written(n.Versions).Newest, since, local(r))})
		}
		if !fault.Is(err, fault.Conflict) {
			return p.redraw(w, r, err, values, rec, n, version, nil)
		}
		// A second try goes over what is there now, and both are shown.
		if n, err = p.nowAfter(r, err); n.ID == "" {
			return err
		}
		return p.redraw(w, r, err, values, rec, n, rec.written(n.Versions).Times, p.recordValues(r, rec, n))
	}
}

// nowAfter reads the tank again after a fault, which it hands back.
func (p tankPages) nowAfter(r *http.Request, err error) (tankNow, error) {
	n, readErr := p.now(r)
	if readErr != nil {
		return tankNow{}, readErr
	}
	return n, err
}

// redraw draws a form anew with what was typed: for a fault of the person's, or
// as a preview where there is none.
func (p tankPages) redraw(w http.ResponseWriter, r *http.Request, err error, values url.Values, rec record, n tankNow, version int, theirs url.Values) error {
	draw := p.drawRecord(r, rec, n, version, theirs)
	if err == nil {
		frame, body, err := draw(view.Form{Values: values})
		if err != nil {
			return err
		}
		return p.page(w, r, http.StatusOK, frame, body)
	}
	var drawErr error
	answer := p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) {
		frame, body, err := draw(f)
		if err != nil {
			drawErr, body = err, templ.NopComponent
		}
		return frame, body
	})
	if drawErr != nil {
		return drawErr
	}
	return answer
}

// outdone says that what was just kept is not what holds today, since something
// newer was written down before.
func outdone(newest q.Opt[time.Time], since time.Time, when view.Local) string {
	if !newest.OK || newest.V.Sub(since) < time.Second {
		return ""
	}
	return " It holds until " + when.DayOf(newest.V) + "; what was written down for that day holds from then on."
}
