package web

import (
	"net/http"
	"net/url"
	"strconv"
	"time"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/triage"
	"scaperound/web/view"
)

// recordsShown is how many records of before a page of trouble lists.
const recordsShown = 50

func (p troublePages) deaths(w http.ResponseWriter, r *http.Request) error {
	draw, err := p.drawDeaths(r)
	if err != nil {
		return err
	}
	day, minute := onWall(local(r).Zone, p.cfg.Now())
	frame, body := draw(view.Form{Values: valuesOf(map[string]string{"day": day.String(), "at": minute.String(), "n": "1"})})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p troublePages) drawDeaths(r *http.Request) (func(view.Form) (view.Frame, templ.Component), error) {
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return nil, err
	}
	all, err := p.store.Deaths(r.Context(), c.ID, recordsShown)
	if err != nil {
		return nil, err
	}
	owner, err := p.owner(r.Context())
	if err != nil {
		return nil, err
	}
	path, when := tankPath(c.ID), local(r)
	body := view.Deaths{
		Owner: owner, Action: path + "/deaths", Steps: triage.DeathSteps, Groups: choicesWithNone("Choose", tank.AnimalGroups), Befores: choices(triage.Befores), Bodies: choicesWithNone("Not said", triage.Bodies),
		Gills: triage.Gills, Skins: triage.Skins, Posture: triage.Postures, Visit: path + "/visits/new?kind=call_out", Back: view.Link{Label: "Leave it", Href: troublePath(c.ID)},
	}
	if p.hasPage("/tanks/{tank}/photos") {
		body.Photos = path + "/photos?purpose=death"
	}
	for _, d := range all {
		body.Rows = append(body.Rows, deathRow(d, when))
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body.Form = f
		return view.Frame{Title: "A death", Lead: c.Name + ". Stays inside the shop.", Up: &view.Link{Label: "Trouble", Href: troublePath(c.ID)}}, view.DeathsBody(body)
	}, nil
}

func deathRow(d triage.Death, when view.Local) view.DeathRow {
	row := view.DeathRow{When: "Found on " + when.DayClock(d.Seen), By: d.By, Words: d.Words,
		What: strconv.Itoa(d.N) + " " + joinSpace(tank.TitleIn(tank.AnimalGroups, d.Group), d.Species) + ": " + d.CauseText()}
	add := func(name, text string) {
		if text != "" {
			row.Facts = append(row.Facts, view.Fact{Name: name, Text: text})
		}
	}
	add("Gills", d.Gills)
	add("Skin", d.Skin)
	add("Lay", d.Posture)
	var before []string
	for _, id := range d.Before {
		before = append(before, lowerFirst(tank.TitleIn(triage.Befores, id)))
	}
	if len(before) > 0 {
		add("72 hours before", say.JoinAnd(before))
	}
	add("Old water", map[bool]string{true: "half a litre kept", false: "not kept"}[d.WaterKept])
	add("Body", tank.TitleIn(triage.Bodies, d.Body))
	return row
}

func (p troublePages) recordDeath(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	draw, err := p.drawDeaths(r)
	if err != nil {
		return err
	}
	zone := local(r).Zone
	d, fs := triage.ParseDeath(fieldsOf(values), p.today(r), func(day q.Date, m q.MinuteOfDay) time.Time { return wall(zone, day, m).UTC() })
	d.Tank = r.PathValue("tank")
	if now := p.cfg.Now(); d.Seen.After(now) && len(fs) == 0 {
		// A clock some minutes ahead is no reason to ask twice.
		d.Seen = now.UTC()
	}
	if err = fs.Err(); err == nil {
		day, _ := onWall(zone, d.Seen)
		_, err = p.first(p.store.RecordDeath(p.once(r, values), who(r).Person.ID, d, day))
	}
	if err != nil {
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, tankPath(d.Tank)+"/deaths", view.Notice{Text: "Written down. Tell the owner: a death goes to the customer by her word alone."})
}

func (p troublePages) stopped(w http.ResponseWriter, r *http.Request) error {
	draw, err := p.drawStopped(r)
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p troublePages) drawStopped(r *http.Request) (func(view.Form) (view.Frame, templ.Component), error) {
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return nil, err
	}
	all, err := p.store.FilterStops(r.Context(), c.ID, recordsShown)
	if err != nil {
		return nil, err
	}
	owner, err := p.owner(r.Context())
	if err != nil {
		return nil, err
	}
	path := tankPath(c.ID)
	body := view.Stopped{Owner: owner, Action: path + "/stopped", Back: view.Link{Label: "Leave it", Href: troublePath(c.ID)},
		Short: triage.Stop{Stood: triage.StoodUnderTwo}.Steps(), Long: triage.Stop{Stood: triage.StoodLonger}.Steps()}
	for _, s := range triage.Stoods {
		body.Spans = append(body.Spans, view.Option{Value: string(s), Label: s.Title()})
	}
	for _, l := range all {
		row := view.StoppedRow{When: local(r).DayClock(l.At), By: l.By, Words: l.Words, What: "The filter stood still: " + lowerFirst(l.Stood.Title())}
		if l.PowerCut {
			row.What += ", in a power cut"
		}
		row.What += map[bool]string{true: "; timers right.", false: "; timers not looked at."}[l.Timers]
		body.Rows = append(body.Rows, row)
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body.Form = f
		return view.Frame{Title: "Power cut, or the filter stood still", Lead: c.Name, Up: &view.Link{Label: "Trouble", Href: troublePath(c.ID)}}, view.StoppedBody(body)
	}, nil
}

