package web

import (
	"net/http"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// drawForm draws the form of a site; one without an ID is new.
func (p sitePages) drawForm(r *http.Request, c customer.Customer, s customer.Site) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		units, action, back, title, keep := reads(r), customerPath(c.ID)+"/sites", customerPath(c.ID), "A new site", "Add"
		up := view.Link{Label: c.Name, Href: back}
		if s.ID != "" {
			f = meanwhile(f, s.Typed(units))
			action, back, title, keep = sitePath(s.ID), sitePath(s.ID), s.Name, "Keep"
			up = view.Link{Label: s.Name, Href: back}
		}
		body := view.SiteForm{
			Form: f, Action: action, Version: s.Version, Keep: keep, Back: view.Link{Label: "Leave it", Href: back}, MayPrice: isOwner(r),
			Lengths: unitOptions(customer.Lengths, units.System, q.CM), Rooms: unitOptions(customer.Rooms, units.System), Limit: limitText(units, s),
			LengthUnit: chosenUnit(f, "hose.unit", customer.Lengths, units), AltitudeUnit: chosenUnit(f, "altitude.unit", customer.Lengths, units), RoomUnit: chosenUnit(f, "room.unit", customer.Rooms, units),
			Alarm: []view.Option{{Value: "", Label: "Not known"}, {Value: "yes", Label: "Fitted"}, {Value: "no", Label: "None"}},
		}
		for day := 1; day <= 7; day++ {
			body.Days = append(body.Days, view.Option{Value: customer.WindowField(day), Label: customer.Weekday(day)})
		}
		return view.Frame{Title: title, Lead: "How to get in is kept apart, on a page of its own.", Up: &up}, view.SiteFormBody(body)
	}
}

// unitOptions are the units one may type a number in, without those that only
// a pasted text needs.
func unitOptions(d typed.Dimension, sys say.System, not ...q.Unit) []view.Option {
	var out []view.Option
	for _, u := range d.Units(sys) {
		if len(not) > 0 && u == not[0] {
			continue
		}
		out = append(out, view.Option{Value: string(u), Label: u.Sign()})
	}
	return out
}

func chosenUnit(f view.Form, name string, d typed.Dimension, units say.Units) string {
	if u := f.Values.Get(name); u != "" {
		return u
	}
	return string(d.Units(units.System)[0])
}

func limitText(units say.Units, s customer.Site) string {
	if !s.Card.SpendingLimit.OK {
		return ""
	}
	return say.Number(s.Card.SpendingLimit.V, 2, units)
}

// parse reads the form. Who may not price cannot send a limit: the one that is
// kept stays, unless the post tries to change it, which the store refuses.
func (p sitePages) parse(r *http.Request, get customer.Fields, was customer.Site) (customer.Site, error) {
	units := reads(r)
	if !isOwner(r) && strings.TrimSpace(get("spending_limit")) == "" {
		shown := was.Typed(units)
		all := get
		get = func(name string) string {
			if name == "spending_limit" {
				return shown[name]
			}
			return all(name)
		}
	}
	s, fs := customer.ParseSite(get, units, was, p.today(r))
	return s, fs.Err()
}

func (p sitePages) blank(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.Customer(r.Context(), r.PathValue("customer"))
	if err != nil {
		return err
	}
	frame, body := p.drawForm(r, c, customer.Site{})(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sitePages) add(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	c, err := p.store.Customer(r.Context(), r.PathValue("customer"))
	if err != nil {
		return err
	}
	s, err := p.parse(r, fieldsOf(values), customer.Site{Customer: c.ID})
	id := ""
	if err == nil {
		id, err = p.first(p.store.AddSite(p.once(r, values), who(r).Person.ID, s, isOwner(r)))
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawForm(r, c, customer.Site{}))
	}
	return p.done(w, r, sitePath(id), view.Notice{Text: s.Name + " is kept."})
}

func (p sitePages) edit(w http.ResponseWriter, r *http.Request) error {
	s, c, err := p.siteAndCustomer(r)
	if err != nil {
		return err
	}
	frame, body := p.drawForm(r, c, s)(formOf(s.Typed(reads(r))))
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sitePages) siteAndCustomer(r *http.Request) (s customer.Site, c customer.Customer, err error) {
	if s, err = p.store.Site(r.Context(), r.PathValue("site")); err != nil {
		return s, c, err
	}
	c, err = p.store.Customer(r.Context(), s.Customer)
	return s, c, err
}

func (p sitePages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, c, err := p.siteAndCustomer(r)
	if err != nil {
		return err
	}
	s, err := p.parse(r, fieldsOf(values), was)
	s.Version = rowVersion(values)
	typing := err != nil
	if !typing {
		err = p.store.EditSite(r.Context(), who(r).Person.ID, s, isOwner(r))
	}
	if err != nil {
		now, readErr := p.store.Site(r.Context(), was.ID)
		if readErr != nil {
			return readErr
		}
		// A fault of the typing is mended against the version that was read, so
		// that a change by somebody else is still seen at the next try.
		if typing {
			now.Version = s.Version
		}
		return p.again(w, r, err, values, p.drawForm(r, c, now))
	}
	return p.done(w, r, sitePath(s.ID), view.Notice{Text: "Kept."})
}

func (p sitePages) archive(w http.ResponseWriter, r *http.Request) error {
	return p.setArchived(w, r, true)
}

func (p sitePages) bringBack(w http.ResponseWriter, r *http.Request) error {
	return p.setArchived(w, r, false)
}

func (p sitePages) setArchived(w http.ResponseWriter, r *http.Request, archived bool) error {
	id := r.PathValue("site")
	if err := p.store.ArchiveSite(r.Context(), who(r).Person.ID, id, archived); err != nil {
		return err
	}
	path := sitePath(id)
	if archived {
		return p.done(w, r, "/sites", view.Notice{Text: "Archived: out of the lists, and nothing is lost.", Undo: &view.Post{Label: "Undo", Action: path + "/bring-back"}})
	}
	return p.done(w, r, path, view.Notice{Text: "Back in the lists.", Undo: &view.Post{Label: "Undo", Action: path + "/archive"}})
}
