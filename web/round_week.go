package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/static"
	"scaperound/web/view"
)

// weekNow is a week as it stands: its plan, held against the facts of today.
type weekNow struct {
	monday, today q.Date
	facts         due.Facts
	week          due.Week
	now           due.Now
	problem       round.Problem
	plan          round.Plan // the draft, as the planner reads it
	said          []say.Sentence
	over          bool // the whole week is behind us
}

func (p roundBook) read(r *http.Request, monday q.Date) (*weekNow, error) {
	today := p.today(r)
	s := &weekNow{monday: monday, today: today, over: monday.Add(7) <= today}
	var err error
	if s.facts, err = p.store.RoundFacts(r.Context(), monday, 7, today); err != nil {
		return nil, err
	}
	if s.week, err = p.store.RoundWeek(r.Context(), monday); err != nil {
		return nil, err
	}
	if s.over {
		return s, nil
	}
	s.now = s.facts.Match(s.week.Draft)
	s.problem, s.said = s.facts.Problem(s.now.Jobs, s.now.Keep)
	s.problem.Travel, _ = p.travel(r.Context(), s.facts.Roads, s.problem.Places)
	s.plan = s.facts.Plan(s.problem, s.week.Draft)
	return s, nil
}

// weekPages is the frame of the book's pages; more are further styles.
func weekPages(more ...string) view.Frame {
	f := view.Frame{Styles: []string{static.Path("round.css")}, Scripts: []string{static.Path("round.js")}}
	for _, m := range more {
		f.Styles = append(f.Styles, static.Path(m))
	}
	return f
}

// show is a week of the round book.
func (p roundBook) show(w http.ResponseWriter, r *http.Request) error {
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	return p.showWeek(w, r, monday)
}

func (p roundBook) showWeek(w http.ResponseWriter, r *http.Request, monday q.Date) error {
	s, err := p.read(r, monday)
	if err != nil {
		return err
	}
	run, err := p.store.LastRun(r.Context())
	if err != nil {
		return err
	}
	l := local(r)
	v := view.RoundWeek{Week: monday.String(), Draft: s.week.Draft.ID, Past: s.over,
		Before: view.Link{Label: "← Week before", Href: weekPath(monday.Add(-7))}, After: view.Link{Label: "Next week →", Href: weekPath(monday.Add(7))},
		More: []view.Link{{Label: "Roads", Href: "/round-book/roads"}, {Label: "Vans", Href: "/vans"}, {Label: "People", Href: "/people"}, {Label: "Keys", Href: "/keys"}}}
	busy := run.Running && run.Monday == monday
	if run.Running {
		v.Running = progress(run, l, p.cfg.Now(), p.limit(run.Ill))
		if !busy {
			v.Running = "The week of " + l.Day(run.Monday) + ": " + v.Running
		}
		v.Stop = view.Post{Label: "Stop and keep the best so far", Action: weekPath(monday) + "/stop"}
	}
	if run.Failed && run.Monday == monday {
		v.Failed = run.Says
	}
	p.weekState(&v, s, l, run.Running)
	for d := range q.Date(7) {
		day := monday.Add(int(d))
		if line, worth := s.weekDay(day, l); worth {
			v.Days = append(v.Days, line)
		}
	}
	v.GaveUp = sentences(s.week.Draft.GaveUp)
	if !s.over {
		v.Due = s.falls(l)
		p.weekWaits(&v, s, r, busy)
		if v.Extras, err = p.extras(r); err != nil {
			return err
		}
		v.Notes = s.notes(r)
	}
	f := weekPages()
	f.Title, f.Lead = "Round book", "Week from "+l.Day(monday)+" to "+l.Day(monday.Add(6))
	return p.page(w, r, http.StatusOK, f, view.RoundWeekBody(v))
}

// weekState says how the plan stands and what can be done about it.
func (p roundBook) weekState(v *view.RoundWeek, s *weekNow, l view.Local, running bool) {
	path, draft := weekPath(s.monday), []view.Pair{{Name: "draft", Value: s.week.Draft.ID}}
	b := s.week.Draft
	if s.week.Planned {
		v.Sum = weekSum(b, len(s.waiting()))
		v.Made = joined(" ", b.What+", "+l.DayClock(b.At)+by(b.By)+".", b.How)
		switch {
		case s.week.Out():
			v.Status = append(v.Status, "Handed out "+l.DayClock(s.week.HandedAt.V)+by(s.week.HandedBy)+".")
		case s.week.Handed.OK:
			v.Status = append(v.Status, "Changed since it was handed out, "+l.DayClock(s.week.HandedAt.V)+": people still go by that.")
		default:
			v.Status = append(v.Status, "Not handed out yet: nobody but you sees it.")
		}
	} else if !s.over {
		v.Unplanned = "Not planned yet. " + counted(len(s.now.Jobs), "stop falls", "stops fall") + " due."
	}
	if s.over || running {
		return
	}
	v.Plan = &view.Post{Label: "Plan the week", Action: path + "/plan"}
	if s.week.Planned {
		v.Plan.Label, v.Plan.Quiet = "Plan again", true
		if n := len(s.now.Keep); n > 0 {
			v.Plan.Label = "Plan again around " + counted(n, "kept stop", "kept stops")
		}
	}
	if s.week.Planned && !s.week.Out() {
		v.HandOut = &view.Post{Label: "Hand out the week", Action: path + "/hand-out", Hidden: draft}
	}
	if s.week.Planned && s.today >= s.monday {
		v.Ill = &view.Link{Label: "Somebody ill today", Href: dayPath(s.today) + "#ill"}
	}
	v.Undo, v.Redo = turns(s.week, "")
	if s.week.Handed.OK && !s.week.Out() {
		for _, c := range s.facts.Calls(s.week.Handed.V, b) {
			v.Calls = append(v.Calls, callLine(&s.facts, c))
		}
	}
}

