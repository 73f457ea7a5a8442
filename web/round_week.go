package web

import (
	"fmt"
	"net/http"
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

func weekPages() view.Frame {
	return view.Frame{Styles: []string{static.Path("round.css")}, Scripts: []string{static.Path("round.js")}}
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
		v.Running = progress(run, l)
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
	v.GaveUp = s.week.Draft.GaveUp
	if !s.over {
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
		v.Status = append(v.Status, b.What+", "+l.DayClock(b.At)+by(b.By)+". "+b.How)
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
	plan := view.Post{Label: "Plan the week", Action: path + "/plan"}
	if s.week.Planned {
		plan.Label = "Plan again"
		if n := len(s.now.Keep); n > 0 {
			plan.Label = "Plan again around " + counted(n, "kept stop", "kept stops")
		}
	}
	v.Plan = &plan
	if s.week.Planned && !s.week.Out() {
		v.HandOut = &view.Post{Label: "Hand out the week", Action: path + "/hand-out", Hidden: draft}
	}
	v.Undo, v.Redo = turns(s.week, "")
	if s.week.Handed.OK && !s.week.Out() {
		for _, c := range s.facts.Calls(s.week.Handed.V, b) {
			v.Calls = append(v.Calls, callLine(&s.facts, c))
		}
	}
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
	line := view.RoundCall{Site: f.Site(c.Site).Name, Href: sitePath(c.Site), Why: say.Render(c.Why, say.Units{Decimal: '.'})}
	for _, n := range c.Phones {
		line.Phones = append(line.Phones, view.Phone{Text: n, Number: dial(n)})
	}
	return line
}

// weekDay is a day in lines; it is worth one where somebody works or drives.
func (s *weekNow) weekDay(day q.Date, l view.Local) (view.RoundWeekDay, bool) {
	out := view.RoundWeekDay{Name: l.Day(day), Href: dayPath(day), Over: day < s.today}
	for _, person := range s.facts.People {
		r := s.week.Draft.Route(person.ID, day)
		if r == nil || len(r.Stops) == 0 {
			continue
		}
		out.People = append(out.People, view.RoundDayPerson{Name: person.Name, Text: routeText(*r)})
	}
	return out, len(out.People) > 0 || int(day-s.monday) < 5
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

// waiting are the jobs without a place: those that the plan says why of, and
// those that came up since.
func (s *weekNow) waiting() []due.Left {
	out := append([]due.Left(nil), s.week.Draft.Left...)
	for _, id := range s.now.New {
		for _, j := range s.now.Jobs {
			if j.ID == id {
				l := due.Left{Job: id, Site: j.Site, Tanks: j.Tanks}
				if s.week.Planned {
					l.Reason = "Came up since the week was planned."
				}
				out = append(out, l)
			}
		}
	}
	return out
}

// maxPriced is how many of the waiting are priced on one page.
const maxPriced = 12

// weekWaits lists what has no place, with the cheapest place for each.
func (p roundBook) weekWaits(v *view.RoundWeek, s *weekNow, r *http.Request, busy bool) {
	if !s.week.Planned || busy {
		return
	}
	for i, x := range s.waiting() {
		line := s.left(x, "")
		if i < maxPriced {
			for _, c := range round.Prices(s.problem, s.plan, x.Job, 2) {
				line.Prices = append(line.Prices, s.price(r, c, true, ""))
			}
		}
		v.Left = append(v.Left, line)
	}
}

// left is a stop without a place, in words.
func (s *weekNow) left(x due.Left, day string) view.RoundLeft {
	line := view.RoundLeft{Name: x.Site, Href: movePath(s.monday, x.Job, day), Reason: x.Reason, LetsIn: x.LetsIn, Tanks: s.tankNames(x.Tanks)}
	if site := s.facts.Site(x.Site); site != nil {
		line.Name = site.Name
	}
	return line
}

func (s *weekNow) tankNames(ids []string) string {
	var names []string
	for _, id := range ids {
		if t := s.facts.Tank(id); t != nil {
			names = append(names, t.Name)
		}
	}
	return strings.Join(names, ", ")
}

func movePath(monday q.Date, job, day string) string {
	path := jobPath(monday, job, "move")
	if day != "" {
		path += "?day=" + day
	}
	return path
}

// price is a place and its price. withDay tells the day too; back is the day's
// page to come back to.
func (s *weekNow) price(r *http.Request, c round.Quote, withDay bool, back string) view.RoundPrice {
	where := s.where(c.Move)
	if withDay {
		where = local(r).Day(c.Move.Day) + ", " + where
	}
	out := view.RoundPrice{Where: where, Words: priceWords(c, reads(r))}
	out.Put = &view.Post{Label: "Put it there", Action: jobPath(s.monday, c.Move.Stop, "move"), Hidden: []view.Pair{
		{Name: "draft", Value: s.week.Draft.ID}, {Name: "day", Value: c.Move.Day.String()}, {Name: "place", Value: placeValue(c.Move)}, {Name: "back", Value: back}}}
	return out
}

// where is a place in words.
func (s *weekNow) where(m round.Move) string {
	name := ""
	if p := s.facts.Person(m.Person); p != nil {
		name = p.Name
	}
	if m.With != "" {
		if p := s.facts.Person(m.With); p != nil {
			name += " and " + p.Name
		}
	}
	if m.After == "" {
		return name + ", first of the day"
	}
	return name + ", after " + s.jobName(m.After)
}

func (s *weekNow) jobName(job string) string {
	for _, x := range s.problem.Stops {
		if x.ID == job {
			return x.Name
		}
	}
	return "a stop"
}

// priceWords is what a place costs, in sentences.
func priceWords(c round.Quote, units say.Units) []string {
	var out []string
	for _, w := range c.Words {
		out = append(out, say.Render(w, units))
	}
	if len(out) == 0 {
		out = append(out, "No more driving.")
	}
	return out
}

// extras are the extra visits to decide about.
func (p roundBook) extras(r *http.Request) ([]view.RoundExtra, error) {
	list, err := p.store.Extras(r.Context())
	var out []view.RoundExtra
	for _, x := range list {
		out = append(out, view.RoundExtra{Name: x.TankName + ", " + x.SiteName, Href: "/visits/" + x.Visit, When: "by " + local(r).Day(x.On),
			Decide: view.Link{Label: "Decide", Href: "/visits/" + x.Visit + "/extra"}})
	}
	return out, err
}

// notes are what the owner should know of the input: what is planned in spite
// of it, and where to mend it.
func (s *weekNow) notes(r *http.Request) []view.RoundNote {
	var out []view.RoundNote
	for _, x := range s.said {
		out = append(out, view.RoundNote{Text: say.Render(x, reads(r))})
	}
	for i := range s.facts.Sites {
		site := &s.facts.Sites[i]
		if !site.Position.OK {
			out = append(out, view.RoundNote{Text: site.Name + " has no position, so nobody can be sent there.", Do: &view.Link{Label: "Write it down", Href: sitePath(site.ID) + "/edit"}})
		}
	}
	for _, person := range s.facts.People {
		for _, x := range person.Leave {
			if x.From < s.monday.Add(7) && x.To >= s.monday {
				out = append(out, view.RoundNote{Text: person.Name + " is off, " + span(local(r), x.From, x.To) + "."})
			}
		}
	}
	for _, x := range s.facts.Promises {
		if site := s.facts.Site(x.Site); site != nil {
			out = append(out, view.RoundNote{Text: "Promised to " + site.Name + ": " + local(r).Day(x.Day) + ", " + x.Text() + "."})
		}
	}
	return out
}
