package web

import (
	"net/http"
	"slices"
	"strings"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// lateBy are the minutes that one can be late by, as tiles.
var lateBy = []string{"10", "20", "30", "45", "60", "90"}

// late says what slips when somebody runs late today, and whom to phone.
func (p roundPages) late(w http.ResponseWriter, r *http.Request) error {
	today, me := p.today(r), who(r).Person.ID
	book, err := p.days.HandedWeek(r.Context(), due.Monday(today))
	if err != nil {
		return err
	}
	facts, err := p.days.RoundFacts(r.Context(), due.Monday(today), 7, today)
	if err != nil {
		return err
	}
	facts.Now.OK = false // the hours as they are written down, not what is left of them
	now := facts.Match(book)
	problem, _ := facts.Problem(now.Jobs, now.Keep)
	problem.Travel, _ = p.book.travel(r.Context(), facts.Roads, problem.Places)
	plan := facts.Plan(problem, book)
	v := view.Late{Action: "/late", Form: view.Form{Values: r.URL.Query()}}
	for _, route := range plan.Routes {
		if route.Person != me || route.Day != today {
			continue
		}
		for _, x := range route.Visits {
			for _, s := range problem.Stops {
				if s.ID == x.Stop {
					v.Stops = append(v.Stops, view.Option{Value: s.ID, Label: due.Clock(x.Start) + " " + s.Name})
				}
			}
		}
	}
	for _, m := range lateBy {
		v.Minutes = append(v.Minutes, view.Option{Value: m, Label: m + " min"})
	}
	f := weekPages("round_my.css")
	f.Title, f.Up = "Running late", &view.Link{Label: "My round", Href: "/"}
	if len(v.Stops) == 0 {
		return p.page(w, r, http.StatusOK, f, view.Empty("Nothing of your round is still ahead today.", &view.Link{Label: "My round", Href: "/"}))
	}
	status := http.StatusOK
	if ask := r.URL.Query(); ask.Has("stop") || ask.Has("minutes") {
		by := slices.Index(lateBy, ask.Get("minutes"))
		if !slices.ContainsFunc(v.Stops, func(o view.Option) bool { return o.Value == ask.Get("stop") }) {
			v.Form.Faults.Add("stop", fault.NotChoice, "That stop is not ahead any more. Choose one that is.")
		}
		if by < 0 {
			v.Form.Faults.Add("minutes", fault.Missing, "How late? Choose the nearest.")
		}
		if len(v.Form.Faults) > 0 {
			status = http.StatusUnprocessableEntity
		} else if l, ok := round.Late(problem, plan, me, today, ask.Get("stop"), []round.Seconds{10, 20, 30, 45, 60, 90}[by]*round.Minute); ok {
			v.Asked = true
			lateness(&v, l, &facts, problem, me, reads(r))
		}
	}
	return p.page(w, r, status, f, view.LateBody(v))
}

// lateness puts what slips into words: whom to phone first, then what is only
// later. A job for two is told once.
func lateness(v *view.Late, l round.Lateness, facts *due.Facts, problem round.Problem, me string, units say.Units) {
	told, seen := map[string]bool{}, map[string]bool{}
	for _, s := range l.Slips {
		i := slices.IndexFunc(problem.Stops, func(x round.Stop) bool { return x.ID == s.Stop })
		if i < 0 || seen[s.Stop] {
			continue
		}
		seen[s.Stop] = true
		line := view.LateSlip{Site: problem.Stops[i].Name, Was: due.Clock(s.Was), Now: due.Clock(s.Now)}
		if person := facts.Person(s.Person); person != nil && s.Person != me {
			line.Whose = "on the round of " + person.Name
		}
		siteID, _, _ := strings.Cut(s.Stop, ".")
		line.Href = sitePath(siteID)
		if site := facts.Site(siteID); site != nil {
			for _, n := range site.Phones {
				line.Phones = append(line.Phones, view.Phone{Text: n, Number: dial(n)})
			}
		}
		if s.Call {
			line.Why = upperFirst(say.Render(s.Why, units))
			told[line.Why] = true
			v.Calls = append(v.Calls, line)
			continue
		}
		v.Slips = append(v.Slips, line)
	}
	for _, w := range l.Words {
		if text := upperFirst(say.Render(w, units)); !told[text] {
			v.Urgent = append(v.Urgent, text)
			told[text] = true
		}
	}
	if !l.Over {
		v.Says = append(v.Says, "You are back at "+due.Clock(l.Back)+".")
	}
	if len(v.Calls) == 0 {
		v.Says = append(v.Says, "Nobody has to be phoned: no promise and no opening time is missed.")
	}
}
