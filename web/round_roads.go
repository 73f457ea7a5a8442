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

// Roads is a service that knows how long driving takes.
type Roads interface {
	// Table returns the seconds from each point to each other and the metres,
	// row by row. It fails where the service is away or answers nonsense.
	Table(ctx context.Context, points []customer.Position) (seconds, metres []int32, err error)
}

// roads is what driving is reckoned with.
func (p roundPeoplePages) roads(w http.ResponseWriter, r *http.Request) error {
	now, err := p.store.Roads(r.Context())
	if err != nil {
		return err
	}
	frame, body := p.drawRoads(r, now)(view.Form{Values: valuesOf(now.Typed(reads(r)))})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p roundPeoplePages) drawRoads(_ *http.Request, now due.Roads) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.RoundRoads{Form: f, Version: now.Version, Back: view.Link{Label: "Leave it", Href: "/round-book"},
			Service: "Ways are reckoned from the straight line, at the pace below. SCAPEROUND_ROUTING names a routing service that knows the roads."}
		if p.cfg.Roads != nil {
			body.Service = "The routing service is asked first. Where it does not answer, ways are reckoned from the straight line, and the plan says so."
		}
		for i, part := range due.PaceParts {
			body.Parts = append(body.Parts, view.Option{Value: due.PaceField(i), Label: hour(part.From) + "–" + hour(part.To)})
		}
		return view.Frame{Title: "Roads", Lead: "What driving is reckoned with.", Up: &view.Link{Label: "Round book", Href: "/round-book"}}, view.RoundRoadsBody(body)
	}
}

func hour(h int) string { return q.MinuteOfDay(h * 60).String() }

func (p roundPeoplePages) saveRoads(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.store.Roads(r.Context())
	if err != nil {
		return err
	}
	now, fs := due.ParseRoads(fieldsOf(values), reads(r), was)
	now.Version = rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.KeepRoads(r.Context(), who(r).Person.ID, now)
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawRoads(r, was))
	}
	return p.done(w, r, "/round-book", view.Notice{Text: "Kept. The next plan goes by it."})
}
