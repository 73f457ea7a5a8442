package web

import (
	"net/http"
	"net/url"
	"strings"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// new shows an empty form for a visit to a tank.
func (p visitPages) new(w http.ResponseWriter, r *http.Request) error {
	b, err := p.before(r)
	if err != nil {
		return err
	}
	kind := knownKind(r.URL.Query().Get("kind"))
	stop := r.URL.Query().Get("stop")
	if !visit.IsID(stop) {
		stop = ""
	}
	values := p.fresh(r, kind, stop)
	var others []view.Link
	if stop != "" {
		// Nothing is asked twice: the stop knows when one arrived.
		s, err := p.stops.Stop(r.Context(), stop)
		if err != nil {
			return err
		}
		if s.Arrived.OK {
			day, minute := onWall(local(r).Zone, s.Arrived.V)
			values.Set("arrived", day.String()+"T"+minute.String())
		}
		others = otherTanks(s, b.Setup.ID)
	}
	frame, body := p.draw(r, b, kind, view.Form{Values: values}, others...)
	return p.page(w, r, http.StatusOK, frame, body)
}

// otherTanks of a stop: while a test of one stands, one drains another.
func otherTanks(s visit.Stop, but string) []view.Link {
	var out []view.Link
	for _, t := range s.Tanks {
		if t.ID == but {
			continue
		}
		l := view.Link{Label: t.Name, Href: "/tanks/" + t.ID + "/visits/new?stop=" + s.ID}
		if t.Visit != "" {
			l.Label, l.Href = t.Name+", kept", "/visits/"+t.Visit
		}
		out = append(out, l)
	}
	return out
}

// before is what is known of the tank of the address; what should be read is
// asked of the rules where no visit has asked for it yet.
func (p visitPages) before(r *http.Request) (care.Before, error) {
	return p.beforeOf(r, r.PathValue("tank"))
}

func (p visitPages) beforeOf(r *http.Request, tankID string) (care.Before, error) {
	now := p.cfg.Now()
	b, err := p.store.VisitBefore(r.Context(), tankID, now)
	if err != nil {
		return b, err
	}
	if len(b.Tests) == 0 {
		c := care.Case{Setup: b.Setup, Profile: b.Profile, Plan: b.Plan, History: b.History, Open: b.Open}
		c.Now = visit.Record{Tank: tankID, Performed: now, Kind: visit.Routine}
		c.Now.Day, c.Now.Minute = onWall(local(r).Zone, now)
		b.Tests = care.Assess(c).Next.Tests
	}
	return b, nil
}

// edit shows a visit's newest revision as it was typed, to make another on it.
func (p visitPages) edit(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("visit")
	rec, err := p.store.VisitByID(r.Context(), id)
	if err != nil {
		return err
	}
	fields, err := p.store.VisitFields(r.Context(), id)
	if err != nil {
		return err
	}
	b, err := p.beforeOf(r, rec.Tank)
	if err != nil {
		return err
	}
	if b, err = p.withAnswered(r, b, id); err != nil {
		return err
	}
	values := url.Values{}
	for _, f := range fields {
		if !strings.HasPrefix(f.Name, "acted.") {
			values.Add(f.Name, f.Value)
		}
	}
	for _, name := range []string{"sent", "offline", "reason"} {
		values.Del(name)
	}
	values.Set("visit", rec.Visit)
	values.Set("base", rec.Revision)
	values.Set("revision", newID(p.cfg.Now()))
	values.Set("staff", who(r).Person.ID)
	values.Set("kind", string(rec.Kind))
	values.Set("wire", visit.Wire)
	day, minute := onWall(local(r).Zone, rec.Performed)
	values.Set("performed", day.String()+"T"+minute.String())
	localStamps(r, values)
	frame, body := p.draw(r, b, rec.Kind, view.Form{Values: values})
	frame.Up = &view.Link{Label: "The visit", Href: "/visits/" + rec.Visit}
	return p.page(w, r, http.StatusOK, frame, body)
}

// localStamps writes instants as the form's own fields show them.
func localStamps(r *http.Request, values url.Values) {
	zone := local(r).Zone
	for _, name := range []string{"arrived", "left"} {
		if t, ok := parseInstant(values.Get(name)); ok {
			day, minute := onWall(zone, t)
			values.Set(name, day.String()+"T"+minute.String())
		}
	}
	if t, ok := parseInstant(values.Get("drawn")); ok {
		_, minute := onWall(zone, t)
		values.Set("drawn", minute.String())
	}
}

// withdraw takes a visit out of the tank's history; it is kept, and can be
// brought back.
func (p visitPages) withdraw(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id, back := r.PathValue("visit"), values.Get("back") == "1"
	rec, err := p.store.VisitByID(r.Context(), id)
	if err != nil {
		return err
	}
	if err := p.store.WithdrawVisit(r.Context(), who(r).Person.ID, id, !back, care.Assess); err != nil {
		return err
	}
	if back {
		return p.done(w, r, "/visits/"+id, view.Notice{Text: "The visit is back in the tank’s history."})
	}
	return p.done(w, r, "/tanks/"+rec.Tank, view.Notice{Text: "The visit is out of the tank’s history, and the tank was judged anew.",
		Undo: &view.Post{Label: "Undo", Action: "/visits/" + id + "/withdraw", Hidden: []view.Pair{{Name: "back", Value: "1"}}}})
}

// move enters a visit on the tank where it was really made.
func (p visitPages) move(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id, to := r.PathValue("visit"), values.Get("tank")
	was, err := p.store.VisitByID(r.Context(), id)
	if err != nil {
		return err
	}
	if !visit.IsID(to) {
		return fault.New(fault.Invalid, "Say to which tank the visit belongs.")
	}
	if err := p.store.MoveVisit(r.Context(), who(r).Person.ID, id, to, care.Assess); err != nil {
		return err
	}
	return p.done(w, r, "/visits/"+id, view.Notice{Text: "The visit stands at this tank now, and both tanks were judged anew.",
		Undo: &view.Post{Label: "Undo", Action: "/visits/" + id + "/move", Hidden: []view.Pair{{Name: "tank", Value: was.Tank}}}})
}
