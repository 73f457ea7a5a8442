package web

import (
	"net/http"
	"slices"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/domain/triage"
	"scaperound/web/view"
)

func (p sitePages) incidents(w http.ResponseWriter, r *http.Request) error {
	draw, err := p.drawIncidents(r)
	if err != nil {
		return err
	}
	day, minute := onWall(local(r).Zone, p.cfg.Now())
	query := r.URL.Query()
	frame, body := draw(view.Form{Values: valuesOf(map[string]string{"day": day.String(), "at": minute.String(), "tank": query.Get("tank"), "kind": query.Get("kind")})})
	return p.page(w, r, http.StatusOK, frame, body)
}

// drawIncidents draws the form of an incident; of one kind it says first what
// comes first.
func (p sitePages) drawIncidents(r *http.Request) (func(view.Form) (view.Frame, templ.Component), error) {
	s, err := p.store.Site(r.Context(), r.PathValue("site"))
	if err != nil {
		return nil, err
	}
	list, err := p.store.SiteIncidents(r.Context(), s.ID)
	if err != nil {
		return nil, err
	}
	tanks, err := p.store.SiteTanks(r.Context(), s.ID, p.today(r))
	if err != nil {
		return nil, err
	}
	owner, err := troublePages{shell: p.shell, store: p.cfg.Store}.owner(r.Context())
	if err != nil {
		return nil, err
	}
	body := view.SiteIncidents{Owner: owner, Action: sitePath(s.ID) + "/incidents", Tanks: []view.Option{{Value: "", Label: "No one tank"}}}
	for _, t := range tanks {
		body.Tanks = append(body.Tanks, view.Option{Value: t.ID, Label: t.Name})
	}
	for _, k := range triage.Incidents() {
		body.Kinds = append(body.Kinds, view.Option{Value: k.ID, Label: k.Title})
	}
	for _, i := range list {
		kind := ""
		if k, ok := triage.IncidentOf(i.Kind); ok && k.ID != "other" {
			kind = k.Title
		}
		body.Rows = append(body.Rows, view.IncidentRow{Kind: kind, When: local(r).DayClock(i.NoticedAt), Who: i.Staff, Tank: i.TankName, What: i.What, Done: i.Done, Told: i.Told})
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		frame := view.Frame{Title: "Incidents", Lead: s.Name + ". Seen by the shop only. Promise nothing on cost or fault.", Up: &view.Link{Label: s.Name, Href: sitePath(s.ID)}}
		body.Form, body.First, body.Steps, body.Back = f, nil, nil, view.Link{Label: "Leave it", Href: sitePath(s.ID)}
		for _, k := range triage.Incidents() {
			switch {
			case k.ID == f.Values.Get("kind"):
				frame.Title, body.First = k.Title, k.Steps
			case k.ID != "other":
				body.Steps = append(body.Steps, view.IncidentSteps{Title: k.Title, Steps: k.Steps})
			}
		}
		if id := f.Values.Get("tank"); slices.ContainsFunc(tanks, func(t customer.TankLine) bool { return t.ID == id }) {
			frame.Up = &view.Link{Label: "Trouble", Href: troublePath(id)}
			body.Back.Href = frame.Up.Href
		}
		return frame, view.SiteIncidentsBody(body)
	}, nil
}

func (p sitePages) recordIncident(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	draw, err := p.drawIncidents(r)
	if err != nil {
		return err
	}
	site := r.PathValue("site")
	tanks, err := p.store.SiteTanks(r.Context(), site, p.today(r))
	if err != nil {
		return err
	}
	i, fs := customer.ParseIncident(fieldsOf(values))
	i.Site, i.Tank = site, values.Get("tank")
	f := typedForm(r, values)
	if i.Kind = values.Get("kind"); i.Kind != "" {
		if _, known := triage.IncidentOf(i.Kind); !known {
			fs.Add("kind", fault.NotChoice, "Choose what happened.")
		}
	}
	i.NoticedAt = p.cfg.Now().UTC()
	if day := f.Past("day", "An incident", p.today(r)); day.OK {
		at := wall(local(r).Zone, day.V, f.Clock("at").Or(12*60)).UTC()
		// A clock some minutes ahead is no reason to ask twice.
		if at.Before(i.NoticedAt) {
			i.NoticedAt = at
		}
	}
	fs = append(fs, f.Faults...)
	if i.Tank != "" && !slices.ContainsFunc(tanks, func(t customer.TankLine) bool { return t.ID == i.Tank }) {
		fs.Add("tank", fault.NotChoice, "Choose one of the tanks that stand here.")
	}
	if err = fs.Err(); err == nil {
		_, err = p.first(p.store.RecordIncident(p.once(r, values), who(r).Person.ID, i))
	}
	if err != nil {
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, sitePath(site)+"/incidents", view.Notice{Text: "The incident is written down."})
}
