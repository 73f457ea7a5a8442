package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"

	"rsc.io/qr"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
	"scaperound/static"
	"scaperound/web/view"
)

// linkStore keeps what leaves the house.
type linkStore interface {
	// TankLink is the tank's living link, made where there is none.
	TankLink(ctx context.Context, by, tank string) (share.Link, error)
	LinkByID(ctx context.Context, id string) (share.Link, error)
	RenewLink(ctx context.Context, by, tank string) error
	NoteOpen(ctx context.Context, link, sheet string) error
	SheetOfVisit(ctx context.Context, visit string) (share.Given, error)
	SheetsOfTank(ctx context.Context, tank string, limit int) ([]share.Given, error)
	GiveSheet(ctx context.Context, r share.Release) (share.Given, error)
}

// drafted is a sheet as it would be given now.
type drafted struct {
	rec        visit.Record
	evaluation care.Evaluation
	sheet      care.Sheet
	open       []tank.Problem
	given      share.Given // the one given last for this visit; zero for none
}

func (p visitPages) drafted(r *http.Request, id string) (drafted, error) {
	var d drafted
	var err error
	if d.rec, err = p.store.VisitByID(r.Context(), id); err != nil {
		return d, err
	}
	if d.evaluation, err = p.store.EvaluationOf(r.Context(), id); err != nil {
		return d, err
	}
	if d.given, err = p.links.SheetOfVisit(r.Context(), id); err != nil {
		return d, err
	}
	b, err := p.store.VisitBefore(r.Context(), d.rec.Tank, p.cfg.Now())
	if err != nil {
		return d, err
	}
	by, err := p.cfg.Store.Person(r.Context(), d.rec.Staff)
	if err != nil {
		return d, err
	}
	set := who(r).Shop
	f := care.SheetFor{Shop: set.Name, Phone: set.Phone, Tank: b.Setup.Name, Customer: b.Customer, By: by.Name, Units: set.Reads(say.System("")), Figures: set.ShowFigures}
	if d.given.ID != "" && d.given.Evaluation != d.evaluation.ID {
		f.Replaces.V, _ = onWall(local(r).Zone, d.given.GivenAt)
		f.Replaces.OK = true
	}
	d.sheet = care.MakeSheet(d.evaluation.Assessment, d.rec, f)
	problems, err := p.cfg.Store.TankProblems(r.Context(), d.rec.Tank)
	if err != nil {
		return d, err
	}
	d.open = openOnly(problems)
	d.sheet.Note = oneStory(d.open, d.sheet.Note)
	return d, nil
}

// sheet shows the sheet as the customer will read it, and the button that gives it.
func (p visitPages) sheet(w http.ResponseWriter, r *http.Request) error {
	d, err := p.drafted(r, r.PathValue("visit"))
	if err != nil {
		return err
	}
	v := view.SheetAhead{
		Sheet: sheetView(d.sheet, local(r), who(r).Shop), Action: "/visits/" + d.rec.Visit + "/sheet", Evaluation: d.evaluation.ID,
		Given: d.given.ID != "", Fresh: d.given.Evaluation != d.evaluation.ID, HeldFor: heldWords(d.evaluation.HeldFor),
		MayGive: d.evaluation.HeldFor == "" || who(r).Person.Role.May(staff.ReleaseHarsh),
	}
	v.Sheet.Draft, v.Open = true, problemRows(d.open)
	if err := p.printsAhead(r, d, &v); err != nil {
		return err
	}
	if v.Given {
		v.GivenOn = local(r).DayClock(d.given.GivenAt)
		link, err := p.links.TankLink(r.Context(), who(r).Person.ID, d.rec.Tank)
		if err != nil {
			return err
		}
		v.Link = p.sheetAddress(link)
	}
	return p.page(w, r, http.StatusOK, view.Frame{
		Title: "The sheet as the customer will read it", Lead: d.sheet.Tank + ", " + local(r).Day(d.rec.Day),
		Up: &view.Link{Label: "The visit", Href: "/visits/" + d.rec.Visit}, Styles: []string{static.Path("sheet.css"), static.Path("photo.css")},
	}, view.SheetAheadBody(v))
}

func heldWords(reason string) string {
	switch reason {
	case "":
		return ""
	case "death":
		return "an animal died"
	case "leak":
		return "there was a leak"
	case "damage":
		return "something was damaged"
	}
	return strings.ReplaceAll(reason, "_", " ")
}