func (p troublePages) keepStop(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	draw, err := p.drawStopped(r)
	if err != nil {
		return err
	}
	s, fs := triage.ParseStop(fieldsOf(values))
	s.Tank = r.PathValue("tank")
	if err = fs.Err(); err == nil {
		_, err = p.first(p.store.KeepStop(p.once(r, values), who(r).Person.ID, s, p.today(r)))
	}
	if err != nil {
		return p.again(w, r, err, values, draw)
	}
	text := "Kept."
	if s.Stood.Rinse() {
		text = "Kept. The tests for tomorrow and the day after stand on the tank’s list and on the counter."
	}
	return p.done(w, r, tankPath(s.Tank), view.Notice{Text: text})
}

// apartRules is what keeping apart means.
var apartRules = []string{
	"Own net and scissors, or disinfect and dry them. Own wet bag, for this tank alone.",
	"The last stop of the day: hands and arms washed, sleeves changed; gloves over any cut, some of it passes to people.",
	"No plants, animals, media or water from here to another tank.",
	"Media to start a filter with come from clean tanks only.",
	"What it is and what is given against it is for a vet for fish.",
}

func apartTyped(c tank.Card) map[string]string {
	out := map[string]string{"keep_apart_since": "", "keep_apart_until": ""}
	if c.KeepApartSince.OK {
		out["keep_apart_since"] = c.KeepApartSince.V.String()
	}
	if c.KeepApartUntil.OK {
		out["keep_apart_until"] = c.KeepApartUntil.V.String()
	}
	return out
}

func (p troublePages) drawApart(r *http.Request, c tank.Card, version int) (func(view.Form) (view.Frame, templ.Component), error) {
	owner, err := p.owner(r.Context())
	if err != nil {
		return nil, err
	}
	path, when := tankPath(c.ID), local(r)
	body := view.Apart{Owner: owner, Action: path + "/apart", Version: version, Rules: apartRules, Back: view.Link{Label: "Leave it", Href: troublePath(c.ID)}}
	if c.KeptApart(p.today(r)) {
		body.Kept = "since " + when.Day(c.KeepApartSince.V)
		if c.KeepApartUntil.OK {
			body.Kept += " until " + when.Day(c.KeepApartUntil.V)
		}
		body.Over = &view.Post{Label: "It is over", Action: path + "/apart/over"}
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		body.Form = meanwhile(f, apartTyped(c))
		return view.Frame{Title: "Disease: keep apart", Lead: c.Name, Up: &view.Link{Label: "Trouble", Href: troublePath(c.ID)}}, view.ApartBody(body)
	}, nil
}

func (p troublePages) apart(w http.ResponseWriter, r *http.Request) error {
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	values := map[string]string{"keep_apart_since": p.today(r).String()}
	if c.KeptApart(p.today(r)) {
		values = apartTyped(c)
	}
	draw, err := p.drawApart(r, c, c.Version)
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{Values: valuesOf(values)})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p troublePages) keepApart(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	c := tank.ParseApart(f, was, p.today(r))
	// What somebody else changed of the tank otherwise is no conflict.
	if c.Version = rowVersion(values); drawnFrom(values, apartTyped(was)) {
		c.Version = was.Version
	}
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.tanks.ChangeCard(p.once(r, values), who(r).Person.ID, c, p.cfg.Now()))
	}
	if err != nil {
		now, version := was, c.Version
		if newer, readErr := p.tanks.TankCard(r.Context(), c.ID); isConflict(err) && readErr == nil {
			now, version = newer, newer.Version
		}
		draw, readErr := p.drawApart(r, now, version)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, draw)
	}
	n := view.Notice{Text: "The tank is kept apart. Its stop is the last of the day."}
	if !was.KeptApart(p.today(r)) {
		n.Undo = &view.Post{Label: "Undo", Action: tankPath(c.ID) + "/apart/over"}
	}
	return p.done(w, r, tankPath(c.ID), n)
}

// drawnFrom reports whether a form was drawn from what the record says now.
func drawnFrom(values url.Values, now map[string]string) bool {
	for name, x := range now {
		if was, sent := values["was."+name]; !sent || was[0] != x {
			return false
		}
	}
	return true
}

// apartOver says that the tank need not be kept apart any more.
func (p troublePages) apartOver(w http.ResponseWriter, r *http.Request) error {
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	n := view.Notice{Text: "The tank is not kept apart any more."}
	if c.KeptApart(p.today(r)) {
		n.Undo = &view.Post{Label: "Undo", Action: tankPath(c.ID) + "/apart", Hidden: append(originals(apartTyped(c)), view.Pair{Name: "version", Value: strconv.Itoa(c.Version + 1)})}
	}
	if c.KeepApartSince.OK {
		c.KeepApartSince, c.KeepApartUntil = q.Opt[q.Date]{}, q.Opt[q.Date]{}
		if err := p.tanks.ChangeCard(r.Context(), who(r).Person.ID, c, p.cfg.Now()); err != nil {
			return err
		}
	}
	return p.done(w, r, tankPath(c.ID), n)
}
