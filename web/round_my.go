package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"time"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// roundStore is what a person's day is made of.
type roundStore interface {
	OwnVisits(ctx context.Context, person string, since time.Time) ([]visit.Own, error)
	StopsOf(ctx context.Context, person string, from, to time.Time) ([]visit.Stop, error)
	DueTanks(ctx context.Context, by q.Date, limit int) ([]visit.DueTank, error)
	// BringFor is what to bring to each tank, as words' ids.
	BringFor(ctx context.Context, tanks []string) (map[string][]string, error)
	Keys(ctx context.Context) ([]customer.Key, error)
}

// stopStore keeps stops.
type stopStore interface {
	Stop(ctx context.Context, id string) (visit.Stop, error)
	Arrive(ctx context.Context, by, site string) (string, error)
	ArriveAtTank(ctx context.Context, by, tank string) (string, error)
	CouldNotGetIn(ctx context.Context, by, site, why string) (string, error)
	LeaveStop(ctx context.Context, by, id string, outcome visit.StopOutcome, why string) error
	ReopenStop(ctx context.Context, by, id string) error
	AccessNote(ctx context.Context, site string) (customer.AccessNote, error)
	SiteKeys(ctx context.Context, site string) ([]customer.Key, error)
}

type roundPages struct {
	*shell
	round roundStore
	stops stopStore
	days  dayStore
	book  roundBook
}

// aheadDays is how far a technician's own page looks ahead, in days.
const aheadDays = 3

// dueShown is how many due tanks are read for the page.
const dueShown = 200

// my is a person's day: where they are, where they were, and what falls due.
func (p roundPages) my(w http.ResponseWriter, r *http.Request) error {
	in := who(r)
	l := local(r)
	now := p.cfg.Now()
	today, _ := onWall(l.Zone, now)
	from, to := wall(l.Zone, today, 0), wall(l.Zone, today.Add(1), 0)
	stops, err := p.round.StopsOf(r.Context(), in.Person.ID, from, to)
	if err != nil {
		return err
	}
	day := today
	if asked, ok := q.ParseDate(r.URL.Query().Get("day")); ok && asked > today && asked < today.Add(15) {
		day = asked
	}
	plan, taken, err := p.planned(r, day, today, stops)
	if err != nil {
		return err
	}
	if day != today {
		return p.otherDay(w, r, day, plan)
	}
	due, err := p.round.DueTanks(r.Context(), today.Add(aheadDays), dueShown)
	if err != nil {
		return err
	}
	v := view.Round{Day: l.Day(today), CanSearch: p.hasPage("/search")}
	for _, s := range stops {
		v.Stops = append(v.Stops, stopLine(s, l))
	}
	v.Mine, v.Others = dueSites(due, in.Person.ID, today, l)
	v.Plan = plan
	if plan != nil {
		// What the round holds is told once.
		v.Mine = slices.DeleteFunc(v.Mine, func(s view.RoundSite) bool {
			return slices.Contains(taken, s.Site)
		})
		v.Others = slices.DeleteFunc(v.Others, func(s view.RoundSite) bool { return slices.Contains(taken, s.Site) })
		v.Stops = slices.DeleteFunc(v.Stops, func(s view.RoundStop) bool {
			return slices.ContainsFunc(plan.Stops, func(x view.MyStop) bool { return x.StateHref == s.Href })
		})
	}
	if err := p.carry(r, due, v.Mine); err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "My round", Lead: v.Day, Scripts: []string{static.Path("outbox.js"), static.Path("photo_queue.js"), static.Path("on_board.js"), static.Path("round_ticks.js")}, Styles: []string{static.Path("visit.css"), static.Path("photo.css"), static.Path("round.css"), static.Path("round_my.css")}}, view.RoundBody(v))
}

