package web

import (
	"context"
	"math"
	"net/http"
	"strconv"
	"strings"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/static"
	"scaperound/web/view"
)

// tankNameStore lists tanks to choose from.
type tankNameStore interface {
	TankNames(ctx context.Context, but string) ([]tank.Summary, error)
}

// show is a visit as it was kept, and what was made of it.
func (p visitPages) show(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("visit")
	rec, err := p.store.VisitByID(r.Context(), id)
	if err != nil {
		return err
	}
	e, err := p.store.EvaluationOf(r.Context(), id)
	if err != nil {
		return err
	}
	b, err := p.store.VisitBefore(r.Context(), rec.Tank, p.cfg.Now())
	if err != nil {
		return err
	}
	answers, err := p.store.VisitAnswers(r.Context(), id)
	if err != nil {
		return err
	}
	given, err := p.links.SheetOfVisit(r.Context(), id)
	if err != nil {
		return err
	}
	names, err := p.cfg.Store.TankNames(r.Context(), rec.Tank)
	if err != nil {
		return err
	}
	by, err := p.cfg.Store.Person(r.Context(), rec.Staff)
	if err != nil {
		return err
	}
	in, l := who(r), local(r)
	u := in.Shop.Reads(in.Person.Units)
	a := e.Assessment
	v := view.Visit{
		Href: "/visits/" + id, Kind: kindWords[rec.Kind], By: by.Name, When: l.DayClock(rec.Performed), Phone: b.Owner, Dial: dial(b.Owner),
		Top: render(a.Top, u), HeldFor: heldWords(e.HeldFor), MayGive: e.HeldFor == "" || in.Person.Role.May(staff.ReleaseHarsh),
		NoteCustomer: paragraphs(rec.NoteCustomer), NoteInside: paragraphs(rec.NoteInside),
		Flags: flagLines(rec), Seen: seenLines(rec), Since: sinceLines(rec), Work: workLines(rec, u), Answers: answerLines(answers, u), Raw: rawLines(rec, u),
		Pour: stillToPour(rec, a.Recipe, u), Next: render(a.Next.Say, u), Customer: customerLines(a, u),
	}
	revisions, err := p.store.VisitRevisions(r.Context(), id)
	if err != nil {
		return err
	}
	for _, x := range revisions {
		line := l.DayClock(x.Received) + ", " + x.By
		if x.Reason != "" {
			line += ": " + x.Reason
		}
		v.Revisions = append(v.Revisions, line)
	}
	fields, err := p.store.VisitFields(r.Context(), id)
	if err != nil {
		return err
	}
	meanwhile, err := p.meanwhile(r, rec, fields, b)
	if err != nil {
		return err
	}
	v.Flags = append(v.Flags, meanwhile...)
	if err := p.withActed(r, rec, fields, b, e, by, &v); err != nil {
		return err
	}
	if rec.Stop != "" {
		v.Stop = "/stops/" + rec.Stop
	}
	switch {
	case given.ID == "":
	case given.Evaluation == e.ID:
		v.Given = "Given on " + l.DayClock(given.GivenAt)
	default:
		v.Given, v.Stale = "Given on "+l.DayClock(given.GivenAt), true
	}
	for _, t := range a.Tasks {
		if care.ActionOf(t.Action).Told {
			continue // it stands among the customer's lines
		}
		v.Tasks = append(v.Tasks, taskOf(t, u, l))
	}
	for _, s := range a.Strips {
		v.Strips = append(v.Strips, stripOf(s, u))
	}
	v.Check, v.Systems = checkLines(a, u), systemLines(a, u)
	for _, t := range a.Next.Tests {
		m, _ := q.MeasureOf(t.Kind)
		v.Tests = append(v.Tests, "Read "+m.Title+": "+whyRead(t, u)+".")
	}
	v.Bring = bringLines(a, u)
	for _, n := range names {
		v.Move = append(v.Move, view.Option{Value: n.ID, Label: n.Name + ", " + n.SiteName})
	}
	if v.Open, err = p.openProblems(r, rec.Tank); err != nil {
		return err
	}
	if err := p.visitPrints(r, rec.Tank, id, b.Setup.Name, &v); err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, view.Frame{
		Title: b.Setup.Name, Lead: v.Kind + ", " + v.When, Up: &view.Link{Label: "The tank", Href: "/tanks/" + rec.Tank},
		Scripts: []string{static.Path("outbox.js"), static.Path("photo_queue.js")}, Styles: []string{static.Path("visit.css"), static.Path("photo.css")},
	}, view.VisitBody(v))
}

