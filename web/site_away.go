package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/web/view"
)

func awayTyped(a customer.Away) map[string]string {
	return map[string]string{"from": a.From.String(), "to": a.To.String(), "why": a.Why, "stand_in": a.StandIn}
}

// drawAway draws the form of an absence; one without an ID is new.
func (p sitePages) drawAway(s customer.Site, a customer.Away) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.SiteAway{Form: f, Action: sitePath(s.ID) + "/away", Keep: "Add", Version: a.Version, Back: view.Link{Label: "Leave it", Href: sitePath(s.ID)}}
		frame := view.Frame{Title: "An absence", Lead: s.Name, Up: &view.Link{Label: s.Name, Href: sitePath(s.ID)}}
		if a.ID != "" {
			body.Form, body.Action, body.Keep = meanwhile(f, awayTyped(a)), "/away/"+a.ID, "Keep"
			body.Sheet = &view.Link{Label: "Sheet for whoever stands in", Href: "/away/" + a.ID + "/sheet"}
			body.CallOff = &view.Post{Label: "They stay after all", Action: "/away/" + a.ID + "/call-off"}
		}
		return frame, view.SiteAwayBody(body)
	}
}

func (p sitePages) blankAway(w http.ResponseWriter, r *http.Request) error {
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	frame, body := p.drawAway(s, customer.Away{})(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sitePages) addAway(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	a, fs := customer.ParseAway(fieldsOf(values))
	a.Site = s.ID
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.first(p.store.AddAway(p.once(r, values), who(r).Person.ID, a))
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawAway(s, customer.Away{}))
	}
	return p.done(w, r, sitePath(s.ID), view.Notice{Text: "The absence is noted.", Undo: &view.Post{Label: "Undo", Action: "/away/" + id + "/call-off"}})
}

func (p sitePages) awayAndSite(r *http.Request) (a customer.Away, s customer.Site, err error) {
	if a, err = p.store.Away(r.Context(), r.PathValue("away")); err != nil {
		return a, s, err
	}
	s, err = p.store.Site(r.Context(), a.Site)
	return a, s, err
}

func (p sitePages) away(w http.ResponseWriter, r *http.Request) error {
	a, s, err := p.awayAndSite(r)
	if err != nil {
		return err
	}
	frame, body := p.drawAway(s, a)(formOf(awayTyped(a)))
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sitePages) saveAway(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, s, err := p.awayAndSite(r)
	if err != nil {
		return err
	}
	a, fs := customer.ParseAway(fieldsOf(values))
	a.ID, a.Site, a.Version = was.ID, s.ID, rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.EditAway(r.Context(), who(r).Person.ID, a)
	}
	if err != nil {
		now, readErr := p.store.Away(r.Context(), was.ID)
		if readErr != nil {
			return readErr
		}
		if len(fs) > 0 {
			now.Version = a.Version
		}
		return p.again(w, r, err, values, p.drawAway(s, now))
	}
	return p.done(w, r, sitePath(s.ID), view.Notice{Text: "Kept."})
}

func (p sitePages) callOffAway(w http.ResponseWriter, r *http.Request) error {
	return p.setWithdrawn(w, r, true)
}

func (p sitePages) bringBackAway(w http.ResponseWriter, r *http.Request) error {
	return p.setWithdrawn(w, r, false)
}

func (p sitePages) setWithdrawn(w http.ResponseWriter, r *http.Request, off bool) error {
	a, s, err := p.awayAndSite(r)
	if err != nil {
		return err
	}
	if err := p.store.WithdrawAway(r.Context(), who(r).Person.ID, a.ID, off); err != nil {
		return err
	}
	n := view.Notice{Text: "The absence is called off.", Undo: &view.Post{Label: "Undo", Action: "/away/" + a.ID + "/bring-back"}}
	if !off {
		n = view.Notice{Text: "The absence is noted again.", Undo: &view.Post{Label: "Undo", Action: "/away/" + a.ID + "/call-off"}}
	}
	return p.done(w, r, sitePath(s.ID), n)
}
