package web

import (
	"net/http"
	"net/url"
	"time"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// sourcePages are the source waters of sites and of the shop.
type sourcePages struct {
	*shell
	store sourceStore
	tanks tankStore
}

func sourcePath(id string) string { return "/sources/" + id }

func (p sourcePages) list(w http.ResponseWriter, r *http.Request) error {
	all, err := p.store.Sources(r.Context(), r.URL.Query().Get("site"))
	if err != nil {
		return err
	}
	body := view.SourceList{New: view.Link{Label: "New source water", Href: "/sources/new"}, Beside: tanksAndWaters("/sources")}
	for _, s := range all {
		where := s.SiteName
		if where == "" {
			where = "The shop's own"
		}
		body.Sources = append(body.Sources, view.SourceRow{Name: s.Name, Href: sourcePath(s.ID), Where: where, Kind: tank.TitleIn(tank.SourceKinds, string(s.Kind))})
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Source waters", Lead: "What comes from the tap is not the same all year: each measurement keeps its date."}, view.SourceListBody(body))
}

func (p sourcePages) show(w http.ResponseWriter, r *http.Request) error {
	rec, err := p.store.SourceRecord(r.Context(), r.PathValue("source"))
	if err != nil {
		return err
	}
	body := view.SourcePage{Kind: tank.TitleIn(tank.SourceKinds, string(rec.Kind)), Where: rec.SiteName, EditHref: sourcePath(rec.ID) + "/edit"}
	if body.Where == "" {
		body.Where = "The shop's own"
	}
	for _, v := range rec.Versions {
		body.Versions = append(body.Versions, sourceVersion(v, reads(r), local(r)))
	}
	for _, t := range rec.Tanks {
		body.Tanks = append(body.Tanks, view.TankLine{Name: t.Name, Href: tankPath(t.ID), Where: dotted(t.CustomerName, t.SiteName)})
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: rec.Name, Lead: dotted(body.Kind, body.Where), Up: &view.Link{Label: "Source waters", Href: "/sources"}}, view.SourceBody(body))
}

func sourceVersion(v tank.SourceVersion, units say.Units, when view.Local) view.SourceVersion {
	out := view.SourceVersion{Since: when.DayOf(v.Since), Author: v.Author, Note: v.Note}
	for _, k := range tank.SourceValues {
		if x := v.Get(k); x.OK {
			m, _ := q.MeasureOf(k)
			out.Values = append(out.Values, view.Fact{Name: m.Title, Text: say.Amount(x.V, m.Unit, m.DecimalsAt(x.V), units)})
		}
	}
	disinfectant := tank.TitleIn(tank.Disinfectants, string(v.Disinfectant))
	if x := v.Get(q.TotalChlorine); x.OK {
		disinfectant += ", " + say.Amount(x.V, q.MgL, 2, units)
	}
	out.Values = append(out.Values, view.Fact{Name: "Disinfectant", Text: disinfectant})
	if v.WinterMin.OK {
		out.Values = append(out.Values, view.Fact{Name: "Coldest in winter", Text: amount(v.WinterMin, q.DegC, 0, units)})
	}
	if v.Softener {
		out.Values = append(out.Values, view.Fact{Name: "Softener", Text: "behind a softener: use the unsoftened tap where there is one"})
	}
	return out
}

func (p sourcePages) drawForm(r *http.Request, rec tank.SourceRecord, version int, theirs url.Values, places []tank.Place) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.SourceForm{Disinfectants: choices(tank.Disinfectants), Kinds: choices(tank.SourceKinds), New: rec.ID == ""}
		body.RecordForm = view.RecordForm{Form: f, Action: "/sources", Version: version, Theirs: theirs,
			Units: unitChoices(reads(r), tank.SourceMeasures()), Cancel: view.Link{Label: "Back", Href: "/sources"}}
		frame := view.Frame{Title: "New source water", Up: &view.Link{Label: "Source waters", Href: "/sources"}}
		if rec.ID != "" {
			body.Action, body.Cancel = sourcePath(rec.ID)+"/edit", view.Link{Label: "Leave as it is", Href: sourcePath(rec.ID)}
			frame = view.Frame{Title: "New values of " + rec.Name, Up: &view.Link{Label: rec.Name, Href: sourcePath(rec.ID)}}
		}
		for _, k := range tank.SourceValues {
			body.Values = append(body.Values, view.SourceValue{Name: tank.SourceMeasure(k).Name, Label: kindTitle(k)})
		}
		body.Strength = tank.SourceMeasure(q.TotalChlorine).Name
		body.Places = append([]view.Option{{Label: "The shop's own"}}, placeChoices(places)...)
		return frame, view.SourceFormBody(body)
	}
}

