package web

import (
	"context"
	"net/http"
	"strings"
	"unicode/utf8"

	"scaperound/domain/customer"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// searchStore finds by any part of a name, a street or a telephone number.
type searchStore interface {
	Search(ctx context.Context, typed string) (customer.Found, error)
}

type searchPages struct {
	*shell
	store searchStore
}

// longestSearch is the most that is looked for, in characters.
const longestSearch = 120

func (p searchPages) find(w http.ResponseWriter, r *http.Request) error {
	text := strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(r.URL.Query().Get("q"), "\x00", ""), ""))
	if utf8.RuneCountInString(text) > longestSearch {
		text = string([]rune(text)[:longestSearch])
	}
	found, err := p.store.Search(r.Context(), text)
	if err != nil {
		return err
	}
	body := view.Search{Text: text, More: found.More}
	for _, t := range found.Tanks {
		row := view.FoundRow{Name: t.Name, Href: tankPath(t.ID), Quiet: joined(" · ", t.SiteName, t.Customer)}
		if s := tank.State(t.State); s != tank.Running {
			row.Word = strings.ToLower(s.Title())
		}
		if tank.State(t.State) != tank.Ended {
			row.Trouble = troublePath(t.ID)
		}
		body.Tanks = append(body.Tanks, row)
	}
	for _, c := range found.Customers {
		row := view.FoundCustomer{FoundRow: view.FoundRow{Name: c.Name, Href: customerPath(c.ID), Quiet: strings.Join(c.Phones, " · "), Trouble: customerPath(c.ID) + "/trouble"}}
		if c.Archived {
			row.Word = "archived"
		}
		for _, s := range c.Sites {
			site := view.FoundRow{Name: s.Name, Href: sitePath(s.ID), Quiet: joined(", ", s.Address, s.Town)}
			if s.Archived {
				site.Word = "archived"
			}
			row.Sites = append(row.Sites, site)
		}
		body.Customers = append(body.Customers, row)
	}
	if wantsJSON(r) {
		return p.json(w, r, http.StatusOK, searchAnswer(body))
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Search"}, view.SearchBody(body))
}

type jsonFound struct {
	Kind  string `json:"kind"`
	Name  string `json:"name"`
	Where string `json:"where"`
	Href  string `json:"href"`
}

func searchAnswer(s view.Search) map[string]any {
	all := []jsonFound{}
	for _, t := range s.Tanks {
		all = append(all, jsonFound{"tank", t.Name, t.Quiet, t.Href})
	}
	for _, c := range s.Customers {
		all = append(all, jsonFound{"customer", c.Name, c.Quiet, c.Href})
		for _, x := range c.Sites {
			all = append(all, jsonFound{"site", x.Name, x.Quiet, x.Href})
		}
	}
	return map[string]any{"found": all, "more": s.More}
}
