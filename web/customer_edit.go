package web

import (
	"net/http"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/web/view"
)

func customerTyped(c customer.Customer) map[string]string {
	return map[string]string{"name": c.Name, "kind": string(c.Kind), "phones": strings.Join(c.Phones, "\n"), "email": c.Email, "language": c.Language, "notes": c.Notes}
}

// drawForm draws the form of a customer; one without an ID is new.
func (p customerPages) drawForm(c customer.Customer) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.CustomerForm{Form: f, Action: "/customers", Version: c.Version, Back: view.Link{Label: "Leave it", Href: "/customers"}, Keep: "Add"}
		frame := view.Frame{Title: "A new customer", Up: &view.Link{Label: "Customers", Href: "/customers"}}
		if c.ID != "" {
			body.Form = meanwhile(f, customerTyped(c))
			body.Action, body.Back.Href, body.Keep = customerPath(c.ID), customerPath(c.ID), "Keep"
			frame = view.Frame{Title: c.Name, Lead: "What is kept of them", Up: &view.Link{Label: c.Name, Href: customerPath(c.ID)}}
		}
		for _, k := range customer.Kinds() {
			body.Kinds = append(body.Kinds, view.Option{Value: string(k), Label: k.Title()})
		}
		for _, l := range customer.Languages() {
			body.Languages = append(body.Languages, view.Option{Value: l, Label: customer.LanguageTitle(l)})
		}
		return frame, view.CustomerFormBody(body)
	}
}

func (p customerPages) blank(w http.ResponseWriter, r *http.Request) error {
	frame, body := p.drawForm(customer.Customer{})(view.Form{Values: valuesOf(map[string]string{"kind": string(customer.Home), "language": "en"})})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p customerPages) add(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	c, fs := customer.ParseCustomer(fieldsOf(values))
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.first(p.store.AddCustomer(p.once(r, values), who(r).Person.ID, c))
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawForm(customer.Customer{}))
	}
	return p.done(w, r, customerPath(id), view.Notice{Text: c.Name + " is kept. A site is next: where the tanks stand."})
}

func (p customerPages) edit(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.Customer(r.Context(), r.PathValue("customer"))
	if err != nil {
		return err
	}
	frame, body := p.drawForm(c)(formOf(customerTyped(c)))
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p customerPages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("customer")
	c, fs := customer.ParseCustomer(fieldsOf(values))
	c.ID, c.Version = id, rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.EditCustomer(r.Context(), who(r).Person.ID, c)
	}
	if err != nil {
		now, readErr := p.store.Customer(r.Context(), id)
		if readErr != nil {
			return readErr
		}
		// A fault of the typing is mended against the version that was read, so
		// that a change by somebody else is still seen at the next try.
		if len(fs) > 0 {
			now.Version = c.Version
		}
		return p.again(w, r, err, values, p.drawForm(now))
	}
	return p.done(w, r, customerPath(id), view.Notice{Text: "Kept."})
}

func (p customerPages) archive(w http.ResponseWriter, r *http.Request) error {
	return p.setArchived(w, r, true)
}

func (p customerPages) bringBack(w http.ResponseWriter, r *http.Request) error {
	return p.setArchived(w, r, false)
}

func (p customerPages) setArchived(w http.ResponseWriter, r *http.Request, archived bool) error {
	id := r.PathValue("customer")
	if err := p.store.ArchiveCustomer(r.Context(), who(r).Person.ID, id, archived); err != nil {
		return err
	}
	path := customerPath(id)
	if archived {
		return p.done(w, r, "/customers", view.Notice{Text: "Archived: out of the lists, and nothing is lost.", Undo: &view.Post{Label: "Undo", Action: path + "/bring-back"}})
	}
	return p.done(w, r, path, view.Notice{Text: "Back in the lists.", Undo: &view.Post{Label: "Undo", Action: path + "/archive"}})
}
