package web

import (
	"net/http"

	"scaperound/web/view"
)

// home is the first page of everybody who works here.
func (s *shell) home(w http.ResponseWriter, r *http.Request) error {
	in := who(r)
	p := view.Home{Day: local(r).DayOf(s.cfg.Now()), CanSearch: s.hasPage("/search")}
	for _, l := range s.menuOf(in.Person.Role, r.URL.Path) {
		if l.Href != "/" {
			p.Ways = append(p.Ways, l)
		}
	}
	return s.page(w, r, http.StatusOK, view.Frame{Title: "My round", Lead: p.Day}, view.HomeBody(p))
}
