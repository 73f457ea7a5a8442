package web

import (
	"net/http"
	"strings"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/web/view"
)

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
			for _, c := range round.Prices(s.problem, s.plan, x.Job, 1) {
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
	name := s.together(m.Person, m.With)
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
		out = append(out, upperFirst(say.Render(w, units)))
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
