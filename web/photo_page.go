package web

import (
	"net/http"
	"net/url"

	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// photoScripts send the photographs of this device, on pages that have no form
// of a visit.
func photoScripts() []string {
	return []string{static.Path("outbox.js"), static.Path("photo_queue.js"), static.Path("photo_take.js")}
}

// show shows a tank's photographs: two dated prints side by side, a form for
// another one, and all of them.
func (p photoPages) show(w http.ResponseWriter, r *http.Request) error {
	values := url.Values{}
	if v := r.URL.Query().Get("visit"); visit.IsID(v) {
		values.Set("visit", v)
	}
	return p.draw(w, r, http.StatusOK, view.Form{Values: values})
}

func (p photoPages) draw(w http.ResponseWriter, r *http.Request, status int, f view.Form) error {
	id := r.PathValue("tank")
	card, err := p.cfg.Store.TankCard(r.Context(), id)
	if err != nil {
		return err
	}
	all, err := p.store.TankPhotos(r.Context(), id)
	if err != nil {
		return err
	}
	l := local(r)
	v := view.Photos{Form: f, Action: photosPath(id), TankName: card.Name}
	if f.Values.Get("purpose") == "" {
		f.Values.Set("purpose", string(tank.PhotoOfTank))
	}
	v.Hidden = []view.Pair{{Name: "photo", Value: newID(p.cfg.Now())}, {Name: "staff", Value: who(r).Person.ID}, {Name: "visit", Value: f.Values.Get("visit")}}
	v.OfVisit = f.Values.Get("visit") != ""
	for _, x := range tank.PhotoPurposes {
		v.Purposes = append(v.Purposes, view.Option{Value: string(x.ID), Label: x.Title, Hint: x.Hint})
	}
	for _, one := range all {
		x := printOf(one, "", l)
		if one.Staff == who(r).Person.ID || isOwner(r) {
			x.Remove = &view.Post{Label: "Take it back", Action: photoPath(one.ID) + "/withdraw", Quiet: true}
		}
		v.All = append(v.All, x)
	}
	v.Pair = dated(all, r.URL.Query(), card.Name, l)
	return p.page(w, r, status, view.Frame{
		Title: "Photographs", Lead: dotted(card.Name, card.SiteName), Up: &view.Link{Label: card.Name, Href: tankPath(id)},
		Scripts: photoScripts(), Styles: []string{static.Path("photo.css")},
	}, view.PhotosBody(v))
}

// dated is two dated prints side by side: those asked for, else the first and
// the newest.
func dated(all []tank.Photo, asked url.Values, tankName string, l view.Local) view.PrintPair {
	var v view.PrintPair
	shown, choices := photoChoices(all, l)
	v.Choices = choices
	if len(shown) == 0 {
		return v
	}
	pick := func(name string, or tank.Photo) tank.Photo {
		for _, one := range shown {
			if one.ID == asked.Get(name) {
				return one
			}
		}
		return or
	}
	left, right := pick("left", shown[len(shown)-1]), pick("right", shown[0])
	v.Left, v.Right = left.ID, right.ID
	v.Prints = []view.Print{printOf(left, tankName, l)}
	if right.ID != left.ID {
		v.Prints = append(v.Prints, printOf(right, tankName, l))
	}
	return v
}

// photoChoices offers the photographs that show the tank, the newest first. The
// day is enough where there are not two alike.
func photoChoices(all []tank.Photo, l view.Local) (shown []tank.Photo, out []view.Option) {
	short := map[tank.PhotoPurpose]string{tank.PhotoBefore: ", before", tank.PhotoAfter: ", after"}
	times := map[string]int{}
	for _, one := range all {
		if one.Purpose.Shows() {
			text := l.DayOf(one.TakenAt) + short[one.Purpose]
			times[text]++
			shown, out = append(shown, one), append(out, view.Option{Value: one.ID, Label: text})
		}
	}
	for i, o := range out {
		if times[o.Label] > 1 {
			out[i].Label = l.DayClock(shown[i].TakenAt) + short[shown[i].Purpose]
		}
	}
	return shown, out
}

// tankPhotos is what a tank's own page shows of its photographs.
func (p tankPages) tankPhotos(r *http.Request, id, name string, body *view.TankPage) error {
	all, err := p.cfg.Store.TankPhotos(r.Context(), id)
	if err != nil {
		return err
	}
	l := local(r)
	body.PhotosHref = photosPath(id)
	body.Prints = dated(all, nil, name, l).Prints
	body.Cabinet = cabinetOf(all, name, l)
	return nil
}

// cabinetOf is the newest photograph of a tank's cabinet; nil where there is none.
func cabinetOf(all []tank.Photo, name string, l view.Local) *view.Print {
	for _, one := range all {
		if one.Purpose == tank.PhotoCabinet {
			v := printOf(one, name, l)
			return &v
		}
	}
	return nil
}

// ofVisit are the photographs of one visit in the order in which they were taken.
func ofVisit(all []tank.Photo, visitID, name string, l view.Local) []view.Print {
	var out []view.Print
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].Visit == visitID {
			out = append(out, printOf(all[i], name, l))
		}
	}
	return out
}

// withPhotos puts what there is of photographs onto a visit's form. A visit can
// be written down without them, so what goes wrong here is only logged.
func (p visitPages) withPhotos(r *http.Request, v *view.VisitForm) {
	v.Photos = photosPath(v.Tank)
	all, err := p.cfg.Store.TankPhotos(r.Context(), v.Tank)
	if err != nil {
		p.log.WarnContext(r.Context(), "a visit's form goes without photographs", "request", note(r).id, "error", err)
		return
	}
	if c := cabinetOf(all, v.TankName, local(r)); c != nil {
		v.Photo = &view.VisitPicture{Href: c.Small, Says: c.Alt, Large: c.Href}
	}
	v.Taken = ofVisit(all, v.Values.Get("visit"), v.TankName, local(r))
}
