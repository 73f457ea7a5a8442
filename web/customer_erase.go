package web

import (
	"net/http"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/web/view"
)

func (p customerPages) askErase(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.Customer(r.Context(), r.PathValue("customer"))
	if err != nil {
		return err
	}
	if c.ErasedAt.OK {
		http.Redirect(w, r, customerPath(c.ID), http.StatusSeeOther)
		return nil
	}
	frame, body := p.drawErase(c)(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p customerPages) drawErase(c customer.Customer) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		return view.Frame{Title: "Erase " + c.Name, Up: &view.Link{Label: c.Name, Href: customerPath(c.ID)}},
			view.CustomerEraseBody(view.CustomerErase{Form: f, Name: c.Name, Action: customerPath(c.ID) + "/erase", Back: view.Link{Label: "Leave it", Href: customerPath(c.ID)}})
	}
}

func (p customerPages) erase(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	c, err := p.store.Customer(r.Context(), r.PathValue("customer"))
	if err != nil {
		return err
	}
	// Erasing cannot be undone, so the name is typed once.
	if !c.ErasedAt.OK && !strings.EqualFold(strings.Join(strings.Fields(values.Get("name")), " "), c.Name) {
		var fs fault.Fields
		fs.Add("name", fault.Impossible, "Type the name as it stands above: %s.", c.Name)
		return p.again(w, r, fs.Err(), values, p.drawErase(c))
	}
	if err := p.store.EraseCustomer(r.Context(), who(r).Person.ID, c.ID); err != nil {
		return err
	}
	return p.done(w, r, "/customers", view.Notice{Text: "Erased. Tanks and visits stay, without the name. A care sheet that was given stays as it was given."})
}
