package web

import (
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// stop is one call at a site: its tanks, how one gets in, and how it ended.
func (p roundPages) stop(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.drawStop(r, r.PathValue("stop"), view.Form{})
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p roundPages) drawStop(r *http.Request, id string, f view.Form) (view.Frame, templ.Component, error) {
	s, err := p.stops.Stop(r.Context(), id)
	if err != nil {
		return view.Frame{}, nil, err
	}
	note, err := p.stops.AccessNote(r.Context(), s.Site)
	if err != nil {
		return view.Frame{}, nil, err
	}
	keys, err := p.stops.SiteKeys(r.Context(), s.Site)
	if err != nil {
		return view.Frame{}, nil, err
	}
	l := local(r)
	v := view.Stop{
		Form: f, Action: "/stops/" + s.ID, Site: "/sites/" + s.Site, Address: s.Address, Access: paragraphs(note.Note),
		Open: s.Outcome == visit.UnderWay, Outcome: outcomeWords[s.Outcome], Why: s.Why, MayReopen: s.Outcome != visit.UnderWay,
	}
	if s.Arrived.OK {
		v.Arrived = l.Clock(s.Arrived.V)
	}
	if s.Left.OK {
		v.Left = l.Clock(s.Left.V)
	}
	for _, k := range keys {
		line := "Key " + k.Number
		if k.HolderName != "" {
			line += ", with " + k.HolderName
		}
		v.Keys = append(v.Keys, line)
	}
	for _, n := range s.People {
		v.People = append(v.People, n.Name)
	}
	for _, t := range s.Tanks {
		x := view.StopTank{Name: t.Name, Apart: t.KeepApart, Href: "/tanks/" + t.ID + "/visits/new?" + url.Values{"stop": {s.ID}}.Encode(), Tank: "/tanks/" + t.ID}
		if t.Open > 0 {
			x.Tasks = plural(t.Open, "task", "tasks")
		}
		if t.Visit != "" {
			x.Done, x.Href = "written down at "+l.Clock(t.Performed.V), "/visits/"+t.Visit
			v.Visits++
		}
		v.Tanks = append(v.Tanks, x)
	}
	return view.Frame{
		Title: s.SiteName, Lead: s.Customer, Up: &view.Link{Label: "My round", Href: "/"},
		Scripts: []string{static.Path("outbox.js"), static.Path("photo_queue.js")}, Styles: []string{static.Path("visit.css"), static.Path("photo.css")},
	}, view.StopBody(v), nil
}

// arrive begins a stop at a site.
func (p roundPages) arrive(w http.ResponseWriter, r *http.Request) error {
	id, err := p.stops.Arrive(r.Context(), who(r).Person.ID, r.PathValue("site"))
	if err != nil {
		return err
	}
	return p.done(w, r, "/stops/"+id, view.Notice{})
}

// arriveAtTank begins a stop where the tank stands and opens its visit.
func (p roundPages) arriveAtTank(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("tank")
	stop, err := p.stops.ArriveAtTank(r.Context(), who(r).Person.ID, id)
	if err != nil {
		return err
	}
	return p.done(w, r, "/tanks/"+id+"/visits/new?"+url.Values{"stop": {stop}}.Encode(), view.Notice{})
}

// end closes a stop: done, partly done, or nobody could get in, and why.
func (p roundPages) end(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id, by := r.PathValue("stop"), who(r).Person.ID
	s, err := p.stops.Stop(r.Context(), id)
	if err != nil {
		return err
	}
	outcome, why := visit.StopOutcome(values.Get("outcome")), oneLine(values.Get("why"))
	var fs fault.Fields
	switch outcome {
	case visit.StopDone, visit.StopPartly, visit.CouldNotEnter:
	default:
		fs.Add("outcome", fault.NotChoice, "Say how the stop ended.")
	}
	if why == "" && (outcome == visit.StopPartly || outcome == visit.CouldNotEnter) {
		fs.Add("why", fault.Missing, "Say why, in a few words: whoever comes next reads it.")
	}
	if len([]rune(why)) > 500 {
		fs.Add("why", fault.TooLong, "A few words: at most 500 characters are kept.")
	}
	err = fs.Err()
	switch {
	case err != nil:
	case outcome == visit.CouldNotEnter:
		_, err = p.stops.CouldNotGetIn(r.Context(), by, s.Site, why)
	default:
		err = p.stops.LeaveStop(r.Context(), by, id, outcome, why)
	}
	if f := fault.Of(err); f != nil {
		fields := f.Fields
		if len(fields) == 0 {
			fields.Add("", f.Kind.String(), "%s", f.Msg)
		}
		frame, body, drawErr := p.drawStop(r, id, view.Form{Values: values, Faults: fields})
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	return p.done(w, r, "/", view.Notice{Text: "The stop is closed: " + outcomeWords[outcome] + ".", Undo: &view.Post{Label: "Undo", Action: "/stops/" + id + "/reopen"}})
}

// reopen takes the end of a stop back.
func (p roundPages) reopen(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("stop")
	if err := p.stops.ReopenStop(r.Context(), who(r).Person.ID, id); err != nil {
		return err
	}
	return p.done(w, r, "/stops/"+id, view.Notice{Text: "The stop is under way again."})
}

func oneLine(s string) string {
	var out []rune
	for _, p := range paragraphs(s) {
		if len(out) > 0 {
			out = append(out, ' ')
		}
		out = append(out, []rune(p)...)
	}
	return string(out)
}
