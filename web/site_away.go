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

// drawAway draws the form of an absence; one without an ID is new. others are
// those that are noted of the site.
func (p sitePages) drawAway(r *http.Request, s customer.Site, a customer.Away) (func(view.Form) (view.Frame, templ.Component), error) {
	others, err := p.store.SiteAways(r.Context(), s.ID, p.today(r))
	if err != nil {
		return nil, err
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.SiteAway{Form: f, Action: sitePath(s.ID) + "/away", Keep: "Add", Version: a.Version, Back: view.Link{Label: "Leave it", Href: sitePath(s.ID)}}
		frame := view.Frame{Title: "An absence", Lead: s.Name, Up: &view.Link{Label: s.Name, Href: sitePath(s.ID)}}
		for _, x := range others {
			if x.ID != a.ID {
				body.Others = append(body.Others, awayText(local(r), x, p.today(r)))
			}
		}
		path := "/away/" + a.ID
		switch {
		case a.Off:
			body.Form, body.Action, body.Keep = meanwhile(f, awayTyped(a)), path, "Keep"
			body.Off, body.CallOff = true, &view.Post{Label: "They go after all", Action: path + "/bring-back"}
		case a.ID != "":
			body.Form, body.Action, body.Keep = meanwhile(f, awayTyped(a)), path, "Keep"
			body.Sheet = &view.Link{Label: "Sheet for whoever stands in", Href: path + "/sheet"}
			body.CallOff = &view.Post{Label: "They stay after all", Action: path + "/call-off"}
		}
		return frame, view.SiteAwayBody(body)
	}, nil
}

func (p sitePages) blankAway(w http.ResponseWriter, r *http.Request) error {
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	draw, err := p.drawAway(r, s, customer.Away{})
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{})
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
	a, fs := customer.ParseAway(fieldsOf(values), p.today(r))
	a.Site = s.ID
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.first(p.store.AddAway(p.once(r, values), who(r).Person.ID, a))
	}
	if err != nil {
		draw, readErr := p.drawAway(r, s, customer.Away{})
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, sitePath(s.ID), view.Notice{Text: "The absence is noted.", Undo: &view.Post{Label: "Undo", Action: "/away/" + id + "/call-off"}})
}

// awayAndSite reads an absence and where it is.
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
	draw, err := p.drawAway(r, s, a)
	if err != nil {
		return err
	}
	frame, body := draw(formOf(awayTyped(a)))
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
	a, fs := customer.ParseAway(fieldsOf(values), p.today(r))
	a.ID, a.Site, a.Version = was.ID, s.ID, rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.firstOnly(p.store.EditAway(p.once(r, values), who(r).Person.ID, a))
	}
	if err != nil {
		now, readErr := p.store.Away(r.Context(), was.ID)
		if readErr != nil {
			return readErr
		}
		if !isConflict(err) {
			now.Version = a.Version
		}
		draw, readErr := p.drawAway(r, s, now)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, draw)
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
