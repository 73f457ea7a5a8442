package web

import (
	"net/http"

	"scaperound/domain/visit"
)

// ownDays is how many days back a person's own visits can be read without a
// signal.
const ownDays = 7

// onBoard lists what a tablet takes along for the day: addresses of pages, of
// pages that hold how to get in, and of what is needed to judge.
type onBoard struct {
	Person  string      `json:"person"`
	Day     string      `json:"day"`
	Until   int64       `json:"until"` // end of the shop's day, milliseconds since 1970
	Pages   []string    `json:"pages"`
	Private []string    `json:"private"`
	Boards  []string    `json:"boards"`
	Files   []string    `json:"files"`
	Whole   int         `json:"whole"`
	Light   []lightTank `json:"light"`
}

// lightTank is what is known of a tank that is not planned for.
type lightTank struct {
	Name  string `json:"name"`
	Where string `json:"where"`
	Href  string `json:"href"`
}

func (p roundPages) onBoard(w http.ResponseWriter, r *http.Request) error {
	in, l, now := who(r), local(r), p.cfg.Now()
	today, _ := onWall(l.Zone, now)
	end := wall(l.Zone, today.Add(1), 0)
	b := onBoard{Person: in.Person.ID, Day: today.String(), Until: end.UnixMilli(), Pages: []string{"/"}, Private: []string{}, Boards: []string{}, Files: []string{}, Light: []lightTank{}}
	whole := map[string]bool{}
	take := func(tank string) {
		if whole[tank] {
			return
		}
		whole[tank] = true
		b.Pages = append(b.Pages, "/tanks/"+tank, newVisitPath(tank))
		b.Boards = append(b.Boards, boardPath(tank))
	}
	stops, err := p.round.StopsOf(r.Context(), in.Person.ID, wall(l.Zone, today.Add(-ownDays), 0), end)
	if err != nil {
		return err
	}
	for _, s := range stops {
		here := s.Outcome == visit.UnderWay
		if here {
			b.Private = append(b.Private, "/stops/"+s.ID)
		}
		for _, t := range s.Tanks {
			if here {
				take(t.ID)
			}
			if t.Visit != "" {
				b.Pages = append(b.Pages, "/visits/"+t.Visit)
			}
		}
	}
	due, err := p.round.DueTanks(r.Context(), today.Add(aheadDays), dueShown)
	if err != nil {
		return err
	}
	sites := map[string]bool{}
	for _, d := range due {
		if d.Preferred != "" && d.Preferred != in.Person.ID {
			continue
		}
		take(d.Tank)
		if !sites[d.Site] {
			sites[d.Site] = true
			b.Pages = append(b.Pages, "/sites/"+d.Site)
			b.Private = append(b.Private, "/sites/"+d.Site+"/access")
		}
	}
	b.Whole = len(whole)
	others, err := p.cfg.Store.TankNames(r.Context(), "")
	if err != nil {
		return err
	}
	for _, t := range others {
		b.Light = append(b.Light, lightTank{Name: t.Name, Where: joined(", ", t.SiteName, t.CustomerName), Href: newVisitPath(t.ID)})
	}
	if exec, wasm := browserBuild(); exec != "" {
		b.Files = append(b.Files, exec, wasm)
	}
	return p.json(w, r, http.StatusOK, b)
}

func newVisitPath(tank string) string { return "/tanks/" + tank + "/visits/new" }
