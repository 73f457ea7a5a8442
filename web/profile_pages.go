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
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// profilePages are the shop's standards.
type profilePages struct {
	*shell
	store profileStore
}

func profilePath(id string) string { return "/profiles/" + id }

func (p profilePages) list(w http.ResponseWriter, r *http.Request) error {
	all, err := p.store.Profiles(r.Context())
	if err != nil {
		return err
	}
	body := view.ProfileList{CanEdit: isOwner(r), New: view.Link{Label: "New target profile", Href: "/profiles/new"}}
	for _, l := range all {
		line := view.ProfileRow{Name: l.Name, Href: profilePath(l.ID), About: l.About, Tanks: "no tank", Archived: l.Archived, Since: local(r).DayOf(l.Recorded)}
		if l.Tanks > 0 {
			line.Tanks = plural(l.Tanks, "tank", "tanks")
		}
		body.Profiles = append(body.Profiles, line)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Target profiles", Lead: "What readings are judged against: the shop's own standards."}, view.ProfileListBody(body))
}

func (p profilePages) show(w http.ResponseWriter, r *http.Request) error {
	rec, err := p.store.ProfileRecord(r.Context(), r.PathValue("profile"))
	if err != nil {
		return err
	}
	units, when := reads(r), local(r)
	body := view.ProfilePage{About: rec.About, CanEdit: isOwner(r), Archived: rec.Archived, EditHref: profilePath(rec.ID) + "/edit", NameHref: profilePath(rec.ID) + "/name", LikeHref: "/profiles/new?from=" + rec.ID}
	if rec.Archived {
		body.Archive = view.Post{Label: "Use it again", Action: profilePath(rec.ID) + "/restore"}
	} else {
		body.Archive = view.Post{Label: "Offer it no longer", Action: profilePath(rec.ID) + "/archive", Quiet: true}
	}
	if len(rec.Versions) > 0 {
		now := rec.Versions[0].Profile
		body.LightNeed = amount(now.LightNeed, q.Umol, 0, units)
		for _, b := range now.Bands {
			body.Bands = append(body.Bands, bandLine(b, units))
		}
	}
	for i, v := range rec.Versions {
		line := view.VersionLine{Since: when.DayOf(v.Dated.Since), Written: when.DayClock(v.Recorded), Author: v.Author}
		if i+1 < len(rec.Versions) {
			line.Changes = bandChanges(v.Profile, rec.Versions[i+1].Profile, units)
		} else {
			line.Changes = []string{"First version"}
		}
		body.Versions = append(body.Versions, line)
	}
	for _, t := range rec.Tanks {
		body.Tanks = append(body.Tanks, view.TankLine{Name: t.Name, Href: tankPath(t.ID), Where: dotted(t.CustomerName, t.SiteName)})
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: rec.Name, Up: &view.Link{Label: "Target profiles", Href: "/profiles"}}, view.ProfileBody(body))
}

// bandLine is a band with its ends in the reader's units.
func bandLine(b tank.Band, units say.Units) view.BandLine {
	d := typed.OfKind(b.Kind)
	unit := d.Units(units.System)[0]
	end := func(e tank.BandEnd) string { return d.Show(b.At(e), units) }
	return view.BandLine{Kind: kindTitle(b.Kind), Unit: unit.Sign(), HardLo: end(tank.EndHardLo), Lo: end(tank.EndLo), Hi: end(tank.EndHi), HardHi: end(tank.EndHardHi)}
}

// bandChanges says in words which bands a version altered.
func bandChanges(now, before tank.Profile, units say.Units) []string {
	var out []string
	for _, k := range tank.BandKinds {
		a, hadA := now.Band(k)
		b, hadB := before.Band(k)
		switch {
		case a == b && hadA == hadB:
		case !hadA:
			out = append(out, kindTitle(k)+": no band any more")
		case !hadB:
			out = append(out, kindTitle(k)+": "+bandText(a, units))
		default:
			out = append(out, kindTitle(k)+": "+bandText(a, units)+" (was "+bandText(b, units)+")")
		}
	}
	if now.LightNeed != before.LightNeed {
		was := amount(before.LightNeed, q.Umol, 0, units)
		if was == "" {
			was = "not said"
		}
		is := amount(now.LightNeed, q.Umol, 0, units)
		if is == "" {
			is = "not said"
		}
		out = append(out, "Light need: "+is+" (was "+was+")")
	}
	if len(out) == 0 {
		out = append(out, "Nothing changed")
	}
	return out
}

func bandText(b tank.Band, units say.Units) string {
	l := bandLine(b, units)
	text := ""
	switch {
	case l.Lo != "" && l.Hi != "":
		text = l.Lo + " to " + l.Hi
	case l.Hi != "":
		text = "up to " + l.Hi
	case l.Lo != "":
		text = "from " + l.Lo
	}
	hard := ""
	if l.HardLo != "" {
		hard = "under " + l.HardLo
	}
	if l.HardHi != "" {
		if hard != "" {
			hard += " or "
		}
		hard += "over " + l.HardHi
	}
	if hard != "" {
		text = joinSpace(text, "(harm "+hard+")")
	}
	return joinSpace(text, l.Unit)
}

// fresh is the form of a new profile; from takes over another's bands.
func (p profilePages) fresh(w http.ResponseWriter, r *http.Request) error {
	values := url.Values{"since": {p.today(r).String()}}
	if from := r.URL.Query().Get("from"); from != "" {
		rec, err := p.store.ProfileRecord(r.Context(), from)
		if err != nil {
			return err
		}
		if len(rec.Versions) > 0 {
			values = shownValues(rec.Versions[0].Profile.Show(tank.NewShown(reads(r))))
			values.Set("about", rec.About)
		}
	}
	values.Set("since", p.today(r).String())
	frame, body := p.drawNew(r)(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p profilePages) drawNew(r *http.Request) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := p.bandForm(r, f, "/profiles", 0, nil)
		body.New, body.Cancel = true, view.Link{Label: "Back", Href: "/profiles"}
		return view.Frame{Title: "New target profile", Up: &view.Link{Label: "Target profiles", Href: "/profiles"}}, view.ProfileFormBody(body)
	}
}

