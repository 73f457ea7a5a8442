package web

import (
	"net/http"
	"net/url"
	"slices"

	"scaperound/domain/fault"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/static"
	"scaperound/web/view"
)

// openLink is the living link that a request's token stands for. Whoever holds
// none learns nothing, not even which part was wrong.
func openLink(r *http.Request, s *shell, links linkStore) (share.Link, error) {
	token := r.PathValue("token")
	nowhere := fault.New(fault.NotFound, "This link leads nowhere any more. Ask the shop for the new one.")
	id, ok := share.LinkOf(token)
	if !ok {
		return share.Link{}, nowhere
	}
	link, err := links.LinkByID(r.Context(), id)
	switch {
	case fault.Is(err, fault.NotFound):
		return share.Link{}, nowhere
	case err != nil:
		return share.Link{}, err
	case !s.cfg.LinkKey.Fits(token, link.ID, link.Generation) || !link.Open(s.cfg.Now()) || link.Tank == "":
		return share.Link{}, nowhere
	}
	return link, nil
}

// sheetPhotos are the names under which chosen photographs are posted, in their
// order on the sheet.
var sheetPhotos = []string{"left", "right"}

// printsAhead puts the photographs that were chosen onto a sheet that is still
// to be given, and offers the choice.
func (p visitPages) printsAhead(r *http.Request, d drafted, v *view.SheetAhead) error {
	all, err := p.cfg.Store.TankPhotos(r.Context(), d.rec.Tank)
	if err != nil {
		return err
	}
	before, err := p.cfg.Store.SheetPrints(r.Context(), d.given.ID)
	if err != nil {
		return err
	}
	var had []string
	for _, x := range before {
		if !x.Gone {
			had = append(had, x.Photo)
		}
	}
	chosen := had
	if asked := r.URL.Query(); asked.Has(sheetPhotos[0]) {
		chosen = chosenPhotos(asked)
	}
	v.Repicked = d.given.ID != "" && !slices.Equal(chosen, had)
	l := local(r)
	shown, choices := photoChoices(all, l)
	v.Choices = choices
	for _, id := range chosen {
		for _, one := range shown {
			if one.ID == id {
				v.Sheet.Prints = append(v.Sheet.Prints, sharedPrint(printOfSheet(one), photoPath(""), d.sheet.Tank, l))
				v.Chosen = append(v.Chosen, view.Pair{Name: sheetPhotos[len(v.Chosen)], Value: id})
			}
		}
	}
	v.Sheet.PrintStyle = static.Path("photo.css")
	return nil
}

func printOfSheet(one tank.Photo) share.Print {
	return share.Print{Photo: one.ID, TakenAt: one.TakenAt, Width: one.Width, Height: one.Height}
}

// chosenPhotos are the ids that were chosen for a sheet, without blanks and
// without the same one twice.
func chosenPhotos(values url.Values) []string {
	var out []string
	for _, name := range sheetPhotos {
		if id := values.Get(name); id != "" && (len(out) == 0 || out[0] != id) {
			out = append(out, id)
		}
	}
	return out
}

// printsGiven puts a given sheet's photographs onto it, at addresses that the
// reader may open: the link's own for whoever came by it.
func (p visitPages) printsGiven(r *http.Request, g share.Given, tankName string, l view.Local, v *view.Sheet) error {
	prints, err := p.cfg.Store.SheetPrints(r.Context(), g.ID)
	if err != nil {
		return err
	}
	below := photoPath("")
	if token := r.PathValue("token"); token != "" {
		below = "/s/" + token + "/photos/"
	}
	for _, x := range prints {
		v.Prints = append(v.Prints, sharedPrint(x, below, tankName, l))
	}
	if len(v.Prints) > 0 {
		v.PrintStyle = static.Path("photo.css")
	}
	return nil
}

// visitPrints puts a visit's photographs onto its page.
func (p visitPages) visitPrints(r *http.Request, tankID, visitID, name string, v *view.Visit) error {
	all, err := p.cfg.Store.TankPhotos(r.Context(), tankID)
	if err != nil {
		return err
	}
	v.Prints = ofVisit(all, visitID, name, local(r))
	v.PhotosHref = photosPath(tankID)
	v.AddPhoto = v.PhotosHref + "?visit=" + visitID + "#add"
	return nil
}
