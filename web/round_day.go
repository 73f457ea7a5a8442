package web

import (
	"fmt"
	"net/http"
	"slices"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// day is one day of the round book: a time line for each person.
func (p roundBook) day(w http.ResponseWriter, r *http.Request) error {
	day, err := dayOf(r)
	if err != nil {
		return err
	}
	f, body, err := p.drawDay(w, r, day, view.Form{})
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, f, body)
}

// drawDay draws a day; form is that of who cannot come.
func (p roundBook) drawDay(w http.ResponseWriter, r *http.Request, day q.Date, form view.Form) (f view.Frame, body templ.Component, err error) {
	s, err := p.read(r, due.Monday(day))
	if err != nil {
		return f, nil, err
	}
	l := local(r)
	v := view.RoundDay{Form: form, Before: view.Link{Label: "← " + day.Add(-1).Weekday().String(), Href: dayPath(day.Add(-1))}, After: view.Link{Label: day.Add(1).Weekday().String() + " →", Href: dayPath(day.Add(1))},
		Week: view.Link{Label: "The week", Href: weekPath(s.monday)}, Ill: dayPath(day) + "/ill"}
	switch {
	case !s.week.Planned:
		v.Empty = "This week is not planned yet."
	case s.week.Out():
		v.State = "As handed out " + l.DayClock(s.week.HandedAt.V) + "."
	case s.week.Handed.OK:
		v.State = "A draft. People still go by what was handed out " + l.DayClock(s.week.HandedAt.V) + "."
	default:
		v.State = "A draft: nobody but you sees it."
	}
	may := !s.over && day >= s.today
	if may {
		v.Undo, v.Redo = turns(s.week, day.String())
	}
	v.Lines = s.lines(day, may)
	if s.week.Planned {
		if v.Map = s.sketch(day); v.Map != nil {
			v.Map.Open = p.openMap(w)
		}
		v.Print = view.Link{Label: "Day sheets", Href: dayPath(day) + "/print"}
		if may {
			p.margin(&v, s, r, day)
			v.People = []view.Option{{Label: "Choose who"}}
			for _, person := range s.problem.People {
				if s.week.Draft.Route(person.ID, day) != nil {
					v.People = append(v.People, view.Option{Value: person.ID, Label: person.Name})
				}
			}
		}
	}
	if len(v.People) == 1 {
		v.People = nil
	}
	f = weekPages("round_day.css")
	f.Scripts = append(f.Scripts, static.Path("round_map.js"))
	f.Title, f.Up = l.Day(day), &view.Link{Label: "Round book", Href: weekPath(s.monday)}
	return f, view.RoundDayBody(v), nil
}

// margin lists what is still to place, with the price of placing it on the day.
func (p roundBook) margin(v *view.RoundDay, s *weekNow, r *http.Request, day q.Date) {
	for i, x := range s.waiting() {
		line := s.left(x, day.String())
		if i < maxPriced {
			for _, c := range round.Prices(s.problem, s.plan, x.Job, 30) {
				if c.Move.Day == day && len(line.Prices) < 2 {
					line.Prices = append(line.Prices, s.price(r, c, false, day.String()))
				}
			}
			if len(line.Prices) == 0 && line.Reason == "" {
				line.Reason = "No place on this day that breaks no rule."
			}
		}
		v.Left = append(v.Left, line)
	}
}

// lines are the day's time lines, one for each person who works or drives.
func (s *weekNow) lines(day q.Date, may bool) []view.RoundLine {
	from, to := 8*3600, 17*3600
	var out []view.RoundLine
	for i := range s.facts.People {
		person := &s.facts.People[i]
		route := s.week.Draft.Route(person.ID, day)
		h, works := shift(person, day)
		if route == nil && !works {
			continue
		}
		line := view.RoundLine{Person: person.Name}
		if day == s.today && s.facts.Now.OK {
			line.Now = int(s.facts.Now.V) * 60
		}
		if works {
			from, to = min(from, int(h.From)*60), max(to, int(h.To)*60)
			line.Span = "works " + h.From.String() + "–" + h.To.String()
		}
		if route == nil || len(route.Stops) == 0 {
			line.Nothing = "No stop."
			if off(person, day) {
				line.Nothing = "Off."
			}
			out = append(out, line)
			continue
		}
		from, to = min(from, int(route.Leave)), max(to, int(route.Back))
		s.line(&line, person, *route, day, may)
		out = append(out, line)
	}
	for i := range out {
		out[i].From, out[i].To = from/1800*1800, (to+1799)/1800*1800
	}
	return out
}

// shift is when somebody works on a day; leave does not count here.
func shift(p *due.Person, day q.Date) (customer.Window, bool) {
	iso := (int(day.Weekday())+6)%7 + 1
	for _, h := range p.Working.Hours {
		if h.Weekday == iso {
			return h, true
		}
	}
	return customer.Window{}, false
}

