package web

import (
	"context"
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/tank"
	"scaperound/web/view"
)

// problemStore keeps troubles that are worked at over several visits.
type problemStore interface {
	TankProblems(ctx context.Context, tankID string) ([]tank.Problem, error)
	Problem(ctx context.Context, id string) (tank.Problem, error)
	OpenProblem(ctx context.Context, by string, p tank.Problem) (id string, err error)
	// EditProblem writes over p.Version; Conflict where somebody was faster.
	EditProblem(ctx context.Context, by string, p tank.Problem) error
	TryProblem(ctx context.Context, by, id string, t tank.Try) error
	CloseProblem(ctx context.Context, by, id string, closed bool) error
}

type problemPages struct {
	*shell
	store problemStore
}

func problemPath(id string) string { return "/problems/" + id }

func problemTyped(p tank.Problem) map[string]string {
	return map[string]string{"title": p.Title, "belief": p.Belief, "next": p.Next, "told": p.Told}
}

func (p problemPages) list(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.drawList(r)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body(view.Form{}))
}

func (p problemPages) drawList(r *http.Request) (view.Frame, func(view.Form) templ.Component, error) {
	id := r.PathValue("tank")
	all, err := p.store.TankProblems(r.Context(), id)
	if err != nil {
		return view.Frame{}, nil, err
	}
	body := view.ProblemList{Action: tankPath(id) + "/problems"}
	for _, one := range all {
		row := view.ProblemRow{Title: one.Title, Href: problemPath(one.ID), Belief: one.Belief, Next: one.Next, Since: local(r).DayOf(one.OpenedAt)}
		if one.ClosedAt.OK {
			row.Closed = local(r).DayOf(one.ClosedAt.V)
		}
		body.Rows = append(body.Rows, row)
	}
	frame := view.Frame{Title: "Problems", Lead: "One story for whoever comes, so that the customer does not hear three.", Up: &view.Link{Label: "The tank", Href: tankPath(id)}}
	return frame, func(f view.Form) templ.Component { body.Form = f; return view.ProblemListBody(body) }, nil
}

func (p problemPages) open(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	x, fs := tank.ParseProblem(fieldsOf(values))
	x.Tank = r.PathValue("tank")
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.first(p.store.OpenProblem(p.once(r, values), who(r).Person.ID, x))
	}
	if err != nil {
		frame, body, readErr := p.drawList(r)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return frame, body(f) })
	}
	return p.done(w, r, problemPath(id), view.Notice{Text: "The problem is open.", Undo: &view.Post{Label: "Undo", Action: problemPath(id) + "/close"}})
}

func (p problemPages) show(w http.ResponseWriter, r *http.Request) error {
	one, err := p.store.Problem(r.Context(), r.PathValue("problem"))
	if err != nil {
		return err
	}
	frame, body := p.draw(r, one, formOf(problemTyped(one)), view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

// draw draws one problem: f is the form of what is believed, try that of what
// was tried.
func (p problemPages) draw(r *http.Request, one tank.Problem, f, try view.Form) (view.Frame, templ.Component) {
	path, when := problemPath(one.ID), local(r)
	body := view.Problem{
		Form: meanwhile(f, problemTyped(one)), Action: path, Version: one.Version, Try: try, TryAction: path + "/tries",
		Opened: when.DayOf(one.OpenedAt), By: one.OpenedBy, Belief: one.Belief, Next: one.Next, Told: one.Told,
		Close: view.Post{Label: "It is settled", Action: path + "/close"}, Again: view.Post{Label: "Open it again", Action: path + "/open-again"},
	}
	if one.ClosedAt.OK {
		body.Closed = when.DayOf(one.ClosedAt.V)
	}
	for _, t := range one.Tries {
		body.Tries = append(body.Tries, view.TryRow{When: when.DayOf(t.At), Who: t.Staff, Tried: t.Tried, Result: t.Result})
	}
	return view.Frame{Title: one.Title, Lead: one.TankName, Up: &view.Link{Label: one.TankName, Href: tankPath(one.Tank)}}, view.ProblemBody(body)
}

func (p problemPages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("problem")
	x, fs := tank.ParseProblem(fieldsOf(values))
	x.ID, x.Version = id, rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.EditProblem(r.Context(), who(r).Person.ID, x)
	}
	if err != nil {
		now, readErr := p.store.Problem(r.Context(), id)
		if readErr != nil {
			return readErr
		}
		if len(fs) > 0 {
			now.Version = x.Version
		}
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return p.draw(r, now, f, view.Form{}) })
	}
	return p.done(w, r, problemPath(id), view.Notice{Text: "Kept."})
}

func (p problemPages) try(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("problem")
	t, fs := tank.ParseTry(fieldsOf(values))
	if err = fs.Err(); err == nil {
		err = p.firstOnly(p.store.TryProblem(p.once(r, values), who(r).Person.ID, id, t))
	}
	if err != nil {
		now, readErr := p.store.Problem(r.Context(), id)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) {
			return p.draw(r, now, formOf(problemTyped(now)), f)
		})
	}
	return p.done(w, r, problemPath(id), view.Notice{Text: "Kept."})
}

func (p problemPages) close(w http.ResponseWriter, r *http.Request) error {
	return p.setClosed(w, r, true)
}

func (p problemPages) openAgain(w http.ResponseWriter, r *http.Request) error {
	return p.setClosed(w, r, false)
}

func (p problemPages) setClosed(w http.ResponseWriter, r *http.Request, closed bool) error {
	path := problemPath(r.PathValue("problem"))
	if err := p.store.CloseProblem(r.Context(), who(r).Person.ID, r.PathValue("problem"), closed); err != nil {
		return err
	}
	n := view.Notice{Text: "The problem is closed.", Undo: &view.Post{Label: "Undo", Action: path + "/open-again"}}
	if !closed {
		n = view.Notice{Text: "The problem is open again.", Undo: &view.Post{Label: "Undo", Action: path + "/close"}}
	}
	return p.done(w, r, path, n)
}
