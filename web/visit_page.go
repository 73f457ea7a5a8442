package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
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
		Flags: flagLines(rec, a), Seen: seenLines(rec), Since: sinceLines(rec), Work: workLines(rec, u), Raw: rawLines(rec, u),
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
		v.Tasks = append(v.Tasks, taskOf(t, u, l))
	}
	for _, s := range a.Strips {
		v.Strips = append(v.Strips, stripOf(s, u))
	}
	v.Check = checkLines(a, u)
	for _, t := range a.Next.Tests {
		m, _ := q.MeasureOf(t.Kind)
		v.Tests = append(v.Tests, m.Title+": "+whyRead(t, u))
	}
	for _, x := range a.Next.Bring {
		v.Bring = append(v.Bring, render(say.S("{thing}", say.Word("thing", "bring."+x)), u))
	}
	for _, n := range names {
		v.Move = append(v.Move, view.Option{Value: n.ID, Label: n.Name + ", " + n.SiteName})
	}
	return p.page(w, r, http.StatusOK, view.Frame{
		Title: b.Setup.Name, Lead: v.Kind + ", " + v.When, Up: &view.Link{Label: "The tank", Href: "/tanks/" + rec.Tank},
		Scripts: []string{static.Path("outbox.js")}, Styles: []string{static.Path("visit.css")},
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
	care.WhenNow: "now", care.WhenToday: "today", care.WhenThisVisit: "at this visit", care.WhenNextVisit: "next visit", care.WhenOnDay: "on a day",
}

func taskOf(t care.Task, u say.Units, l view.Local) view.VisitPageTask {
	v := view.VisitPageTask{Text: taskText(t, u), Amount: amountsText(t.Amount, u), Who: whoWords[t.Who], When: whenWords[t.When], Urgent: t.Urgency.Level() <= care.Today.Level()}
	if t.Day.OK {
		v.When = "on " + l.Day(t.Day.V)
	}
	for _, why := range t.Why {
		line := view.VisitWhy{Text: render(why.Say, u), Source: why.Source}
		if why.Calc != nil {
			line.Arithmetic = calcText(*why.Calc, u)
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
		in = append(in, strings.ReplaceAll(a.Name, "_", " ")+" "+figure(a.Value, a.Unit, u))
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

// checkLines are the systems check: what stands out, worst first, each in a
// sentence; what is fine is one line.
func checkLines(a care.Assessment, u say.Units) []view.VisitCheck {
	var out []view.VisitCheck
	for level := range 4 {
		for _, f := range a.Findings {
			if f.Urgency.Level() == level && f.State.Trouble() {
				c := view.VisitCheck{Text: say.Render(f.Say, u), Word: render(say.S("state."+string(f.State)), u), Inside: f.Audience == care.ForShop, Urgent: level <= 1}
				if f.Calc != nil {
					c.Arithmetic, c.Source = calcText(*f.Calc, u), f.Calc.Source
				}
				out = append(out, c)
			}
		}
	}
	for _, state := range []care.State{care.Fine, care.InBand, care.NotJudged, care.NotMeasured} {
		var names []string
		for _, s := range a.Systems {
			if s.State == state {
				names = append(names, render(say.S("{system}", say.Word("system", "system."+string(s.System))), u))
			}
		}
		if len(names) > 0 {
			out = append(out, view.VisitCheck{Text: say.JoinAnd(names), Word: render(say.S("state."+string(state)), u)})
		}
	}
	return out
}

func customerLines(a care.Assessment, u say.Units) []string {
	out := []string{}
	for _, l := range a.Customer {
		out = append(out, say.Render(l.Say, u))
	}
	for _, l := range a.Donts {
		out = append(out, say.Render(l.Say, u))
	}
	return out
}

// flagLines say what was noticed about the record itself.
func flagLines(rec visit.Record, a care.Assessment) []string {
	var out []string
	for _, f := range rec.Flags {
		what, detail, _ := strings.Cut(f, ":")
		switch what {
		case "clock":
			seconds, _ := strconv.Atoi(detail)
			out = append(out, fmt.Sprintf("The tablet’s clock was %s; times were corrected by that.", skewWords(seconds)))
		case "unlikely":
			out = append(out, "Unusual and not asked about, because there was no signal: "+fieldWords(detail)+".")
		case "ambiguous":
			out = append(out, "Could be read in two ways, and both are kept: "+fieldWords(detail)+".")
		case "task-withdrawn":
			out = append(out, "A task was answered that had been withdrawn meanwhile.")
		case "tank-changed":
			out = append(out, "The tank’s record was changed between the form and its arrival.")
		case "before-set-up":
			out = append(out, "The visit lies before the day on which the tank was set up.")
		case "tank-ended":
			out = append(out, "The tank had ended by then.")
		}
	}
	if rec.ActedHash != "" && rec.ActedHash != wire.Hash(a) {
		out = append(out, "The technician had a somewhat different judgement before them than the one kept here. This one counts.")
	}
	return out
}

func skewWords(seconds int) string {
	way := "fast"
	if seconds < 0 {
		way, seconds = "slow", -seconds
	}
	if seconds < 120 {
		return fmt.Sprintf("%d seconds %s", seconds, way)
	}
	return fmt.Sprintf("%d minutes %s", (seconds+30)/60, way)
}

func fieldWords(field string) string {
	parts := strings.Split(field, ".")
	if len(parts) == 3 && parts[0] == "reading" {
		m, _ := q.MeasureOf(q.Kind(parts[1]))
		if when := phaseWords[visit.Phase(parts[2])]; when != "" {
			return m.Title + " " + when
		}
		return m.Title
	}
	return field
}

func sinceLines(rec visit.Record) []string {
	var out []string
	for _, s := range rec.Since {
		line := sinceWords[s.What]
		if s.Note != "" {
			line += ": " + s.Note
		}
		out = append(out, line)
	}
	if rec.Doses.How != "" {
		for _, o := range betweenChoices {
			if o.Value == rec.Doses.How {
				out = append(out, "Doses: "+strings.ToLower(o.Label))
			}
		}
	}
	return out
}

func seenLines(rec visit.Record) []string {
	var out []string
	for _, l := range looks {
		switch rec.Looks[l.id] {
		case visit.Fine:
			out = append(out, l.title+": "+strings.ToLower(l.fine))
		case visit.Trouble:
			out = append(out, l.title+": "+strings.ToLower(l.trouble))
		default:
			out = append(out, l.title+": not looked at")
		}
	}
	for _, s := range rec.Signs {
		line := visit.SignTitle(s.ID)
		for _, more := range []string{s.Place, s.Extent} {
			if more != "" {
				line += ", " + more
			}
		}
		out = append(out, line)
	}
	if rec.EyeMark != "" {
		out = append(out, "Plants at the far end move "+eyeWords[rec.EyeMark])
	}
	return out
}

func workLines(rec visit.Record, u say.Units) []string {
	var out []string
	for _, w := range rec.Work {
		line := workForm[w.Kind].label
		if w.Kind == visit.Dose {
			m, _ := q.MeasureOf(q.Kind(w.Solute))
			line = "Dose of " + m.Title
		}
		for _, x := range []struct {
			o    q.Opt[float64]
			unit q.Unit
		}{{opt(w.Litres), q.L}, {opt(w.Grams), q.Gr}, {opt(w.Ml), q.ML}, {w.Time, q.Minute}} {
			if x.o.OK {
				line += ", " + figure(x.o.V, x.unit, u)
			}
		}
		for _, more := range []string{w.Part, w.Note} {
			if more != "" {
				line += ", " + more
			}
		}
		out = append(out, line)
	}
	for _, m := range rec.Movements {
		out = append(out, fmt.Sprintf("%+d %s%s", m.N, groupName(m.Group), bracketed(m.Species)))
	}
	return out
}

func opt[T ~float64](o q.Opt[T]) q.Opt[float64] { return q.Opt[float64]{V: float64(o.V), OK: o.OK} }

func bracketed(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

func groupName(id string) string {
	for _, gs := range [][]tank.Group{tank.AnimalGroups, tank.PlantGroups} {
		for _, g := range gs {
			if g.ID == id {
				return g.Name
			}
		}
	}
	return id
}

// stillToPour is the recipe of a change that the visit did not make.
func stillToPour(rec visit.Record, c care.Recipe, u say.Units) []string {
	if _, done := rec.Did(visit.WaterChange); done {
		return nil
	}
	return recipeLines(c, u)
}

// rawLines are all readings as they were typed, with what they can mean.
func rawLines(rec visit.Record, u say.Units) []view.VisitRaw {
	var out []view.VisitRaw
	for _, x := range rec.Readings {
		m, _ := q.MeasureOf(x.Kind)
		line := view.VisitRaw{Label: m.Title, When: phaseWords[x.Phase], Typed: x.Typed + " " + x.TypedUnit.Sign(), Means: meaningText(x, u)}
		switch x.TypedUnit {
		case visit.CountedDrops:
			line.Typed = plural(atoi(x.Typed), "drop", "drops")
		case visit.KitClass:
			line.Typed = strings.Replace(x.Typed, "..", " to ", 1) + " on the card"
		}
		out = append(out, line)
	}
	for i, pt := range rec.PPFD {
		out = append(out, view.VisitRaw{Label: "PPFD, point " + strconv.Itoa(i+1), Means: figure(float64(pt.PPFD), q.Umol, u)})
	}
	for _, b := range rec.Buckets {
		out = append(out, view.VisitRaw{Label: "Bucket", When: string(b.Phase) + " cleaning", Typed: figure(float64(b.Litres), q.L, u) + " in " + figure(float64(b.Seconds), "s", u), Means: figure(float64(b.Litres)/float64(b.Seconds)*3600, q.LH, u)})
	}
	return out
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}
