package web

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// dayStore is what a day that was handed out is told from.
type dayStore interface {
	// HandedWeek is what is handed out for a week; its ID is empty for nothing.
	HandedWeek(ctx context.Context, monday q.Date) (due.Book, error)
	RoundFacts(ctx context.Context, from q.Date, days int, today q.Date) (due.Facts, error)
	CarryFor(ctx context.Context, tanks []string) (map[string]due.Carry, error)
	BagEnding(ctx context.Context, person string, by q.Date) ([]due.Ending, error)
	Keys(ctx context.Context) ([]customer.Key, error)
}

// handed is what is known of a day to tell somebody's round.
type handed struct {
	day    q.Date
	today  q.Date
	facts  due.Facts
	carry  map[string]due.Carry
	keys   []customer.Key
	ending []due.Ending
	begun  []visit.Stop // of the person, on the day
}

// readDay reads what the routes of a day need.
func readDay(r *http.Request, store dayStore, day, today q.Date, routes []due.Route) (*handed, error) {
	h := &handed{day: day, today: today}
	var err error
	if h.facts, err = store.RoundFacts(r.Context(), due.Monday(day), 7, today); err != nil {
		return nil, err
	}
	var tanks []string
	for _, route := range routes {
		for _, s := range route.Stops {
			tanks = append(tanks, s.Tanks...)
		}
	}
	if h.carry, err = store.CarryFor(r.Context(), tanks); err != nil {
		return nil, err
	}
	h.keys, err = store.Keys(r.Context())
	return h, err
}

// planned is somebody's own day as handed out, nil where the week is not, and
// the sites that anybody goes to on it or later in the week.
func (p roundPages) planned(r *http.Request, day, today q.Date, begun []visit.Stop) (mine *view.MyDay, taken []string, err error) {
	book, err := p.days.HandedWeek(r.Context(), due.Monday(day))
	if err != nil || book.ID == "" {
		return nil, nil, err
	}
	for _, x := range book.Routes {
		for _, s := range x.Stops {
			if x.Day >= day {
				taken = append(taken, s.Site)
			}
		}
	}
	l := local(r)
	d := view.MyDay{Day: l.Day(day)}
	for n := range 3 {
		one := today.Add(n)
		link := view.Link{Label: one.Weekday().String(), Href: "/?day=" + one.String(), Here: one == day}
		switch n {
		case 0:
			link.Label, link.Href = "Today", "/"
		case 1:
			link.Label = "Tomorrow"
		}
		d.Days = append(d.Days, link)
	}
	me := who(r).Person.ID
	route := book.Route(me, day)
	if route == nil || len(route.Stops) == 0 {
		d.Nothing = "No stop is handed out to you for this day."
		return &d, taken, nil
	}
	h, err := readDay(r, p.days, day, today, []due.Route{*route})
	if err != nil {
		return nil, nil, err
	}
	if h.ending, err = p.days.BagEnding(r.Context(), me, day.Add(1)); err != nil {
		return nil, nil, err
	}
	h.begun = begun
	h.tell(&d, *route, me, r)
	d.Load.Ticks = me + "." + day.String()
	if day == today {
		d.Late = "/late"
	}
	return &d, taken, nil
}

// tell fills in a day from its route.
func (h *handed) tell(d *view.MyDay, route due.Route, me string, r *http.Request) {
	d.Span = "Leave at " + due.Clock(route.Leave) + ", back at " + due.Clock(route.Back) + ". " + routeSum(route)
	if route.Break.OK {
		d.Span += " Break at " + due.Clock(route.Break.V) + "."
	}
	var carries []due.Carry
	var keys []string
	for i, s := range route.Stops {
		stop := h.stop(i+1, s, me, r)
		d.Stops = append(d.Stops, stop)
		for _, t := range s.Tanks {
			carries = append(carries, h.carry[t])
		}
		for _, k := range h.keys {
			if k.Site == s.Site && !k.RetiredAt.OK && !slices.Contains(keys, k.Number) {
				keys = append(keys, k.Number)
			}
		}
	}
	if !slices.ContainsFunc(d.Stops, func(s view.MyStop) bool { return s.Open }) {
		if next := slices.IndexFunc(d.Stops, func(s view.MyStop) bool { return s.Arrive != "" }); next >= 0 {
			d.Stops[next].Next = true
		}
	}
	d.Load = h.load(due.Load(carries), keys, me, r)
}

func routeSum(route due.Route) string {
	drive := route.Home
	for _, s := range route.Stops {
		drive += s.Drive
	}
	return counted(len(route.Stops), "stop", "stops") + ", " + duration(drive) + " driving."
}

// stop is one stop in a technician's words.
func (h *handed) stop(n int, s due.Placed, me string, r *http.Request) view.MyStop {
	out := view.MyStop{N: n, Time: due.Clock(s.Begin), Until: "to " + due.Clock(s.End), Site: "a site", Href: sitePath(s.Site), GetIn: sitePath(s.Site) + "/access", Arrive: "/sites/" + s.Site + "/stops"}
	if site := h.facts.Site(s.Site); site != nil {
		out.Site, out.Customer, out.Address = site.Name, site.Customer, site.Address
		if site.Position.OK {
			out.Map = templ.SafeURL(site.Position.V.Geo())
		}
		for _, phone := range site.Phones {
			out.Phones = append(out.Phones, view.Phone{Text: phone, Number: dial(phone)})
		}
	}
	if s.With != "" {
		if p := h.facts.Person(s.With); p != nil {
			out.Marks = append(out.Marks, "with "+p.Name)
		}
	}
	for _, p := range h.facts.Promises {
		if p.Site == s.Site && p.Day == h.day {
			out.Marks = append(out.Marks, "promised "+p.Text())
		}
	}
	for _, id := range s.Tanks {
		t := view.RoundTank{Name: "a tank", Href: "/tanks/" + id}
		if tank := h.facts.Tank(id); tank != nil {
			t.Name, t.Apart = tank.Name, tank.ApartUntil.OK && tank.ApartUntil.V >= h.day
		}
		if open := h.carry[id].Open; open > 0 {
			t.Tasks = plural(open, "task", "tasks")
		}
		out.Tanks = append(out.Tanks, t)
		for _, b := range h.carry[id].Bring {
			if word, ok := say.WordFor("bring." + b); ok && !slices.Contains(out.Bring, word) {
				out.Bring = append(out.Bring, word)
			}
		}
	}
	for _, k := range h.keys {
		if k.Site == s.Site && !k.RetiredAt.OK {
			out.Keys = append(out.Keys, "Key "+k.Number+whereKey(k, me))
		}
	}
	for _, b := range h.begun {
		if b.Site == s.Site && h.day == h.today {
			out.State, out.StateHref, out.Open = outcomeWords[b.Outcome], "/stops/"+b.ID, b.Outcome == visit.UnderWay
			if !out.Open {
				out.State = strings.ToUpper(out.State[:1]) + out.State[1:]
			} else {
				out.State = "Go on"
			}
			out.Arrive = ""
		}
	}
	if h.day != h.today {
		out.Arrive = ""
	}
	return out
}

func whereKey(k customer.Key, me string) string {
	switch {
	case k.Holder == me && me != "":
		return ", with you"
	case k.HolderName != "":
		return ", with " + k.HolderName
	}
	return ", in the shop"
}
