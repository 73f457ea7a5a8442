package demoshop

import (
	"context"
	"net/url"
	"slices"
	"strconv"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/domain/wire"
)

// The tanks that the demo points at: one where something is going on, and one
// that is well.
const (
	firstLook  = "The bar"
	secondLook = "Reception"
)

// finish hands out the newest care sheets and makes the links, but for those
// that wait for the owner and a few that nobody has released yet.
func (l *loader) finish(ctx context.Context, made []madeTank) (Made, error) {
	var out Made
	prints, err := l.photos(ctx, made)
	if err != nil {
		return out, err
	}
	for i, m := range made {
		if m.newestVisit == "" || i%9 == 7 {
			continue
		}
		var on []string
		if tanks[i].name == firstLook {
			on = prints
		}
		if err := l.give(ctx, m, tanks[i], on); err != nil {
			return out, err
		}
	}
	one, two := indexOf(firstLook), indexOf(secondLook)
	out.Tank, out.Tank2, out.Tank2Name = made[one].id, made[two].id, tanks[two].name
	link, err := l.db.TankLink(ctx, l.owner, out.Tank)
	if err != nil {
		return out, err
	}
	key := l.req.LinkKey
	out.Link = "/s/" + url.PathEscape(key.Token(link.ID, link.Generation))
	out.Print = out.Link + "/print"
	return out, nil
}

func indexOf(name string) int {
	return slices.IndexFunc(tanks, func(t tankSpec) bool { return t.name == name })
}

// give releases the newest sheet of a tank with photographs on it, as the
// technician does on leaving.
func (l *loader) give(ctx context.Context, m madeTank, spec tankSpec, photos []string) error {
	e, err := l.db.EvaluationOf(ctx, m.newestVisit)
	if err != nil || e.HeldFor != "" {
		return err
	}
	rec, err := l.db.VisitByID(ctx, m.newestVisit)
	if err != nil {
		return err
	}
	by := l.req.Staff[slices.IndexFunc(l.req.Staff, func(p staff.Person) bool { return p.ID == rec.Staff })]
	shop := Settings()
	doc := care.MakeSheet(e.Assessment, rec, care.SheetFor{Shop: shop.Name, Phone: shop.Phone, Tank: spec.name, Customer: places[spec.place].customer, By: by.Name,
		Units: say.Units{System: shop.Units, Decimal: '.'}, Figures: shop.ShowFigures})
	_, err = l.db.GiveSheet(ctx, share.Release{Visit: m.newestVisit, Evaluation: e.ID, Document: string(wire.EncodeSheet(doc)), Wire: strconv.Itoa(care.SheetVersion), By: by.ID, Photos: photos})
	return err
}
