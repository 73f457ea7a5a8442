package web

import (
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// places shows every place of a day for a stop, with its price.
func (p roundBook) places(w http.ResponseWriter, r *http.Request) error {
	monday, err := mondayOf(r)
	if err != nil {
		return err
	}
	s, err := p.read(r, monday)
	if err != nil {
		return err
	}
	f, body, err := p.drawPlaces(r, s, r.PathValue("job"), r.URL.Query().Get("day"), view.Form{})
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, f, body)
}

func (p roundBook) drawPlaces(r *http.Request, s *weekNow, job, wanted string, f view.Form) (view.Frame, templ.Component, error) {
	l, units := local(r), reads(r)
	i := slices.IndexFunc(s.problem.Stops, func(x round.Stop) bool { return x.ID == job })
	if i < 0 {
		return view.Frame{}, nil, errNoStopHere()
	}
	stop := s.problem.Stops[i]
	route, at, placed := s.week.Draft.Find(job)
	day, ok := q.ParseDate(wanted)
	best := round.Prices(s.problem, s.plan, job, 60)
	if !ok || day < s.problem.From || day >= s.problem.From.Add(s.problem.Days) {
		switch {
		case placed:
			day = route.Day
		case len(best) > 0:
			day = best[0].Move.Day
		default:
			day = min(max(stop.Due, s.problem.From), s.problem.From.Add(s.problem.Days-1))
		}
	}
	v := view.RoundMove{Form: f, Action: jobPath(s.monday, job, "move"), Draft: s.week.Draft.ID, Name: stop.Name, Day: day.String(), Back: view.Link{Label: "Leave it", Href: dayPath(day)}}
	v.Now = "Without a place."
	for _, x := range s.waiting() {
		if x.Job == job {
			v.Now = joined(" ", v.Now, x.Reason, x.LetsIn)
		}
	}
	if placed {
		v.Now = l.Day(route.Day) + ", " + due.Clock(at.Begin) + " to " + due.Clock(at.End) + ", " + s.together(route.Person, at.With)
		v.TakeOut = &view.Post{Label: "Take it out of the week", Action: jobPath(s.monday, job, "take-out"), Hidden: []view.Pair{{Name: "draft", Value: s.week.Draft.ID}, {Name: "day", Value: route.Day.String()}}}
	}
	v.Facts = s.stopFacts(job, stop, l)
	for d := range s.problem.Days {
		one := s.problem.From.Add(d)
		x := view.RoundMoveDay{Label: l.Day(one), Href: movePath(s.monday, job, one.String()), Here: one == day}
		if b := slices.IndexFunc(best, func(c round.Quote) bool { return c.Move.Day == one }); b >= 0 {
			x.Best = "Best: " + s.where(best[b].Move) + ". " + strings.Join(priceWords(best[b], units), " ")
		} else {
			x.Best = "No place without breaking a rule."
		}
		v.Days = append(v.Days, x)
	}
	for _, person := range s.problem.People {
		if x := s.placesOf(person, job, day, units); len(x.Places) > 0 {
			v.People = append(v.People, x)
		}
	}
	if len(v.People) == 0 {
		v.NoPlaces = "Nobody works on this day."
		if day == s.today {
			v.NoPlaces = "Nobody works any more today."
		}
	}
	frame := weekPages()
	frame.Title, frame.Lead, frame.Up = "Move "+stop.Name, s.tankNamesOf(job), &view.Link{Label: l.Day(day), Href: dayPath(day)}
	return frame, view.RoundMoveBody(v), nil
}

// stopFacts are what binds a stop, in words.
func (s *weekNow) stopFacts(job string, stop round.Stop, l view.Local) []string {
	var out []string
	if j, ok := s.job(job); ok {
		out = append(out, "Due "+l.Day(j.Due)+"; tolerated from "+l.Day(j.From)+" to "+l.Day(j.Until)+". "+duration(stop.Work)+" at the site.")
		if j.Promise.OK {
			out = append(out, "Promised: "+l.Day(j.Promise.V.Day)+", "+j.Promise.V.Text()+".")
		}
	}
	if stop.Weekday.OK {
		out = append(out, "Used to "+stop.Weekday.V.String()+"s.")
	}
	if stop.KeptApart {
		out = append(out, "A tank is kept apart: the last stop of the day.")
	}
	if stop.People == 2 {
		out = append(out, "Takes two people.")
	}
	if len(stop.Skills) > 0 {
		out = append(out, "Calls for "+say.JoinAnd(stop.Skills)+".")
	}
	if stop.Load.WaterL > 0 {
		out = append(out, counted(stop.Load.WaterL, "litre", "litres")+" of osmosis water to bring.")
	}
	return out
}

// placesOf prices every place of somebody's day.
func (s *weekNow) placesOf(person round.Person, job string, day q.Date, units say.Units) view.RoundMovePerson {
	out := view.RoundMovePerson{Name: person.Name}
	after := []string{""}
	for _, r := range s.plan.Routes {
		if r.Person == person.ID && r.Day == day {
			for _, v := range r.Visits {
				if v.Stop != job {
					after = append(after, v.Stop)
				}
			}
		}
	}
	for _, a := range after {
		if s.standsAfter(person.ID, job, day, a) {
			out.Places = append(out.Places, s.placeNow(person.ID, job, day, a))
			continue
		}
		c, ok := round.Price(s.problem, s.plan, round.Move{Stop: job, Day: day, Person: person.ID, After: a})
		if !ok {
			continue
		}
		place := view.RoundMovePlace{Value: placeValue(c.Move), Where: "First of the day", Refused: refused(c)}
		if a != "" {
			place.Where = "After " + s.jobName(a)
		}
		for _, r := range c.Plan.Routes {
			if r.Person == person.ID && r.Day == day {
				for _, v := range r.Visits {
					if v.Stop == job {
						place.Where += ", " + clockOf(v.Start) + " to " + clockOf(v.Done) + s.withWord(v.With)
					}
				}
			}
		}
		breaks := map[string]bool{}
		for _, b := range c.Breaks {
			text := upperFirst(say.Render(b.Say, units))
			if !breaks[text] {
				place.Breaks = append(place.Breaks, text)
			}
			breaks[text] = true
		}
		for _, w := range priceWords(c, units) {
			if !breaks[w] {
				place.Words = append(place.Words, w)
			}
		}
		out.Places = append(out.Places, place)
	}
	return out
}

// placeNow is where a stop stands: told, and nothing to choose.
func (s *weekNow) placeNow(person, job string, day q.Date, after string) view.RoundMovePlace {
	place := view.RoundMovePlace{Where: "First of the day", Refused: true, Here: true}
	if after != "" {
		place.Where = "After " + s.jobName(after)
	}
	if r := s.week.Draft.Route(person, day); r != nil {
		for _, x := range r.Stops {
			if x.Job == job {
				place.Where += ", " + clockOf(x.Begin) + " to " + clockOf(x.End) + s.withWord(x.With)
			}
		}
	}
	return place
}

// standsAfter reports whether a job stands in somebody's day behind another; after
// is empty for the first of the day.
func (s *weekNow) standsAfter(person, job string, day q.Date, after string) bool {
	for _, r := range s.plan.Routes {
		if r.Person != person || r.Day != day {
			continue
		}
		before := ""
		for _, v := range r.Visits {
			if v.Stop == job {
				return before == after
			}
			before = v.Stop
		}
	}
	return false
}
