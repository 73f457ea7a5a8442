package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/web/view"
)

func accessTyped(n customer.AccessNote) map[string]string {
	return map[string]string{"note": n.Note, "alarm_code": n.AlarmCode}
}

// access is the only page that shows how to get in. It is kept nowhere.
func (p sitePages) access(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	n, err := p.store.AccessNote(r.Context(), s.ID)
	if err != nil {
		return err
	}
	frame, body := p.drawAccess(r, s, n)(formOf(accessTyped(n)))
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sitePages) drawAccess(r *http.Request, s customer.Site, n customer.AccessNote) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.SiteAccess{Form: meanwhile(f, accessTyped(n)), Action: sitePath(s.ID) + "/access", Version: n.Version, Back: view.Link{Label: "Leave it", Href: sitePath(s.ID)}}
		if n.Version > 0 {
			body.Written = local(r).DayClock(n.UpdatedAt)
			if n.UpdatedBy != "" {
				body.Written += ", " + n.UpdatedBy
			}
		}
		return view.Frame{Title: "How to get in", Lead: joined(", ", s.Name, s.Address, s.Town), Up: &view.Link{Label: s.Name, Href: sitePath(s.ID)}}, view.SiteAccessBody(body)
	}
}

func (p sitePages) saveAccess(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	values, err := p.form(r)
	if err != nil {
		return err
	}
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return err
	}
	n, fs := customer.ParseAccessNote(fieldsOf(values))
	n.Site, n.Version = s.ID, rowVersion(values)
	if err = fs.Err(); err == nil {
		err = p.store.EditAccessNote(r.Context(), who(r).Person.ID, n)
	}
	if err != nil {
		now, readErr := p.store.AccessNote(r.Context(), s.ID)
		if readErr != nil {
			return readErr
		}
		if len(fs) > 0 {
			now.Version = n.Version
		}
		return p.again(w, r, err, values, p.drawAccess(r, s, now))
	}
	return p.done(w, r, sitePath(s.ID)+"/access", view.Notice{Text: "Kept."})
}
