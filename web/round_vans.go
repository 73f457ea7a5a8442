package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/web/view"
)

// vans is the list of the shop's vans.
func (p roundPeoplePages) vans(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.drawVans(r, view.Form{})
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p roundPeoplePages) drawVans(r *http.Request, f view.Form) (view.Frame, templ.Component, error) {
	list, err := p.store.Vans(r.Context())
	dim := due.WaterMeasure().Dim
	v := view.RoundVans{Form: f, Units: unitOptions(dim, reads(r).System), Unit: chosenUnit(f, "water.unit", dim, reads(r))}
	for _, x := range list {
		v.Vans = append(v.Vans, view.RoundVanLine{Name: x.Name, Href: "/vans/" + x.ID, Note: x.Note, Gone: x.Archived, Carries: carries(x, r)})
	}
	return view.Frame{Title: "Vans", Up: &view.Link{Label: "Round book", Href: "/round-book"}}, view.RoundVansBody(v), err
}

// carries says in a line what a van takes.
func carries(v due.Van, r *http.Request) string {
	units := reads(r)
	var parts []string
	if v.Water.OK {
		dim := due.WaterMeasure().Dim
		unit := dim.Units(units.System)[0]
		parts = append(parts, dim.Show(q.Some(float64(v.Water.V)), units)+" "+unit.Sign()+" of water")
	}
	if v.Cylinders.OK {
		parts = append(parts, plural(v.Cylinders.V, "cylinder", "cylinders"))
	}
	if len(parts) == 0 {
		return "no limit noted"
	}
	return joined(", ", parts...)
}

func (p roundPeoplePages) addVan(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	v, fs := due.ParseVan(fieldsOf(values), reads(r), due.Van{})
	if err = fs.Err(); err == nil {
		_, err = p.store.AddVan(r.Context(), who(r).Person.ID, v)
	}
	if err != nil {
		frame, body, drawErr := p.drawVans(r, faulty(values, err))
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	return p.done(w, r, "/vans", view.Notice{Text: v.Name + " is added. Say with a person's hours who drives it."})
}

func (p roundPeoplePages) drawVan(r *http.Request, v due.Van) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		dim := due.WaterMeasure().Dim
		body := view.RoundVan{Form: f, Action: "/vans/" + v.ID, Version: v.Version, Units: unitOptions(dim, reads(r).System), Unit: chosenUnit(f, "water.unit", dim, reads(r)),
			Archive: view.Post{Label: "It is gone", Action: "/vans/" + v.ID + "/archive"}}
		if v.Archived {
			body.Archive = view.Post{Label: "It is back", Action: "/vans/" + v.ID + "/bring-back"}
		}
		return view.Frame{Title: v.Name, Up: &view.Link{Label: "Vans", Href: "/vans"}}, view.RoundVanBody(body)
	}
}

func (p roundPeoplePages) van(w http.ResponseWriter, r *http.Request) error {
	v, err := p.store.Van(r.Context(), r.PathValue("van"))
	if err != nil {
		return err
	}
	frame, body := p.drawVan(r, v)(view.Form{Values: valuesOf(v.Typed(reads(r)))})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p roundPeoplePages) saveVan(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.store.Van(r.Context(), r.PathValue("van"))
	if err != nil {
		return err
	}
	v, fs := due.ParseVan(fieldsOf(values), reads(r), was)
	v.Version = rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.EditVan(r.Context(), who(r).Person.ID, v)
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawVan(r, was))
	}
	return p.done(w, r, "/vans", view.Notice{Text: v.Name + " is kept as shown."})
}

func (p roundPeoplePages) archiveVan(w http.ResponseWriter, r *http.Request) error {
	return p.setVan(w, r, true)
}

func (p roundPeoplePages) bringBackVan(w http.ResponseWriter, r *http.Request) error {
	return p.setVan(w, r, false)
}

func (p roundPeoplePages) setVan(w http.ResponseWriter, r *http.Request, gone bool) error {
	id := r.PathValue("van")
	if err := p.store.ArchiveVan(r.Context(), who(r).Person.ID, id, gone); err != nil {
		return err
	}
	n := view.Notice{Text: "The van is put away. Its drivers' loads are no longer checked.", Undo: &view.Post{Label: "Undo", Action: "/vans/" + id + "/bring-back"}}
	if !gone {
		n = view.Notice{Text: "The van is back.", Undo: &view.Post{Label: "Undo", Action: "/vans/" + id + "/archive"}}
	}
	return p.done(w, r, "/vans", n)
}
