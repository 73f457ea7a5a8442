package web

import (
	"context"
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/web/view"
)

// promiseStore keeps what customers were told.
type promiseStore interface {
	Site(ctx context.Context, id string) (customer.Site, error)
	SitePromises(ctx context.Context, site string, since q.Date) ([]due.Promise, error)
	AddPromise(ctx context.Context, by string, p due.Promise) (id string, err error)
	WithdrawPromise(ctx context.Context, by, id string, off bool) (due.Promise, error)
}

type promisePages struct {
	*shell
	store promiseStore
}

func (p promisePages) blank(w http.ResponseWriter, r *http.Request) error {
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	f := view.Form{}
	if day, ok := q.ParseDate(r.URL.Query().Get("day")); ok {
		f = view.Form{Values: valuesOf(map[string]string{"day": day.String()})}
	}
	frame, body := p.draw(s)(f)
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p promisePages) draw(s customer.Site) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		back := view.Link{Label: s.Name, Href: sitePath(s.ID)}
		return view.Frame{Title: "A promised time", Lead: "Moved only with a call.", Up: &back},
			view.RoundPromiseBody(view.RoundPromise{Form: f, Action: sitePath(s.ID) + "/promises", Back: view.Link{Label: "Leave it", Href: back.Href}})
	}
}

func (p promisePages) add(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	x, fs := due.ParsePromise(fieldsOf(values), p.today(r))
	x.Site = s.ID
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.store.AddPromise(r.Context(), who(r).Person.ID, x)
	}
	if err != nil {
		return p.again(w, r, err, values, p.draw(s))
	}
	return p.done(w, r, sitePath(s.ID), view.Notice{Text: "Promised: " + local(r).Day(x.Day) + ", " + x.Text() + ".", Undo: &view.Post{Label: "Undo", Action: "/promises/" + id + "/take-back"}})
}

func (p promisePages) takeBack(w http.ResponseWriter, r *http.Request) error {
	return p.set(w, r, true)
}

func (p promisePages) bringBack(w http.ResponseWriter, r *http.Request) error {
	return p.set(w, r, false)
}

func (p promisePages) set(w http.ResponseWriter, r *http.Request, off bool) error {
	x, err := p.store.WithdrawPromise(r.Context(), who(r).Person.ID, r.PathValue("promise"), off)
	if err != nil {
		return err
	}
	n := view.Notice{Text: "The promise is taken back.", Undo: &view.Post{Label: "Undo", Action: "/promises/" + x.ID + "/bring-back"}}
	if !off {
		n = view.Notice{Text: "The promise counts again.", Undo: &view.Post{Label: "Undo", Action: "/promises/" + x.ID + "/take-back"}}
	}
	return p.done(w, r, sitePath(x.Site), n)
}
