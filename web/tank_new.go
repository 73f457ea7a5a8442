package web

import (
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// fresh shows the form of a new tank, on a site where one is asked for.
func (p tankPages) fresh(w http.ResponseWriter, r *http.Request) error {
	draw, err := p.drawNew(r)
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{Values: url.Values{"site": {r.URL.Query().Get("site")}, "state": {string(tank.Starting)}}})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p tankPages) drawNew(r *http.Request) (func(view.Form) (view.Frame, templ.Component), error) {
	places, err := p.store.SiteNames(r.Context())
	if err != nil {
		return nil, err
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.TankNew{Form: f, States: stateChoices()[:3], Customers: view.Link{Label: "To the customers", Href: "/customers"}}
		if len(places) > 0 {
			body.Sites = append([]view.Option{{Label: "Choose the site"}}, placeChoices(places)...)
		}
		return view.Frame{Title: "New tank", Up: &view.Link{Label: "Tanks", Href: "/tanks"}}, view.TankNewBody(body)
	}, nil
}

func placeChoices(places []tank.Place) []view.Option {
	var out []view.Option
	for _, x := range places {
		out = append(out, view.Option{Value: x.ID, Label: dotted(x.Customer, x.Name)})
	}
	return out
}

// make makes a tank and goes on to its set-up.
func (p tankPages) make(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	today := p.today(r)
	n := tank.ParseNew(f, today)
	var id string
	if err = f.Faults.Err(); err == nil {
		id, err = p.first(p.store.MakeTank(p.once(r, values), who(r).Person.ID, n, startOf(r, n.SetUpOn.Or(today))))
	}
	if err != nil {
		draw, drawErr := p.drawNew(r)
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, tankPath(id)+"/setup", view.Notice{Text: n.Name + " is made. Say next what it is."})
}

// card is the form of what is said of a tank once.
func (p tankPages) card(w http.ResponseWriter, r *http.Request) error {
	return p.showCard(w, r, view.TankCardBody, "Name and state", "card")
}

// pins is the form of the pinned lines and of keeping apart.
func (p tankPages) pins(w http.ResponseWriter, r *http.Request) error {
	return p.showCard(w, r, view.TankPinsBody, "Pinned lines", "pins")
}

func (p tankPages) showCard(w http.ResponseWriter, r *http.Request, body func(view.TankCard) templ.Component, title, segment string) error {
	c, err := p.store.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	places, err := p.store.SiteNames(r.Context())
	if err != nil {
		return err
	}
	frame, page := p.drawCard(c, places, body, title, segment, c.Version, nil)(view.Form{Values: p.cardValues(r, c)})
	return p.page(w, r, http.StatusOK, frame, page)
}

func (p tankPages) cardValues(r *http.Request, c tank.Card) url.Values {
	v := shownValues(c.Show(tank.NewShown(reads(r))))
	v.Set("since", p.today(r).String())
	return v
}

func (p tankPages) drawCard(c tank.Card, places []tank.Place, body func(view.TankCard) templ.Component, title, segment string, version int, theirs url.Values) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		form := view.RecordForm{
			Form: f, Action: tankPath(c.ID) + "/" + segment, Version: version, Theirs: theirs,
			Cancel: view.Link{Label: "Leave as it is", Href: tankPath(c.ID)},
		}
		return view.Frame{Title: title, Up: &view.Link{Label: c.Name, Href: tankPath(c.ID)}},
			body(view.TankCard{RecordForm: form, States: stateChoices(), Sites: placeChoices(places), Most: tank.MaxPinnedLines})
	}
}

func (p tankPages) saveCard(w http.ResponseWriter, r *http.Request) error {
	return p.keepCard(w, r, view.TankCardBody, "Name and state", "card", func(c tank.Card, values url.Values, today q.Date) (tank.Card, q.Opt[q.Date], error) {
		f := typedForm(r, values)
		c = tank.ParseCard(f, c, today)
		since := f.Past("since", "A new state or place", today)
		return c, since, f.Faults.Err()
	})
}

func (p tankPages) savePins(w http.ResponseWriter, r *http.Request) error {
	return p.keepCard(w, r, view.TankPinsBody, "Pinned lines", "pins", func(c tank.Card, values url.Values, today q.Date) (tank.Card, q.Opt[q.Date], error) {
		f := typedForm(r, values)
		c = tank.ParsePins(f, c, today)
		return c, q.Opt[q.Date]{}, f.Faults.Err()
	})
}

// keepCard reads a form of the card, keeps it, and says every fault of it.
func (p tankPages) keepCard(w http.ResponseWriter, r *http.Request, body func(view.TankCard) templ.Component, title, segment string,
	read func(tank.Card, url.Values, q.Date) (tank.Card, q.Opt[q.Date], error)) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.store.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	today := p.today(r)
	c, since, err := read(was, values, today)
	c.Version = rowVersion(values)
	if err == nil {
		err = p.store.ChangeCard(r.Context(), who(r).Person.ID, c, startOf(r, since.Or(today)))
	}
	if err == nil {
		return p.done(w, r, tankPath(c.ID), view.Notice{Text: c.Name + " is kept as shown."})
	}
	version, theirs := c.Version, url.Values(nil)
	if isConflict(err) {
		if was, readErr := p.store.TankCard(r.Context(), c.ID); readErr == nil {
			version, theirs = was.Version, p.cardValues(r, was)
		}
	}
	places, readErr := p.store.SiteNames(r.Context())
	if readErr != nil {
		return readErr
	}
	return p.again(w, r, err, values, p.drawCard(was, places, body, title, segment, version, theirs))
}