// bandColumns are the ends of a band as the form's columns name them.
var bandColumns = map[tank.BandEnd]string{tank.EndHardLo: "Harm under", tank.EndLo: "From", tank.EndHi: "To", tank.EndHardHi: "Harm over"}

// bandForm is the form of bands, a row for each kind.
func (p profilePages) bandForm(r *http.Request, f view.Form, action string, version int, theirs url.Values) view.ProfileForm {
	body := view.ProfileForm{RecordForm: view.RecordForm{Form: f, Action: action, Version: version, Theirs: theirs}}
	for _, k := range tank.BandKinds {
		row := view.BandRow{Kind: kindTitle(k), Unit: typed.OfKind(k).Units(reads(r).System)[0].Sign()}
		for _, e := range tank.BandEnds {
			row.Ends = append(row.Ends, view.BandEnd{Name: tank.BandMeasure(k, e).Name, Kind: kindTitle(k), Label: bandColumns[e]})
		}
		body.Rows = append(body.Rows, row)
	}
	return body
}

func (p profilePages) make(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	n := tank.ParseNewProfile(f)
	since := readSince(r, f, p.today(r))
	var id string
	if err = f.Faults.Err(); err == nil {
		id, err = p.first(p.store.MakeProfile(p.once(r, values), who(r).Person.ID, n, since))
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawNew(r))
	}
	return p.done(w, r, profilePath(id), view.Notice{Text: n.Name + " is made."})
}

func (p profilePages) edit(w http.ResponseWriter, r *http.Request) error {
	rec, err := p.store.ProfileRecord(r.Context(), r.PathValue("profile"))
	if err != nil {
		return err
	}
	frame, body := p.drawEdit(r, rec, len(rec.Versions), nil)(view.Form{Values: p.bandValues(r, rec)})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p profilePages) bandValues(r *http.Request, rec tank.ProfileRecord) url.Values {
	values := url.Values{}
	if len(rec.Versions) > 0 {
		values = shownValues(rec.Versions[0].Profile.Show(tank.NewShown(reads(r))))
	}
	values.Set("since", p.today(r).String())
	return values
}

func (p profilePages) drawEdit(r *http.Request, rec tank.ProfileRecord, version int, theirs url.Values) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := p.bandForm(r, f, profilePath(rec.ID)+"/edit", version, theirs)
		body.Held, body.Cancel = len(rec.Tanks) > 0, view.Link{Label: "Leave as it is", Href: profilePath(rec.ID)}
		lead := "Every change is a new version; visits keep the one of their time."
		if n := len(rec.Tanks); n > 0 {
			lead += " " + plural(n, "tank is", "tanks are") + " held to it."
		}
		return view.Frame{Title: "Bands of " + rec.Name, Lead: lead, Up: &view.Link{Label: rec.Name, Href: profilePath(rec.ID)}}, view.ProfileFormBody(body)
	}
}

func (p profilePages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	rec, err := p.store.ProfileRecord(r.Context(), r.PathValue("profile"))
	if err != nil {
		return err
	}
	was := tank.Profile{ID: rec.ID, Name: rec.Name}
	if len(rec.Versions) > 0 {
		was = rec.Versions[0].Profile
	}
	f := typedForm(r, values)
	next := tank.ParseProfile(f, was)
	since := readSince(r, f, p.today(r))
	version := rowVersion(values)
	err = f.Faults.Err()
	switch {
	case err != nil || wantsJSON(r):
	case values.Get("do") == "back":
		frame, body := p.drawEdit(r, rec, version, nil)(view.Form{Values: values})
		return p.page(w, r, http.StatusOK, frame, body)
	case len(rec.Tanks) > 0 && version == len(rec.Versions) && values.Get("seen") != seenSum(values):
		return p.effect(w, r, rec, was, next, values)
	}
	if err == nil {
		err = p.firstOnly(p.store.KeepProfile(p.once(r, values), who(r).Person.ID, next, since, version))
	}
	if err == nil {
		return p.done(w, r, profilePath(rec.ID), view.Notice{Text: "Version " + strconv.Itoa(version+1) + " of " + rec.Name + " is kept." + outdone(newestOf(rec), since, local(r))})
	}
	var theirs url.Values
	if isConflict(err) {
		if now, readErr := p.store.ProfileRecord(r.Context(), rec.ID); readErr == nil {
			rec, version, theirs = now, len(now.Versions), p.bandValues(r, now)
		}
	}
	return p.again(w, r, err, values, p.drawEdit(r, rec, version, theirs))
}

// newestOf is since when a profile's newest version is true.
func newestOf(rec tank.ProfileRecord) q.Opt[time.Time] {
	if len(rec.Versions) == 0 {
		return q.Opt[time.Time]{}
	}
	return q.Some(rec.Versions[0].Dated.Since)
}

func (p profilePages) archive(archived bool) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		id := r.PathValue("profile")
		if err := p.store.ArchiveProfile(r.Context(), who(r).Person.ID, id, archived); err != nil {
			return err
		}
		n := view.Notice{Text: "It is offered again."}
		if archived {
			n = view.Notice{Text: "It is offered no longer. Tanks that are held to it stay so.", Undo: &view.Post{Label: "Undo", Action: profilePath(id) + "/restore"}}
		}
		return p.done(w, r, profilePath(id), n)
	}
}
