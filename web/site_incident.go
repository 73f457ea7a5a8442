package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/web/view"
)

func (p sitePages) incidents(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.drawIncidents(r)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body(view.Form{}))
}

func (p sitePages) drawIncidents(r *http.Request) (view.Frame, func(view.Form) templ.Component, error) {
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return view.Frame{}, nil, err
	}
	list, err := p.store.SiteIncidents(r.Context(), s.ID)
	if err != nil {
		return view.Frame{}, nil, err
	}
	tanks, err := p.store.SiteTanks(r.Context(), s.ID, p.today(r))
	if err != nil {
		return view.Frame{}, nil, err
	}
	body := view.SiteIncidents{Action: sitePath(s.ID) + "/incidents", Tanks: []view.Option{{Value: "", Label: "No one tank"}}}
	for _, t := range tanks {
		body.Tanks = append(body.Tanks, view.Option{Value: t.ID, Label: t.Name})
	}
	for _, i := range list {
		body.Rows = append(body.Rows, view.IncidentRow{When: local(r).DayClock(i.NoticedAt), Who: i.Staff, Tank: i.TankName, What: i.What, Done: i.Done, Told: i.Told})
	}
	frame := view.Frame{Title: "Incidents", Lead: "Seen by the shop only. Promise nothing on cost or fault.", Up: &view.Link{Label: s.Name, Href: sitePath(s.ID)}}
	return frame, func(f view.Form) templ.Component { body.Form = f; return view.SiteIncidentsBody(body) }, nil
}

func (p sitePages) recordIncident(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	frame, body, err := p.drawIncidents(r)
	if err != nil {
		return err
	}
	site := r.PathValue("site")
	tanks, err := p.store.SiteTanks(r.Context(), site, p.today(r))
	if err != nil {
		return err
	}
	i, fs := customer.ParseIncident(fieldsOf(values))
	i.Site, i.NoticedAt, i.Tank = site, p.cfg.Now(), values.Get("tank")
	if known := func() bool {
		for _, t := range tanks {
			if t.ID == i.Tank {
				return true
			}
		}
		return i.Tank == ""
	}; !known() {
		fs.Add("tank", "choice", "Choose one of the tanks that stand here.")
	}
	if err = fs.Err(); err == nil {
		_, err = p.store.RecordIncident(r.Context(), who(r).Person.ID, i)
	}
	if err != nil {
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return frame, body(f) })
	}
	return p.done(w, r, sitePath(site)+"/incidents", view.Notice{Text: "The incident is written down."})
}
