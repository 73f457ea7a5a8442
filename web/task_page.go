package web

import (
	"net/http"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/web/view"
)

func taskPath(id string) string { return "/tasks/" + id }

var skipWords = map[string]string{
	"no_time": "no time", "no_part": "no part", "customer_said_no": "the customer said no", "could_not_reach": "could not reach it", "not_needed": "not needed",
}

var endWords = map[string]string{"done": "Done", "not_needed": "Not needed", "declined": "The customer declined", "withdrawn": "No longer called for"}

// dueDay is when a task is due, in words.
func dueDay(t care.Task, l view.Local) string {
	if t.Day.OK {
		return "on " + l.Day(t.Day.V)
	}
	if when := whenOf(t); when != fromToday {
		return when
	}
	return "from the day on which it was asked"
}

// show is the story of one task: why, how often it was put off, how it ended.
func (p taskPages) show(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.draw(r)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body(view.Form{}))
}

func (p taskPages) draw(r *http.Request) (view.Frame, func(view.Form) templ.Component, error) {
	s, err := p.store.TaskStory(r.Context(), r.PathValue("task"))
	if err != nil {
		return view.Frame{}, nil, err
	}
	units, l, path := reads(r), local(r), taskPath(s.ID)
	body := view.TaskStory{Task: taskOf(s.Task.Task, units, l), Opened: l.DayOf(s.Opened), Action: path + "/close"}
	if s.Asked {
		body.Opened += ", asked for by somebody of the shop"
	}
	for _, x := range s.Skips {
		line := l.DayOf(x.At) + ", " + x.By + ": " + skipWords[x.Reason]
		if x.Words != "" {
			line += ", “" + x.Words + "”"
		}
		body.Skips = append(body.Skips, line)
	}
	switch {
	case s.State != "open":
		body.Ended = endWords[s.State]
		if s.Closed.OK {
			body.Ended += ", " + joined(", ", l.DayClock(s.Closed.V), s.Closer)
		}
		body.Words = joined(": ", s.Who, s.Words)
		if s.Reason != "" {
			body.Words = s.Reason
		}
		if s.State != "withdrawn" && (!s.OwnersOnly() || isOwner(r)) {
			body.Again = &view.Post{Label: "Open it again", Action: path + "/open-again"}
		}
	case !s.OwnersOnly() || isOwner(r):
		for _, id := range counter.Closings {
			body.Ends = append(body.Ends, view.Option{Value: id, Label: endWords[id]})
		}
	}
	frame := view.Frame{Title: "A task", Lead: s.TankName, Up: &view.Link{Label: s.TankName, Href: tankPath(s.Tank)}}
	return frame, func(f view.Form) templ.Component { body.Form = f; return view.TaskStoryBody(body) }, nil
}

// close ends a task outside a visit.
func (p taskPages) close(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	frame, body, err := p.draw(r)
	if err != nil {
		return err
	}
	id := r.PathValue("task")
	c, fs := counter.ParseClosing(fieldsOf(values))
	if err = fs.Err(); err == nil {
		err = p.store.CloseTask(r.Context(), who(r).Person.ID, id, c, isOwner(r))
	}
	if err != nil {
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return frame, body(f) })
	}
	return p.done(w, r, taskPath(id), view.Notice{Text: endWords[c.State] + ".", Undo: &view.Post{Label: "Undo", Action: taskPath(id) + "/open-again"}})
}

func (p taskPages) openAgain(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("task")
	if err := p.store.ReopenTask(r.Context(), who(r).Person.ID, id, isOwner(r)); err != nil {
		return err
	}
	return p.done(w, r, taskPath(id), view.Notice{Text: "The task is open again."})
}

// extra asks the owner about the extra visit that a visit's judgement wants.
func (p counterPage) extra(w http.ResponseWriter, r *http.Request) error {
	frame, body, err := p.drawExtra(r)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body(view.Form{}))
}

func (p counterPage) drawExtra(r *http.Request) (view.Frame, func(view.Form) templ.Component, error) {
	id := r.PathValue("visit")
	rec, err := p.cfg.Store.VisitByID(r.Context(), id)
	if err != nil {
		return view.Frame{}, nil, err
	}
	e, err := p.cfg.Store.EvaluationOf(r.Context(), id)
	if err != nil {
		return view.Frame{}, nil, err
	}
	c, err := p.cfg.Store.TankCard(r.Context(), rec.Tank)
	if err != nil {
		return view.Frame{}, nil, err
	}
	units, l := reads(r), local(r)
	body := view.ExtraVisit{Action: "/visits/" + id + "/extra", Back: view.Link{Label: "Leave it", Href: "/counter"}, Visit: view.Link{Label: "The visit of " + l.Day(rec.Day), Href: "/visits/" + id}, Day: p.today(r).String()}
	body.Why = render(e.Assessment.Next.Say, units)
	if e.Assessment.Next.Extra.OK {
		body.By, body.Day = l.Day(e.Assessment.Next.Extra.V), max(e.Assessment.Next.Extra.V, p.today(r)).String()
	}
	for _, d := range counter.Decisions {
		body.Decisions = append(body.Decisions, view.Option{Value: string(d), Label: d.Title()})
	}
	body.Pays = []view.Option{{Label: "Choose"}}
	for _, x := range counter.Payers {
		body.Pays = append(body.Pays, view.Option{Value: x, Label: payerTitle(x)})
	}
	frame := view.Frame{Title: "An extra visit?", Lead: joined(", ", c.Name, c.CustomerName), Up: &view.Link{Label: "Counter", Href: "/counter"}}
	return frame, func(f view.Form) templ.Component {
		if f.Values == nil {
			f.Values = valuesOf(map[string]string{"on": body.Day})
		}
		body.Form = f
		return view.ExtraVisitBody(body)
	}, nil
}

func (p counterPage) decideExtra(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("visit")
	if values.Get("back") == "1" {
		if err := p.store.UndecideExtra(r.Context(), who(r).Person.ID, id); err != nil {
			return err
		}
		return p.done(w, r, "/counter", view.Notice{Text: "The extra visit waits for your word again."})
	}
	frame, body, err := p.drawExtra(r)
	if err != nil {
		return err
	}
	d, fs := counter.ParseDecision(fieldsOf(values), p.today(r))
	d.Visit = id
	if err = fs.Err(); err == nil {
		err = p.store.DecideExtra(r.Context(), who(r).Person.ID, d)
	}
	if err != nil {
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return frame, body(f) })
	}
	text := d.Decided.Title() + "."
	if d.On.OK {
		text = d.Decided.Title() + " on " + local(r).Day(d.On.V) + ". " + payerTitle(d.Pays) + "."
	}
	return p.done(w, r, "/counter", view.Notice{Text: text, Undo: &view.Post{Label: "Undo", Action: "/visits/" + id + "/extra", Hidden: []view.Pair{{Name: "back", Value: "1"}}}})
}

// payerTitle is who pays, as a sentence begins.
func payerTitle(id string) string {
	for _, o := range payerWords {
		if o.Value == id {
			return o.Label
		}
	}
	return strings.ReplaceAll(id, "_", " ")
}

var payerWords = []view.Option{{Value: "included", Label: "Included in the agreement"}, {Value: "to_bill", Label: "To bill"}, {Value: "warranty", Label: "Warranty: ours"}, {Value: "customers_own", Label: "The customer’s own"}}