func (s *weekNow) line(line *view.RoundLine, person *due.Person, r due.Route, day q.Date, may bool) {
	line.Leave, line.Back, line.Home = int(r.Leave), int(r.Back), int(r.Home)
	drive, work := r.Home, round.Seconds(0)
	if r.Break.OK {
		line.Break = &view.RoundSpan{From: int(r.Break.V), To: int(r.Break.V) + person.Working.Break.Minutes*60}
	}
	for i, x := range r.Stops {
		drive, work = drive+x.Drive, work+x.End-x.Begin
		site := s.facts.Site(x.Site)
		bar := view.RoundBar{N: i + 1, Drive: int(x.Drive), Arrive: int(x.Arrive), Begin: int(x.Begin), End: int(x.End), Kept: x.Kept, Done: s.done(day, x)}
		row := view.RoundRow{N: i + 1, ID: "stop-" + x.Job, Time: due.Clock(x.Begin) + "–" + due.Clock(x.End), Site: x.Site, Href: sitePath(x.Site), Done: bar.Done,
			Drive: duration(x.Drive) + " drive", Minutes: duration(x.End-x.Begin) + " there", Tanks: s.tankNames(x.Tanks)}
		if site != nil {
			row.Site, row.Address = site.Name, site.Address
		}
		s.marks(&row, &bar, x, day)
		if may && !bar.Done {
			if _, ok := s.job(x.Job); ok {
				row.Move = &view.Link{Label: "Move", Href: movePath(s.monday, x.Job, day.String())}
				hidden := []view.Pair{{Name: "draft", Value: s.week.Draft.ID}, {Name: "day", Value: day.String()}}
				row.Keep = &view.Post{Label: "Keep here", Action: jobPath(s.monday, x.Job, "keep"), Hidden: hidden, Quiet: true}
				if x.Kept {
					row.Keep.Label, row.Keep.Hidden = "Let go", append(hidden, view.Pair{Name: "keep", Value: "no"})
				}
			}
		}
		line.Stops, line.Rows = append(line.Stops, bar), append(line.Rows, row)
	}
	line.Span = due.Clock(r.Leave) + "–" + due.Clock(r.Back)
	line.Sum = fmt.Sprintf("%s, %s driving, %s at the tanks", counted(len(r.Stops), "stop", "stops"), duration(drive), duration(work))
}

// came says whether somebody has been to a stop; empty where nobody has.
func (s *weekNow) came(day q.Date, x due.Placed) string {
	if r, ok := s.facts.ReachedAt(s.week.Draft, day, x); ok {
		word := outcomeWords[r.Outcome]
		switch {
		case r.Outcome == visit.UnderWay:
			return word + " since " + r.Arrived.String()
		case r.Left.OK:
			return word + ", " + r.Arrived.String() + "–" + r.Left.V.String()
		}
		return word
	}
	if s.done(day, x) {
		return "done"
	}
	return ""
}

// done reports whether a stop is over: somebody was there today, or its tanks
// have been visited on the day or since.
func (s *weekNow) done(day q.Date, x due.Placed) bool {
	if r, ok := s.facts.ReachedAt(s.week.Draft, day, x); ok {
		return r.Outcome != visit.UnderWay
	}
	for _, id := range x.Tanks {
		if t := s.facts.Tank(id); t == nil || !t.Last.OK || t.Last.V < day {
			return false
		}
	}
	return len(x.Tanks) > 0
}

// marks says in words what binds a stop and what is wrong with it.
func (s *weekNow) marks(row *view.RoundRow, bar *view.RoundBar, x due.Placed, day q.Date) {
	if word := s.came(day, x); word != "" {
		row.Marks = append(row.Marks, word)
	}
	if x.Kept {
		row.Marks = append(row.Marks, "kept here")
	}
	if x.With != "" {
		row.Marks = append(row.Marks, "with "+s.personName(x.With))
	}
	for _, p := range s.facts.Promises {
		if p.Site == x.Site && p.Day == day {
			bar.Promise = &view.RoundSpan{From: int(p.From) * 60, To: int(p.To) * 60}
			row.Marks = append(row.Marks, "promised "+p.Text())
			if int(x.Begin) < int(p.From)*60 || int(x.Begin) > int(p.To)*60 {
				row.Urgent = append(row.Urgent, "not as promised")
			}
		}
	}
	for _, id := range x.Tanks {
		if t := s.facts.Tank(id); t != nil && t.ApartUntil.OK && t.ApartUntil.V >= day && !slices.Contains(row.Marks, "kept apart: last, own net") {
			row.Marks = append(row.Marks, "kept apart: last, own net")
		}
	}
	if slices.Contains(s.now.Gone, x.Job) && !bar.Done {
		row.Urgent = append(row.Urgent, "nobody asks for it any more")
	}
	if j, ok := s.job(x.Job); ok && !bar.Done && !slices.Contains(s.now.Gone, x.Job) && day > j.Until {
		row.Urgent = append(row.Urgent, plural(int(day-j.Until), "day", "days")+" later than agreed")
	}
}
