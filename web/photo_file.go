package web

import (
	"encoding/hex"
	"net/http"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/web/photo"
	"scaperound/web/view"
)

// smallPrint is how the small print is asked for.
const smallPrint = "?print=small"

// file answers staff with a print of a photograph.
func (p photoPages) file(w http.ResponseWriter, r *http.Request) error {
	one, err := p.store.Photo(r.Context(), r.PathValue("photo"))
	if err != nil {
		return err
	}
	return p.writePrint(w, r, one)
}

// fileByLink answers whoever holds a tank's link with a print that is on one of
// its sheets, and with no other.
func (p photoPages) fileByLink(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	w.Header().Set("X-Robots-Tag", "noindex, nofollow, noarchive")
	nowhere := fault.New(fault.NotFound, "There is no such photograph behind this link.")
	link, err := openLink(r, p.shell, p.links)
	if err != nil {
		return err
	}
	id := r.PathValue("photo")
	shared, err := p.store.PrintShared(r.Context(), link.Tank, id)
	if err != nil {
		return err
	}
	if !shared {
		return nowhere
	}
	one, err := p.store.Photo(r.Context(), id)
	if err != nil {
		return err
	}
	return p.writePrint(w, r, one)
}

func (p photoPages) writePrint(w http.ResponseWriter, r *http.Request, one tank.Photo) error {
	if one.Withdrawn || one.Erased {
		return fault.New(fault.NotFound, "This photograph was taken back.")
	}
	small := r.URL.Query().Get("print") == "small"
	tag := `"` + hex.EncodeToString(one.SHA256[:min(12, len(one.SHA256))]) + `"`
	if small {
		tag = strings.TrimSuffix(tag, `"`) + `s"`
	}
	w.Header().Set("ETag", tag)
	if strings.Contains(r.Header.Get("If-None-Match"), tag) {
		w.Header().Add("Vary", "Accept, Cookie")
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	file, err := p.store.PhotoPrint(r.Context(), one.ID, small)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Disposition", `inline; filename="photograph `+one.TakenAt.Format("2006-01-02")+`.jpg"`)
	p.write(w, r, http.StatusOK, "image/jpeg", file)
	return nil
}

// withdraw takes a photograph back, or brings it back again.
func (p photoPages) withdraw(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	one, err := p.store.Photo(r.Context(), r.PathValue("photo"))
	if err != nil {
		return err
	}
	back := values.Get("back") == "1"
	if err := p.store.WithdrawPhoto(r.Context(), who(r).Person.ID, isOwner(r), one.ID, !back); err != nil {
		return err
	}
	n := view.Notice{Text: "The photograph is taken back. A sheet that bears it shows it no more.", Undo: &view.Post{Label: "Undo", Action: photoPath(one.ID) + "/withdraw", Hidden: []view.Pair{{Name: "back", Value: "1"}}}}
	if back {
		n = view.Notice{Text: "The photograph is back."}
	}
	return p.done(w, r, photosPath(one.Tank), n)
}

// printOf is a photograph as staff see it.
func printOf(one tank.Photo, tankName string, l view.Local) view.Print {
	v := printAt(photoPath(one.ID), one.Width, one.Height)
	v.ID, v.Purpose = one.ID, string(one.Purpose)
	v.Day, v.Clock, v.What, v.By = l.DayOf(one.TakenAt), l.Clock(one.TakenAt), one.Purpose.Title(), one.StaffName
	v.Alt = v.Day + ": " + strings.ToLower(v.What[:1]) + v.What[1:]
	if tankName != "" {
		v.Alt = tankName + ", " + v.Alt
	}
	if one.VisitHere {
		v.Visit = "/visits/" + one.Visit
	}
	return v
}

// sharedPrint is a photograph on a sheet, behind the address that its reader
// may open.
func sharedPrint(x share.Print, below, tankName string, l view.Local) view.Print {
	v := printAt(below+x.Photo, x.Width, x.Height)
	v.Day, v.Gone = l.DayOf(x.TakenAt), x.Gone
	v.Alt = tankName + ", " + v.Day
	return v
}

func printAt(href string, width, height int) view.Print {
	v := view.Print{Href: href, Small: href + smallPrint, Width: width, Height: height, SmallWidth: width}
	if long := max(width, height); long > photo.SmallEdge {
		v.SmallWidth = max(1, width*photo.SmallEdge/long)
	}
	return v
}
