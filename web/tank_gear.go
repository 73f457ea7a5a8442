package web

import (
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// gear shows what was done to the gear and the form of one event.
func (p tankPages) gear(w http.ResponseWriter, r *http.Request) error {
	now := p.cfg.Now().In(local(r).Zone)
	return p.drawGear(w, r, nil, url.Values{"day": {q.DateOf(now).String()}, "at": {now.Format("15:04")}})
}

// tend keeps one event of the gear.
func (p tankPages) tend(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	today := p.today(r)
	day := f.Past("day", "What was done", today).Or(today)
	at := f.Clock("at").Or(12 * 60)
	e := tank.ParseGearEvent(f)
	e.At = wall(local(r).Zone, day, at).UTC()
	if now := p.cfg.Now(); e.At.After(now) && len(f.Faults) == 0 {
		// A clock some minutes ahead is no reason to ask twice.
		e.At = now.UTC()
	}
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.store.RecordGearEvent(p.once(r, values), who(r).Person.ID, r.PathValue("tank"), e))
	}
	if err != nil {
		return p.drawGear(w, r, err, values)
	}
	return p.done(w, r, tankPath(r.PathValue("tank"))+"/gear", view.Notice{Text: tank.TitleIn(tank.Gears, e.Gear) + ": written down."})
}

func (p tankPages) drawGear(w http.ResponseWriter, r *http.Request, fault error, values url.Values) error {
	c, err := p.store.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	events, err := p.store.GearEvents(r.Context(), c.ID, linesOfHistory)
	if err != nil {
		return err
	}
	units, when := reads(r), local(r)
	body := view.TankGear{Action: tankPath(c.ID) + "/gear", Gears: choices(tank.Gears), Acts: choices(tank.GearActs)}
	body.Units = unitChoices(units, tank.GearMeasures())
	for _, e := range events {
		line := view.GearLine{
			When: when.DayClock(e.At), What: dotted(tank.TitleIn(tank.Gears, e.Gear), tank.TitleIn(tank.GearActs, e.What)), Note: e.Note, Author: e.Author,
			Weight: amount(e.Gross, q.Kg, 2, units), Number: e.Number,
		}
		if e.TestedOn.OK {
			line.Tested = when.Day(e.TestedOn.V)
		}
		body.Events = append(body.Events, line)
	}
	frame := view.Frame{Title: "Gear", Up: &view.Link{Label: c.Name, Href: tankPath(c.ID)}}
	draw := func(f view.Form) (view.Frame, templ.Component) { body.Form = f; return frame, view.TankGearBody(body) }
	if fault != nil {
		return p.again(w, r, fault, values, draw)
	}
	frame, page := draw(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, page)
}
