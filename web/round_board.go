package web

import (
	"net/http"

	"scaperound/domain/visit"
	"scaperound/static"
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
	As      string      `json:"as"` // this moment by the shop's clock, in words
	Light   []lightTank `json:"light"`
	Own     []ownVisit  `json:"own"`
	Build   string      `json:"build"` // changes with every script and style
}

// lightTank is what is taken along of every tank, planned for or not: its name,
// the form of a visit and what judging one needs.
type lightTank struct {
	Name  string `json:"name"`
	Where string `json:"where"`
	Href  string `json:"href"`
	Board string `json:"board"`
}

// ownVisit is a visit that the person made lately.
type ownVisit struct {
	Name string `json:"name"`
	When string `json:"when"`
	Href string `json:"href"`
}

func (p roundPages) onBoard(w http.ResponseWriter, r *http.Request) error {
	in, l, now := who(r), local(r), p.cfg.Now()
	today, _ := onWall(l.Zone, now)
	end := wall(l.Zone, today.Add(1), 0)
	b := onBoard{Person: in.Person.ID, Day: today.String(), Until: end.UnixMilli(), Pages: []string{"/"}, Private: []string{}, Boards: []string{}, Files: []string{}, Light: []lightTank{}, Own: []ownVisit{}, Build: static.Sum(), As: l.DayClock(now)}
	whole := map[string]bool{}
	take := func(tank string) {
		if whole[tank] {
			return
		}
		whole[tank] = true
		b.Pages = append(b.Pages, "/tanks/"+tank, newVisitPath(tank))
		b.Boards = append(b.Boards, boardPath(tank))
	}
	since := wall(l.Zone, today.Add(-ownDays), 0)
	stops, err := p.round.StopsOf(r.Context(), in.Person.ID, since, end)
	if err != nil {
		return err
	}
	for _, s := range stops {
		if s.Outcome != visit.UnderWay {
			continue
		}
		b.Private = append(b.Private, "/stops/"+s.ID)
		for _, t := range s.Tanks {
			take(t.ID)
		}
	}
	own, err := p.round.OwnVisits(r.Context(), in.Person.ID, since)
	if err != nil {
		return err
	}
	for _, v := range own {
		b.Own = append(b.Own, ownVisit{Name: v.Tank, When: l.DayClock(v.Performed), Href: "/visits/" + v.Visit})
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
		b.Light = append(b.Light, lightTank{Name: t.Name, Where: joined(", ", t.SiteName, t.CustomerName), Href: newVisitPath(t.ID), Board: boardPath(t.ID)})
	}
	if exec, wasm := browserBuild(); exec != "" {
		b.Files = append(b.Files, exec, wasm)
	}
	return p.json(w, r, http.StatusOK, b)
}

func newVisitPath(tank string) string { return "/tanks/" + tank + "/visits/new" }
