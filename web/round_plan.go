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
	"scaperound/domain/round"
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

// load is the list for the van: what goes out and what comes back.
func (h *handed) load(l due.LoadList, keys []string, me string, r *http.Request) view.MyLoad {
	var out view.MyLoad
	units := reads(r)
	if l.Water > 0 {
		dim := due.WaterMeasure().Dim
		unit := dim.Units(units.System)[0]
		out.Out = append(out.Out, view.MyThing{What: "osmosis water", Much: dim.Show(q.Some(float64(l.Water)), units) + " " + unit.Sign(), Note: "by the recipe of the last visits"})
		out.Back = append(out.Back, view.MyThing{What: "empty cans"})
	}
	for _, w := range l.Weigh {
		word, ok := say.WordFor(w.What)
		if !ok {
			word = w.What
		}
		out.Out = append(out.Out, view.MyThing{What: word, Much: say.Number(w.Value, 1, units) + " " + w.Unit.Sign(), Note: "for the change water of the day"})
	}
	if l.Cylinders > 0 {
		out.Out = append(out.Out, view.MyThing{What: "full cylinders, upright and tied", Much: counted(l.Cylinders, "cylinder", "cylinders")})
		out.Back = append(out.Back, view.MyThing{What: "empty cylinders", Much: counted(l.Cylinders, "cylinder", "cylinders")})
	}
	for _, b := range l.Bring {
		word, ok := say.WordFor("bring." + b.What)
		if !ok {
			continue
		}
		line := view.MyThing{What: word}
		if b.Each() {
			line.Much = counted(b.Tanks, "tank", "tanks")
		}
		out.Out = append(out.Out, line)
	}
	for _, number := range keys {
		for _, k := range h.keys {
			if k.Number == number {
				out.Out = append(out.Out, view.MyThing{What: "key " + number, Note: strings.TrimPrefix(whereKey(k, me), ", ")})
				out.Back = append(out.Back, view.MyThing{What: "key " + number})
			}
		}
	}
	out.Back = append(out.Back, view.MyThing{What: "trimmings, bagged"})
	for _, e := range h.ending {
		word := e.Kit
		if e.Lot != "" {
			word += ", lot " + e.Lot
		}
		if e.On < h.today {
			out.Warn = append(out.Warn, word+" is out of date since "+local(r).Day(e.On)+". Take a fresh one.")
		} else {
			out.Warn = append(out.Warn, word+" is good until "+local(r).Day(e.On)+" only. Take a fresh one along.")
		}
	}
	return out
}

// print is a day on paper, a sheet for each person.
func (p roundBook) print(w http.ResponseWriter, r *http.Request) error {
	day, err := dayOf(r)
	if err != nil {
		return err
	}
	week, err := p.store.RoundWeek(r.Context(), due.Monday(day))
	if err != nil {
		return err
	}
	var routes []due.Route
	for _, x := range week.Draft.Routes {
		if x.Day == day && len(x.Stops) > 0 {
			routes = append(routes, x)
		}
	}
	h, err := readDay(r, p.days, day, p.today(r), routes)
	if err != nil {
		return err
	}
	v := view.DaySheets{State: "A draft: nobody goes by it yet."}
	if week.Out() {
		v.State = "As handed out " + local(r).DayClock(week.HandedAt.V) + "."
	}
	for _, x := range routes {
		d := view.DaySheet{Person: "Somebody who has left", Day: view.MyDay{Day: local(r).Day(day)}}
		if person := h.facts.Person(x.Person); person != nil {
			d.Person = person.Name
		}
		if h.ending, err = p.days.BagEnding(r.Context(), x.Person, day.Add(1)); err != nil {
			return err
		}
		h.tell(&d.Day, x, x.Person, r)
		v.Days = append(v.Days, d)
	}
	f := weekPages("round_my.css")
	f.Title, f.Up = "Day sheets, "+local(r).Day(day), &view.Link{Label: local(r).Day(day), Href: dayPath(day)}
	return p.page(w, r, http.StatusOK, f, view.DaySheetsBody(v))
}

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
	ask := r.URL.Query()
	by := slices.Index(lateBy, ask.Get("minutes"))
	if by >= 0 && ask.Get("stop") != "" {
		minutes := []round.Seconds{10, 20, 30, 45, 60, 90}[by]
		if l, ok := round.Late(problem, plan, me, today, ask.Get("stop"), minutes*round.Minute); ok {
			v.Asked = true
			lateness(&v, l, &facts, problem, reads(r))
		}
	}
	return p.page(w, r, http.StatusOK, f, view.LateBody(v))
}

func lateness(v *view.Late, l round.Lateness, facts *due.Facts, problem round.Problem, units say.Units) {
	told := map[string]bool{}
	for _, s := range l.Slips {
		i := slices.IndexFunc(problem.Stops, func(x round.Stop) bool { return x.ID == s.Stop })
		if i < 0 {
			continue
		}
		line := view.LateSlip{Site: problem.Stops[i].Name, Was: due.Clock(s.Was), Now: due.Clock(s.Now)}
		siteID, _, _ := strings.Cut(s.Stop, ".")
		line.Href = sitePath(siteID)
		if site := facts.Site(siteID); site != nil {
			for _, n := range site.Phones {
				line.Phones = append(line.Phones, view.Phone{Text: n, Number: dial(n)})
			}
		}
		if s.Call {
			line.Why = say.Render(s.Why, units)
			told[line.Why] = true
		}
		v.Slips = append(v.Slips, line)
	}
	for _, w := range l.Words {
		if text := say.Render(w, units); !told[text] {
			v.Says = append(v.Says, text)
		}
	}
	if len(v.Slips) == 0 {
		v.Says = append(v.Says, "Nothing slips.")
	}
}
