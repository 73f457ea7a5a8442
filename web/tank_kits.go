package web

import (
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// kitPages' stay is the form of which kits stay at a tank, whatever is in the bag.
func (p kitPages) stay(w http.ResponseWriter, r *http.Request) error {
	draw, was, err := p.drawStay(r)
	if err != nil {
		return err
	}
	values := url.Values{"since": {p.today(r).String()}}
	for k, kit := range was {
		values.Set(stayField(k), kit)
	}
	frame, body := draw(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, body)
}

func stayField(k q.Kind) string { return "kit." + string(k) }

// drawStay draws the form, and says which kits stay now.
func (p kitPages) drawStay(r *http.Request) (func(view.Form) (view.Frame, templ.Component), map[q.Kind]string, error) {
	id := r.PathValue("tank")
	setup, _, _, err := p.cfg.Store.TankAt(r.Context(), id, p.cfg.Now())
	if err != nil {
		return nil, nil, err
	}
	all, err := p.store.Kits(r.Context())
	if err != nil {
		return nil, nil, err
	}
	was := map[q.Kind]string{}
	for _, u := range setup.Usual {
		was[u.Kind] = u.Kit
	}
	body := view.TankKits{Action: tankPath(id) + "/kits", Back: view.Link{Label: "Leave as it is", Href: tankPath(id)}}
	for _, m := range q.Measures() {
		line := view.TankKitKind{Name: stayField(m.Kind), Label: m.Title, Kits: []view.Option{{Label: "From the bag"}}}
		for _, k := range all {
			if k.Measures == m.Kind && (!k.Archived || k.ID == was[m.Kind]) {
				line.Kits = append(line.Kits, view.Option{Value: k.ID, Label: k.Name + ", " + tank.TitleIn(tank.InstrumentTypes, string(k.Type))})
			}
		}
		if len(line.Kits) > 1 {
			body.Kinds = append(body.Kinds, line)
		}
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body.Form = f
		return view.Frame{Title: "Kits that stay here", Lead: "Readings at this tank name them first, before what is in the bag.", Up: &view.Link{Label: setup.Name, Href: tankPath(id)}}, view.TankKitsBody(body)
	}, was, nil
}

func (p kitPages) keepStay(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	draw, was, err := p.drawStay(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	since := readSince(r, f, p.today(r))
	all, err := p.store.Kits(r.Context())
	if err != nil {
		return err
	}
	var changed []tank.UsualKit
	for _, m := range q.Measures() {
		name := stayField(m.Kind)
		if _, sent := values[name]; !sent || values.Get(name) == was[m.Kind] {
			continue
		}
		fits := values.Get(name) == ""
		for _, k := range all {
			fits = fits || k.ID == values.Get(name) && k.Measures == m.Kind
		}
		if !fits {
			f.Faults.Add(name, fault.NotChoice, "Choose one of the kits for this reading.")
			continue
		}
		changed = append(changed, tank.UsualKit{Kind: m.Kind, Kit: values.Get(name)})
	}
	err = f.Faults.Err()
	for _, u := range changed {
		if err == nil {
			err = p.store.SetUsualKit(r.Context(), who(r).Person.ID, r.PathValue("tank"), since, u)
		}
	}
	if err != nil {
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, tankPath(r.PathValue("tank")), view.Notice{Text: "The kits that stay here are kept."})
}