func render(s say.Sentence, u say.Units) string {
	if s.ID == "" {
		return ""
	}
	return say.Render(s, u)
}

var whoWords = map[care.Who]string{care.Technician: "us", care.Customer: "the customer", care.Owner: "the owner"}

var whenWords = map[care.When]string{
	care.WhenNow: "now", care.WhenToday: "today", care.WhenThisVisit: "before leaving, else first thing next time", care.WhenNextVisit: "next visit", care.WhenOnDay: "on a day",
}

// whoOf says who does a task. What is only told is told by us.
func whoOf(t care.Task) string {
	if care.ActionOf(t.Action).Told {
		return "we tell the customer"
	}
	return whoWords[t.Who]
}

const fromToday = "from today"

// whenOf says when a task is done. What a customer does begins with the sheet.
func whenOf(t care.Task) string {
	if t.Who == care.Customer && (t.When == care.WhenThisVisit || t.When == care.WhenNextVisit) {
		return fromToday
	}
	return whenWords[t.When]
}

func taskOf(t care.Task, u say.Units, l view.Local) view.VisitPageTask {
	v := view.VisitPageTask{Text: taskText(t, u), Amount: care.AmountsText(t.Amount, u), Who: whoOf(t), When: whenOf(t), Urgent: t.Urgency.Level() <= care.Today.Level()}
	if t.Day.OK {
		v.When = "on " + l.Day(t.Day.V)
	}
	for _, why := range t.Why {
		line := view.VisitWhy{Text: render(why.Say, u), Source: why.Source}
		if why.Calc != nil {
			line.Arithmetic, line.Bench = calcText(*why.Calc, u), calcHref(why.Calc, u)
			if line.Source == "" {
				line.Source = why.Calc.Source
			}
		}
		v.Why = append(v.Why, line)
	}
	for _, c := range t.Cautions {
		v.Cautions = append(v.Cautions, render(say.S("{thing}", say.Word("thing", "caution."+c)), u))
	}
	if t.LookOn.OK {
		v.Look = "look again on " + l.Day(t.LookOn.V)
	}
	return v
}

// calcText is a calculation with its inputs, so that somebody can do it again.
func calcText(c care.Calc, u say.Units) string {
	var in []string
	for _, a := range c.Args {
		name, known := say.WordFor("arg." + a.Name)
		switch {
		case strings.HasSuffix(a.Name, "_lo") || strings.HasSuffix(a.Name, "_hi"):
			continue // told as the answer's own range
		case !known:
			m, _ := q.MeasureOf(q.Kind(a.Name))
			name = strings.ReplaceAll(m.Title, "_", " ")
		}
		in = append(in, name+" "+figure(a.Value, a.Unit, u))
	}
	text := figure(c.Value, c.Unit, u)
	if c.Lo < c.Hi && !math.IsInf(c.Lo, 0) && !math.IsInf(c.Hi, 0) {
		text += " (" + figure(c.Lo, "", u) + " to " + figure(c.Hi, c.Unit, u) + ")"
	}
	if c.Limit.OK {
		text += ", held against " + figure(c.Limit.V, c.Unit, u)
	}
	if len(in) == 0 {
		return text
	}
	return say.JoinAnd(in) + " give " + text
}

// figure writes a number with at most three digits that count, and no zeros
// behind them that nobody read.
func figure(v float64, unit q.Unit, u say.Units) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return say.Amount(v, unit, 0, u)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	if err != nil {
		rounded = v
	}
	return say.Amount(rounded, unit, min(decimals(rounded), 6), u)
}