func (p sourcePages) fresh(w http.ResponseWriter, r *http.Request) error {
	places, err := p.tanks.SiteNames(r.Context())
	if err != nil {
		return err
	}
	values := url.Values{"site": {r.URL.Query().Get("site")}, "since": {p.today(r).String()}, "disinfectant": {string(tank.DisinfectantNotKnown)}, "kind": {string(tank.Tap)}}
	frame, body := p.drawForm(r, tank.SourceRecord{}, 0, nil, places)(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sourcePages) make(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	n := tank.ParseNewSource(f)
	s := tank.ParseSource(f, tank.Source{Name: n.Name, Kind: n.Kind})
	since := readSince(r, f, p.today(r))
	var id string
	if err = f.Faults.Err(); err == nil {
		id, err = p.first(p.store.MakeSource(p.once(r, values), who(r).Person.ID, n, s, since))
	}
	if err != nil {
		places, readErr := p.tanks.SiteNames(r.Context())
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, p.drawForm(r, tank.SourceRecord{}, 0, nil, places))
	}
	return p.done(w, r, sourcePath(id), view.Notice{Text: n.Name + " is written down."})
}

func (p sourcePages) values(r *http.Request, rec tank.SourceRecord) url.Values {
	s := tank.Source{Disinfectant: tank.DisinfectantNotKnown}
	if len(rec.Versions) > 0 {
		s = rec.Versions[0].Source
	}
	values := shownValues(s.Show(tank.NewShown(reads(r))))
	values.Set("since", p.today(r).String())
	return values
}

func (p sourcePages) edit(w http.ResponseWriter, r *http.Request) error {
	rec, err := p.store.SourceRecord(r.Context(), r.PathValue("source"))
	if err != nil {
		return err
	}
	frame, body := p.drawForm(r, rec, len(rec.Versions), nil, nil)(view.Form{Values: p.values(r, rec)})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p sourcePages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	rec, err := p.store.SourceRecord(r.Context(), r.PathValue("source"))
	if err != nil {
		return err
	}
	was := tank.Source{ID: rec.ID, Name: rec.Name, Kind: rec.Kind}
	if len(rec.Versions) > 0 {
		was = rec.Versions[0].Source
	}
	f := typedForm(r, values)
	s := tank.ParseSource(f, was)
	since := readSince(r, f, p.today(r))
	version := rowVersion(values)
	if err = f.Faults.Err(); err == nil {
		err = p.store.KeepSourceVersion(r.Context(), who(r).Person.ID, s, since, version)
	}
	if err == nil {
		var newest q.Opt[time.Time]
		if len(rec.Versions) > 0 {
			newest = q.Some(rec.Versions[0].Since)
		}
		return p.done(w, r, sourcePath(rec.ID), view.Notice{Text: "The new values are kept; the old ones stay for the visits of their time." + outdone(newest, since, local(r))})
	}
	var theirs url.Values
	if isConflict(err) {
		if now, readErr := p.store.SourceRecord(r.Context(), rec.ID); readErr == nil {
			rec, version, theirs = now, len(now.Versions), p.values(r, now)
		}
	}
	return p.again(w, r, err, values, p.drawForm(r, rec, version, theirs, nil))
}
