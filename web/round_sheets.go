package web

import (
	"net/http"

	"scaperound/domain/due"
	"scaperound/web/view"
)

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
	if week.Handed.OK {
		v.State = "A draft. People still go by what was handed out " + local(r).DayClock(week.HandedAt.V) + "."
	}
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
