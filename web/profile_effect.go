package web

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// effectPatience is how long one page looks at tanks before it shows what it
// has and offers to go on.
const effectPatience = 6 * time.Second

// steering are fields that steer the page and say nothing about the bands.
var steering = []string{"seen", "do", "from", "once", "confirm.seen"}

// seenSum names what was typed, so that what is kept is what was looked at.
func seenSum(values url.Values) string {
	v := url.Values{}
	for name, all := range values {
		if !slices.Contains(steering, name) {
			v[name] = all
		}
	}
	sum := sha256.Sum256([]byte(v.Encode()))
	return hex.EncodeToString(sum[:8])
}

// effect shows what other bands would change for which tanks, before they are kept.
func (p profilePages) effect(w http.ResponseWriter, r *http.Request, rec tank.ProfileRecord, now, next tank.Profile, values url.Values) error {
	from, _ := strconv.Atoi(values.Get("from"))
	effects, left, err := p.store.ProfileEffects(r.Context(), now, next, from, effectPatience, care.Assess)
	if err != nil {
		return err
	}
	units, when := reads(r), local(r)
	body := view.ProfileEffect{Action: profilePath(rec.ID) + "/edit", Seen: seenSum(values), Changes: bandChanges(next, now, units)}
	for name, all := range values {
		if slices.Contains(steering, name) {
			continue
		}
		for _, v := range all {
			body.Hidden = append(body.Hidden, view.Pair{Name: name, Value: v})
		}
	}
	slices.SortFunc(body.Hidden, func(a, b view.Pair) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	for _, e := range effects {
		name := dotted(e.TankName, e.CustomerName)
		if e.Visit == "" {
			body.None = append(body.None, name)
			continue
		}
		lines := effectLines(e, units, when)
		if len(lines) == 0 {
			body.Same = append(body.Same, name)
			continue
		}
		body.Rows = append(body.Rows, view.EffectRow{Name: name, Href: "/visits/" + e.Visit, When: when.DayOf(e.Performed), Lines: lines})
	}
	seen := len(body.Rows) + len(body.Same)
	switch {
	case seen == 0:
		body.Sum = "None of its tanks has been visited yet: nothing changes."
	case len(body.Rows) == 0:
		body.Sum = "Nothing would have been judged otherwise: " + plural(seen, "tank was", "tanks were") + " looked at."
	default:
		body.Sum = strconv.Itoa(len(body.Rows)) + " of " + plural(seen, "tank", "tanks") + " would be judged otherwise."
	}
	if from > 0 {
		body.Sum = "Behind the first " + plural(from, "tank", "tanks") + ": " + lowerFirst(body.Sum)
	}
	if left > 0 {
		body.Left = plural(left, "tank was", "tanks were") + " not looked at yet."
		body.Next = strconv.Itoa(from + len(effects))
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "What would change", Lead: rec.Name, Up: &view.Link{Label: rec.Name, Href: profilePath(rec.ID)}}, view.ProfileEffectBody(body))
}

// effectLines say in words how two judgements of one visit differ.
func effectLines(e counter.Effect, units say.Units, when view.Local) []string {
	var out []string
	state := func(a care.Assessment, k q.Kind, phase string) string {
		for _, s := range a.Strips {
			if s.Kind == k && s.Phase == phase {
				if word, ok := say.WordFor("state." + string(s.State)); ok {
					return word
				}
				return stripOf(s, units).Word
			}
		}
		return "not judged"
	}
	for _, s := range e.Would.Strips {
		was, would := state(e.Was, s.Kind, s.Phase), state(e.Would, s.Kind, s.Phase)
		if was != would {
			m, _ := q.MeasureOf(s.Kind)
			out = append(out, m.Title+": "+would+" (was "+was+")")
		}
	}
	has := func(ts []care.Task, t care.Task) bool {
		return slices.ContainsFunc(ts, func(x care.Task) bool { return x.Key() == t.Key() })
	}
	for _, t := range e.Would.Tasks {
		if !has(e.Was.Tasks, t) {
			out = append(out, "More to do: "+lowerFirst(taskText(t, units)))
		}
	}
	for _, t := range e.Was.Tasks {
		if !has(e.Would.Tasks, t) {
			out = append(out, "No longer to do: "+lowerFirst(taskText(t, units)))
		}
	}
	if e.Was.Status != e.Would.Status {
		out = append(out, "For the customer: "+statusWords[e.Would.Status]+" (was: "+statusWords[e.Was.Status]+")")
	}
	if a, b := e.Was.Next.On, e.Would.Next.On; a != b {
		day := func(o q.Opt[q.Date]) string {
			if !o.OK {
				return "not set"
			}
			return when.Day(o.V)
		}
		out = append(out, "Next date: "+day(b)+" (was "+day(a)+")")
	}
	return out
}

// name is the form of what a profile is called.
func (p profilePages) name(w http.ResponseWriter, r *http.Request) error {
	rec, err := p.store.ProfileRecord(r.Context(), r.PathValue("profile"))
	if err != nil {
		return err
	}
	frame, body := p.drawName(rec)(view.Form{Values: valuesOf(map[string]string{"name": rec.Name, "about": rec.About})})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p profilePages) drawName(rec tank.ProfileRecord) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		return view.Frame{Title: "Name and what it is for", Up: &view.Link{Label: rec.Name, Href: profilePath(rec.ID)}},
			view.ProfileNameBody(view.ProfileName{Form: f, Action: profilePath(rec.ID) + "/name", Back: view.Link{Label: "Leave as it is", Href: profilePath(rec.ID)}})
	}
}

func (p profilePages) rename(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	rec, err := p.store.ProfileRecord(r.Context(), r.PathValue("profile"))
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	name, about := f.Name("name", tank.MaxName, "Type what you call this target profile."), f.Text("about", tank.MaxNote)
	if err = f.Faults.Err(); err == nil {
		err = p.store.RenameProfile(r.Context(), who(r).Person.ID, rec.ID, name, about)
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawName(rec))
	}
	return p.done(w, r, profilePath(rec.ID), view.Notice{Text: "Kept. What was judged by it stays."})
}