// give freezes the sheet that was looked at and puts it behind the link.
func (p visitPages) give(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	d, err := p.drafted(r, r.PathValue("visit"))
	if err != nil {
		return err
	}
	if seen := values.Get("evaluation"); seen != d.evaluation.ID {
		return &fault.Error{Kind: fault.Conflict, Code: "judged-anew", Msg: "The visit was changed or judged anew since this sheet was drawn. Look at the new sheet, then give that."}
	}
	in := who(r)
	release := share.Release{
		Visit: d.rec.Visit, Evaluation: d.evaluation.ID, Document: string(wire.EncodeSheet(d.sheet)), Wire: fmt.Sprint(d.sheet.Version),
		By: in.Person.ID, Owner: in.Person.Role.May(staff.ReleaseHarsh), Photos: chosenPhotos(values),
	}
	if d.given.ID != "" && d.given.Evaluation != d.evaluation.ID {
		before, err := readSheet(d.given)
		if err != nil {
			return err
		}
		if care.DosesDiffer(before, d.sheet) {
			release.Phone = string(wire.EncodeTask(care.PhoneTask(before, d.sheet)))
		}
	}
	if _, err := p.links.GiveSheet(r.Context(), release); err != nil {
		return err
	}
	if _, err := p.links.TankLink(r.Context(), in.Person.ID, d.rec.Tank); err != nil {
		return err
	}
	notice := view.Notice{Text: "The sheet is given: it stands behind the customer’s link."}
	if release.Phone != "" {
		notice.Text += " It changes a dose, so the owner has a task: phone, the printed sheet is wrong."
	}
	return p.done(w, r, "/visits/"+d.rec.Visit+"/sheet", notice)
}

// renewLink ends every address of a tank's link that is about.
func (p visitPages) renewLink(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("tank")
	if err := p.links.RenewLink(r.Context(), who(r).Person.ID, id); err != nil {
		return err
	}
	return p.done(w, r, "/tanks/"+id, view.Notice{Text: "The old link leads nowhere any more. Print or send the new one."})
}

func (p visitPages) sheetAddress(l share.Link) string {
	return p.address("/s/" + p.cfg.LinkKey.Token(l.ID, l.Generation))
}

// printed is the newest given sheet of a visit's tank, for paper, with its code.
func (p visitPages) printed(w http.ResponseWriter, r *http.Request) error {
	g, err := p.links.SheetOfVisit(r.Context(), r.PathValue("visit"))
	if err != nil {
		return err
	}
	if g.ID == "" {
		return fault.New(fault.NotFound, "No sheet was given for this visit yet.")
	}
	link, err := p.links.TankLink(r.Context(), who(r).Person.ID, g.Tank)
	if err != nil {
		return err
	}
	return p.writeSheet(w, r, g, link, nil)
}

// writeSheet answers with a given sheet as a document of its own.
func (p visitPages) writeSheet(w http.ResponseWriter, r *http.Request, g share.Given, link share.Link, earlier []view.Link) error {
	s, err := readSheet(g)
	if err != nil {
		return err
	}
	set := who(r).Shop
	if set.Name == "" {
		if set, err = p.cfg.Store.Shop(r.Context()); err != nil {
			return err
		}
	}
	v := sheetView(s, localOf(set), set)
	v.Newer, v.Earlier, v.Link = g.Newer, earlier, p.sheetAddress(link)
	if err := p.printsGiven(r, g, s.Tank, localOf(set), &v); err != nil {
		return err
	}
	if v.QR, err = codeOf(v.Link); err != nil {
		return err
	}
	var b bytes.Buffer
	if err := view.SheetDocument(v).Render(r.Context(), &b); err != nil {
		return &fault.Error{Kind: fault.Internal, Err: err}
	}
	keptNowhere(w)
	w.Header().Set("X-Robots-Tag", "noindex, nofollow, noarchive")
	p.write(w, r, http.StatusOK, "text/html; charset=utf-8", b.Bytes())
	return nil
}

// codeOf draws an address as a QR code: one path of runs of dark modules.
func codeOf(address string) (view.QR, error) {
	code, err := qr.Encode(address, qr.M)
	if err != nil {
		return view.QR{}, &fault.Error{Kind: fault.Internal, Err: err}
	}
	const quiet = 4 // modules of margin that readers expect (ISO/IEC 18004)
	var b strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			if !code.Black(x, y) {
				continue
			}
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
		}
	}
	return view.QR{Path: b.String(), Size: code.Size + 2*quiet}, nil
}