// weekSum is what a plan comes to.
func weekSum(b due.Book, waiting int) string {
	jobs, days, drive := map[string]bool{}, map[q.Date]bool{}, round.Seconds(0)
	for _, r := range b.Routes {
		drive += r.Home
		for _, x := range r.Stops {
			jobs[x.Job], days[r.Day] = true, true
			drive += x.Drive
		}
	}
	text := counted(len(jobs), "stop", "stops") + " on " + counted(len(days), "day", "days") + ", " + duration(drive) + " driving; "
	if waiting == 0 {
		return upperFirst(text) + "all have a place."
	}
	return upperFirst(text) + counted(waiting, "stop has", "stops have") + " no place."
}

// sentences are sentences that may begin with a name written small, each told
// once.
func sentences(list []string) []string {
	var out []string
	for _, s := range list {
		if s = upperFirst(s); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// falls lists what falls due while there is no plan.
func (s *weekNow) falls(l view.Local) []view.RoundDue {
	if s.week.Planned {
		return nil
	}
	var out []view.RoundDue
	for _, j := range s.now.Jobs {
		line := view.RoundDue{Name: j.Site, Href: sitePath(j.Site), Tanks: s.tankNames(j.Tanks), When: l.ShortDay(j.Due)}
		if j.Due < s.today {
			line.When = "since " + line.When
		}
		if site := s.facts.Site(j.Site); site != nil {
			line.Name = site.Name
		}
		out = append(out, line)
	}
	return out
}

// turns are the ways back and forth; day is the page to come back to.
func turns(w due.Week, day string) (undo, redo *view.Post) {
	path, hidden := weekPath(w.Monday), []view.Pair{{Name: "draft", Value: w.Draft.ID}, {Name: "day", Value: day}}
	if w.Draft.Base != "" {
		undo = &view.Post{Label: "Undo", Action: path + "/undo", Hidden: hidden, Quiet: true}
	}
	if w.Newer != "" {
		redo = &view.Post{Label: "Do again", Action: path + "/redo", Hidden: hidden, Quiet: true}
	}
	return undo, redo
}

func by(name string) string {
	if name == "" {
		return ""
	}
	return ", " + name
}

func callLine(f *due.Facts, c due.Call) view.RoundCall {
	line := view.RoundCall{Site: f.Site(c.Site).Name, Href: sitePath(c.Site), Customer: f.Site(c.Site).Customer, Why: upperFirst(say.Render(c.Why, say.Units{Decimal: '.'}))}
	for _, n := range c.Phones {
		line.Phones = append(line.Phones, view.Phone{Text: n, Number: dial(n)})
	}
	return line
}

// weekDay is a day in lines; it is worth one where somebody works or drives.
func (s *weekNow) weekDay(day q.Date, l view.Local) (view.RoundWeekDay, bool) {
	out := view.RoundWeekDay{Name: l.ShortDay(day), Href: dayPath(day), Over: day < s.today}
	for i := range s.facts.People {
		person := &s.facts.People[i]
		if r := s.week.Draft.Route(person.ID, day); r != nil && len(r.Stops) > 0 {
			out.People = append(out.People, view.RoundDayPerson{Name: person.Name, Text: routeText(*r), Stops: s.weekStops(*r)})
			continue
		}
		h, works := shift(person, day)
		switch {
		case !works || out.Over:
		case off(person, day):
			out.People = append(out.People, view.RoundDayPerson{Name: person.Name, Text: "off"})
		default:
			out.People = append(out.People, view.RoundDayPerson{Name: person.Name, Text: "works " + h.From.String() + "–" + h.To.String() + ", no stop"})
		}
	}
	return out, len(out.People) > 0 || int(day-s.monday) < 5 && !out.Over
}

// weekStops are a route's stops in few words.
func (s *weekNow) weekStops(r due.Route) []view.RoundWeekStop {
	var out []view.RoundWeekStop
	for _, x := range r.Stops {
		line := view.RoundWeekStop{Time: due.Clock(x.Begin), Site: "a site", Done: s.done(r.Day, x)}
		if site := s.facts.Site(x.Site); site != nil {
			line.Site = site.Name
		}
		var marks []string
		if word := s.came(r.Day, x); word != "" {
			marks = append(marks, word)
		}
		if x.Kept {
			marks = append(marks, "kept")
		}
		if slices.ContainsFunc(s.facts.Promises, func(p due.Promise) bool { return p.Site == x.Site && p.Day == r.Day }) {
			marks = append(marks, "promised")
		}
		if x.With != "" {
			marks = append(marks, "with "+s.personName(x.With))
		}
		line.Mark = strings.Join(marks, ", ")
		out = append(out, line)
	}
	return out
}

// off reports whether somebody is on leave.
func off(p *due.Person, day q.Date) bool {
	return slices.ContainsFunc(p.Leave, func(l due.Leave) bool { return l.Covers(day) })
}

// routeText is a person's day in a line.
func routeText(r due.Route) string {
	drive := r.Home
	for _, x := range r.Stops {
		drive += x.Drive
	}
	return fmt.Sprintf("%s–%s, %s, %s driving", due.Clock(r.Leave), due.Clock(r.Back), counted(len(r.Stops), "stop", "stops"), duration(drive))
}

// duration is a time in words.
func duration(s round.Seconds) string {
	n := int(s+30) / 60
	if n < 60 {
		return fmt.Sprintf("%d min", n)
	}
	return fmt.Sprintf("%d h %02d min", n/60, n%60)
}