// otherDay is what is handed out for a day to come.
func (p roundPages) otherDay(w http.ResponseWriter, r *http.Request, day q.Date, plan *view.MyDay) error {
	v := view.Round{Plan: plan}
	if plan == nil {
		v.Plan = &view.MyDay{Nothing: "The week of that day is not handed out yet.", Days: []view.Link{{Label: "Today", Href: "/"}}}
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "My round", Lead: local(r).Day(day), Scripts: []string{static.Path("outbox.js"), static.Path("round_ticks.js")},
		Styles: []string{static.Path("visit.css"), static.Path("round.css"), static.Path("round_my.css")}}, view.RoundBody(v))
}

// carry says for each site what to take along, and where its keys are.
func (p roundPages) carry(r *http.Request, due []visit.DueTank, sites []view.RoundSite) error {
	var ids []string
	for _, d := range due {
		ids = append(ids, d.Tank)
	}
	bring, err := p.round.BringFor(r.Context(), ids)
	if err != nil {
		return err
	}
	keys, err := p.round.Keys(r.Context())
	if err != nil {
		return err
	}
	for i := range sites {
		site := &sites[i]
		for _, d := range due {
			if d.Site != site.Site {
				continue
			}
			for _, id := range bring[d.Tank] {
				if word, ok := say.WordFor("bring." + id); ok && !slices.Contains(site.Bring, word) {
					site.Bring = append(site.Bring, word)
				}
			}
		}
		for _, k := range keys {
			if k.Site == site.Site && !k.RetiredAt.OK {
				line := "key " + k.Number
				switch {
				case k.Holder == who(r).Person.ID:
					line += ", with you"
				case k.HolderName != "":
					line += ", with " + k.HolderName
				default:
					line += ", in the shop"
				}
				site.Keys = append(site.Keys, line)
			}
		}
	}
	return nil
}

func stopLine(s visit.Stop, l view.Local) view.RoundStop {
	out := view.RoundStop{Href: "/stops/" + s.ID, Site: s.SiteName, Customer: s.Customer, Address: s.Address, Open: s.Outcome == visit.UnderWay}
	if s.Arrived.OK {
		out.Time = l.Clock(s.Arrived.V)
	}
	out.Word = outcomeWords[s.Outcome]
	if s.Why != "" {
		out.Word += ": " + s.Why
	}
	return out
}

var outcomeWords = map[visit.StopOutcome]string{
	visit.UnderWay: "under way", visit.StopDone: "done", visit.StopPartly: "partly done", visit.CouldNotEnter: "could not get in",
}

// dueSites gathers due tanks by their site, in the order in which they come;
// those whose agreement prefers somebody else stand apart.
func dueSites(due []visit.DueTank, me string, today q.Date, l view.Local) (mine, others []view.RoundSite) {
	for _, d := range due {
		list := &mine
		if d.Preferred != "" && d.Preferred != me {
			list = &others
		}
		at := slices.IndexFunc(*list, func(s view.RoundSite) bool { return s.Site == d.Site })
		if at < 0 {
			*list = append(*list, view.RoundSite{Site: d.Site, Name: d.SiteName, Customer: d.Customer, Action: "/sites/" + d.Site + "/stops"})
			at = len(*list) - 1
		}
		t := view.RoundTank{Name: d.TankName, Href: "/tanks/" + d.Tank, Due: dueWord(d, today), Late: today > d.Latest, Apart: d.KeepApart, Minutes: d.Minutes}
		if d.Open > 0 {
			t.Tasks = plural(d.Open, "task", "tasks")
		}
		if d.Last.OK {
			t.Last = "last " + l.Day(d.Last.V)
		} else {
			t.Last = "not visited yet"
		}
		site := &(*list)[at]
		site.Tanks = append(site.Tanks, t)
		site.Minutes += d.Minutes
		site.Late = site.Late || t.Late
	}
	return mine, others
}

func dueWord(d visit.DueTank, today q.Date) string {
	switch n := int(today - d.Due); {
	case n == 0:
		return "due today"
	case n == 1:
		return "due since yesterday"
	case n > 1:
		return fmt.Sprintf("due for %d days", n)
	case n == -1:
		return "due tomorrow"
	default:
		return "due on " + d.Due.Weekday().String()
	}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
