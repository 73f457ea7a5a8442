package web

import (
	"net/http"

	"scaperound/domain/fault"
	"scaperound/domain/share"
	"scaperound/web/view"
)

// sheetsKept is how many sheets a link lists.
const sheetsKept = 26

// byLink shows the newest sheet given for the link's tank, or an earlier one by
// its number.
func (p visitPages) byLink(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	link, err := openLink(r, p.shell, p.links)
	if err != nil {
		return err
	}
	sheets, err := p.links.SheetsOfTank(r.Context(), link.Tank, sheetsKept)
	if err != nil {
		return err
	}
	sheets = newestOfEach(sheets)
	if len(sheets) == 0 {
		return fault.New(fault.NotFound, "There is no sheet behind this link yet. It appears here as soon as the shop has given it.")
	}
	shown := 0
	if asked := r.URL.Query().Get("sheet"); asked != "" {
		shown = -1
		for i, s := range sheets {
			if s.ID == asked {
				shown = i
			}
		}
		if shown < 0 {
			return fault.New(fault.NotFound, "This link leads nowhere any more. Ask the shop for the new one.")
		}
	}
	set, err := p.cfg.Store.Shop(r.Context())
	if err != nil {
		return err
	}
	var others []view.Link
	for i, s := range sheets {
		doc, err := readSheet(s)
		if err != nil {
			continue // the others can be read
		}
		l := view.Link{Label: localOf(set).Day(doc.Day), Href: r.URL.Path + "?sheet=" + s.ID, Here: i == shown}
		if i == 0 {
			l.Label, l.Href = l.Label+" (the newest)", r.URL.Path
		}
		others = append(others, l)
	}
	if len(others) < 2 {
		others = nil
	}
	if err := p.links.NoteOpen(r.Context(), link.ID, sheets[shown].ID); err != nil {
		p.log.WarnContext(r.Context(), "that a sheet was opened was not noted", "request", note(r).id, "error", err)
	}
	return p.writeSheet(w, r, sheets[shown], link, others)
}

// newestOfEach leaves of each visit's sheets the one given last: what it
// replaces is wrong and is read no more.
func newestOfEach(sheets []share.Given) []share.Given {
	seen := map[string]bool{}
	var out []share.Given
	for _, s := range sheets {
		if !seen[s.Visit] {
			seen[s.Visit] = true
			out = append(out, s)
		}
	}
	return out
}
