package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"scaperound/domain/tank"
	"scaperound/web/view"
)

const tanksPerPage = 40

var tankOrders = []view.Option{
	{Value: string(tank.ByName), Label: "Name"}, {Value: string(tank.BySite), Label: "Customer and site"},
	{Value: string(tank.ByLastVisit), Label: "Longest unvisited"}, {Value: string(tank.ByNext), Label: "Next due"},
}

// list shows tanks: sorted, filtered by state, searched, paged.
func (p tankPages) list(w http.ResponseWriter, r *http.Request) error {
	asked := r.URL.Query()
	page := max(1, pageNumber(asked.Get("page")))
	f := tank.ListFilter{
		State: tank.State(asked.Get("state")), Search: asked.Get("q"), Site: asked.Get("site"), Order: tank.Order(asked.Get("order")),
		Offset: (page - 1) * tanksPerPage, Limit: tanksPerPage, Today: p.today(r),
	}
	l, err := p.store.Tanks(r.Context(), f)
	if err != nil {
		return err
	}
	body := view.TankList{
		Search: f.Search, State: string(f.State), Order: string(f.Order), Orders: tankOrders,
		States: []view.Option{{Value: "", Label: "Not ended"}},
		New:    view.Link{Label: "New tank", Href: "/tanks/new"}, Beside: tanksAndWaters("/tanks"),
		Pager: pagerOf(r.URL, page, tanksPerPage, len(l.Tanks), l.Total, "tanks"),
		Any:   f.Search != "" || f.State != "" || f.Site != "",
	}
	for _, s := range tank.States {
		body.States = append(body.States, view.Option{Value: string(s), Label: s.Title()})
	}
	body.States = append(body.States, view.Option{Value: string(tank.AllStates), Label: "Every one"})
	for _, s := range l.Tanks {
		body.Tanks = append(body.Tanks, tankLine(s, local(r)))
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Tanks"}, view.TankListBody(body))
}

// tanksAndWaters leads from one of the two lists to the other.
func tanksAndWaters(here string) []view.Link {
	return []view.Link{{Label: "Tanks", Href: "/tanks", Here: here == "/tanks"}, {Label: "Source waters", Href: "/sources", Here: here == "/sources"}}
}

func tankLine(s tank.Summary, when view.Local) view.TankLine {
	line := view.TankLine{Name: s.Name, Href: tankPath(s.ID), Where: dotted(s.CustomerName, s.SiteName), KeptApart: s.KeptApart}
	if s.State != tank.Running {
		line.State = s.State.Title()
	}
	if s.LastVisit.OK {
		line.Last = when.DayOf(s.LastVisit.V)
	}
	if s.NextOn.OK {
		line.Next = when.Day(s.NextOn.V)
	}
	if s.OpenTasks > 0 {
		line.Tasks = plural(s.OpenTasks, "open task", "open tasks")
	}
	return line
}

// joined sets what there is side by side.
func dotted(parts ...string) string {
	var there []string
	for _, x := range parts {
		if x != "" {
			there = append(there, x)
		}
	}
	return strings.Join(there, " · ")
}

func pageNumber(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil || n > 1_000_000 {
		return 0
	}
	return n
}

// pagerOf leads through pages of a list that is at u; the rest of u stays.
func pagerOf(u *url.URL, page, size, rows, total int, noun string) view.Pager {
	at := func(n int) string {
		q := u.Query()
		q.Set("page", strconv.Itoa(n))
		return u.Path + "?" + q.Encode()
	}
	p := view.Pager{Page: page, Pages: (total + size - 1) / size, Total: total, Noun: noun}
	if rows > 0 {
		p.First, p.Last = (page-1)*size+1, (page-1)*size+rows
	}
	if page > 1 {
		p.Previous = at(min(page-1, max(1, p.Pages)))
	}
	if page < p.Pages {
		p.Next = at(page + 1)
	}
	return p
}
