package web

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

var changeTitles = map[string]string{
	"state": "State", "site": "Stands at", "agreement": "Agreement", "share": "The customer does",
	"source": "Change water", "profile": "Target profile", "dosing": "Dosing", "setup": "Set-up",
}

var changePaths = map[string]string{"source": "/sources/", "profile": "/profiles/", "site": "/sites/"}

// history shows each change of a tank, since when it is true and who wrote it.
func (p tankPages) history(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	changes, err := p.store.TankHistory(r.Context(), c.ID)
	if err != nil {
		return err
	}
	setups, err := p.store.SetupVersions(r.Context(), c.ID)
	if err != nil {
		return err
	}
	for i, v := range setups {
		var older tank.Setup
		if i+1 < len(setups) {
			older = setups[i+1].Setup
		}
		changes = append(changes, tank.Change{Dated: v.Dated, What: "setup", Now: setupChange(v.Setup, older, i+1 < len(setups), reads(r))})
	}
	slices.SortStableFunc(changes, func(a, b tank.Change) int {
		if by := b.Since.Compare(a.Since); by != 0 {
			return by
		}
		return cmp.Or(b.Recorded.Compare(a.Recorded), cmp.Compare(a.What, b.What))
	})
	body := view.TankHistory{}
	for _, x := range changes {
		line := view.ChangeLine{What: changeTitles[x.What], Now: x.Now, Since: local(r).DayOf(x.Since), Author: x.Author}
		if x.What == "state" {
			line.Now = tank.State(x.Now).Title()
		}
		if line.Now == "" {
			line.Now = "Nothing"
		}
		if written := local(r).DayOf(x.Recorded); written != line.Since {
			line.Written = written
		}
		if base := changePaths[x.What]; x.Other != "" && p.hasPage(base+"{"+strings.Trim(base, "/s")+"}") {
			line.Href = base + x.Other
		}
		body.Changes = append(body.Changes, line)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "History", Lead: "What the tank is, and since when. Visits are judged by what held at their time.",
		Up: &view.Link{Label: c.Name, Href: tankPath(c.ID)}}, view.TankHistoryBody(body))
}

// setupChange says in which facts a set-up differs from the one before it.
func setupChange(now, before tank.Setup, had bool, units say.Units) string {
	if !had {
		return "First written down"
	}
	was := map[string]string{}
	for _, f := range setupFacts(before, units) {
		was[f.Name] = f.Text
	}
	var parts []string
	for _, f := range setupFacts(now, units) {
		if old, there := was[f.Name]; !there {
			parts = append(parts, f.Name+": "+f.Text)
		} else if old != f.Text {
			parts = append(parts, f.Name+": "+f.Text+" (was "+old+")")
		}
		delete(was, f.Name)
	}
	for _, f := range setupFacts(before, units) {
		if _, gone := was[f.Name]; gone {
			parts = append(parts, f.Name+": no longer said (was "+f.Text+")")
		}
	}
	if len(parts) == 0 {
		return "Written down again"
	}
	return strings.Join(parts, "; ")
}
