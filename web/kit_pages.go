package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

// kitPages are the shop's kits and meters.
type kitPages struct {
	*shell
	store  kitStore
	people peopleStore
}

func kitPath(id string) string { return "/kits/" + id }

// soonDays is how long before its date a lot is named: time enough to buy one.
const soonDays = 30

func (p kitPages) list(w http.ResponseWriter, r *http.Request) error {
	kits, err := p.store.Kits(r.Context())
	if err != nil {
		return err
	}
	today := p.today(r)
	body := view.KitList{New: view.Link{Label: "New kit or meter", Href: "/kits/new"}, CanEdit: isOwner(r)}
	for _, k := range kits {
		row := view.KitRow{Name: k.Name, Href: kitPath(k.ID), Measures: kindTitle(k.Measures), Type: tank.TitleIn(tank.InstrumentTypes, string(k.Type)), Archived: k.Archived}
		switch n := len(k.Lots); {
		case k.Archived:
		case n == 0:
			row.Lots = "none in use"
		default:
			row.Lots = plural(n, "in use", "in use")
		}
		for _, l := range k.Lots {
			if word, urgent := lotWord(l, today); word != "" && !k.Archived {
				row.Word, row.Urgent = "lot "+l.Lot+" "+word, urgent
			}
		}
		body.Kits = append(body.Kits, row)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Kits and meters", Lead: "Each reading names the lot it was taken with."}, view.KitListBody(body))
}

// lotWord says that a lot has expired or soon will.
func lotWord(l tank.Lot, today q.Date) (word string, urgent bool) {
	switch {
	case !l.Expires.OK || l.Retired.OK:
		return "", false
	case today > l.Expires.V:
		return "has expired", true
	case today > l.Expires.V-soonDays:
		return "expires in " + plural(int(l.Expires.V-today), "day", "days"), false
	}
	return "", false
}

func (p kitPages) show(w http.ResponseWriter, r *http.Request) error {
	return p.drawKit(w, r, nil, url.Values{"opened": {p.today(r).String()}, "keeper": {who(r).Person.ID}})
}

func (p kitPages) drawKit(w http.ResponseWriter, r *http.Request, fault error, values url.Values) error {
	k, err := p.store.Kit(r.Context(), r.PathValue("kit"))
	if err != nil {
		return err
	}
	people, err := p.keepers(r.Context())
	if err != nil {
		return err
	}
	units, when, today := reads(r), local(r), p.today(r)
	body := view.KitPage{Facts: kitFacts(k, units), Unit: k.Unit.Sign(), LotAction: kitPath(k.ID) + "/lots", People: people, CanEdit: isOwner(r), Archived: k.Archived}
	body.Archive = view.Post{Label: "Take out of use", Action: kitPath(k.ID) + "/archive", Quiet: true}
	if k.Archived {
		body.Archive = view.Post{Label: "Use it again", Action: kitPath(k.ID) + "/restore"}
	}
	for _, l := range k.Lots {
		body.Lots = append(body.Lots, lotBlock(k, l, units, when, today))
	}
	frame := view.Frame{Title: k.Name, Lead: kindTitle(k.Measures), Up: &view.Link{Label: "Kits and meters", Href: "/kits"}}
	draw := func(f view.Form) (view.Frame, templ.Component) { body.Form = f; return frame, view.KitBody(body) }
	if fault != nil {
		return p.again(w, r, fault, values, draw)
	}
	frame, page := draw(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, page)
}

func lotBlock(k tank.Kit, l tank.Lot, units say.Units, when view.Local, today q.Date) view.LotBlock {
	b := view.LotBlock{
		Lot: l.Lot, Keeper: l.KeeperName, Retired: l.Retired.OK, CheckAction: "/lots/" + l.ID + "/checks?kit=" + k.ID,
		Against: tank.CheckField(l.ID, "against"), Read: tank.CheckField(l.ID, "read"), Calibrated: tank.CheckField(l.ID, "calibrated"),
		Retire: view.Post{Label: "Used up", Action: "/lots/" + l.ID + "/retire", Hidden: []view.Pair{{Name: "kit", Value: k.ID}}, Quiet: true},
	}
	if l.Retired.OK {
		b.Retire = view.Post{Label: "Still in use", Action: "/lots/" + l.ID + "/bring-back", Hidden: []view.Pair{{Name: "kit", Value: k.ID}}, Quiet: true}
	}
	if b.Keeper == "" {
		b.Keeper = "at the shop"
	}
	if l.Opened.OK {
		b.Opened = when.Day(l.Opened.V)
	}
	if l.Expires.OK {
		b.Expires = when.Day(l.Expires.V)
	}
	b.Word, b.Urgent = lotWord(l, today)
	for _, c := range l.Checks {
		line := view.CheckLine{When: when.DayOf(c.At), Author: c.Author, Calibrated: c.Calibrated,
			Against: joinSpace(say.Number(c.Against, decimalsOf(k), units), k.Unit.Sign()), Read: joinSpace(say.Number(c.Read, decimalsOf(k), units), k.Unit.Sign()),
			Off: say.Number(c.Off(), decimalsOf(k), units)}
		if c.Off() > 0 {
			line.Off = "+" + line.Off
		}
		b.Checks = append(b.Checks, line)
	}
	return b
}

// decimalsOf is how many digits a kit's own values are shown with.
func decimalsOf(k tank.Kit) int {
	m, _ := q.MeasureOf(k.Measures)
	if k.Unit != m.Unit {
		return 2
	}
	return m.Decimals
}

func kitFacts(k tank.Kit, units say.Units) []view.Fact {
	number := func(o q.Opt[float64]) string {
		if !o.OK {
			return ""
		}
		return joinSpace(plainText(o.V, units), k.Unit.Sign())
	}
	out := []view.Fact{{Name: "Read by", Text: tank.TitleIn(tank.InstrumentTypes, string(k.Type))}}
	add := func(name, text string) {
		if text != "" {
			out = append(out, view.Fact{Name: name, Text: text})
		}
	}
	step := "Last digit"
	if k.Type == tank.Drops {
		step = "One drop means"
	}
	add(step, number(k.Step))
	add("Spread", number(k.SD))
	add("Tells from nothing", number(k.Floor))
	add("Sample", amount(k.SampleML, q.ML, 0, units))
	if len(k.Classes) > 0 {
		var labels []string
		for _, c := range k.Classes {
			labels = append(labels, plainText(c.Label, units))
		}
		add("Colours", joinSpace(strings.Join(labels, " · "), k.Unit.Sign()))
	}
	return out
}

// plainText writes a number with no more decimals than it needs.
func plainText(v float64, units say.Units) string {
	s := say.Number(v, 3, units)
	if strings.ContainsAny(s, ".,") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".,")
	}
	return s
}

func (p kitPages) keepers(ctx context.Context) ([]view.Option, error) {
	people, err := p.people.People(ctx)
	out := []view.Option{{Label: "At the shop"}}
	for _, x := range people {
		if !x.Deactivated {
			out = append(out, view.Option{Value: x.ID, Label: x.Name})
		}
	}
	return out, err
}

func (p kitPages) drawNew(f view.Form) (view.Frame, templ.Component) {
	body := view.KitNew{Form: f, Kinds: kindChoices(tank.KitKinds), Types: choices(tank.InstrumentTypes), Units: []view.Option{{Label: "The usual one"}}}
	seen := map[q.Unit]bool{}
	for _, k := range tank.KitKinds {
		for _, u := range q.UnitsFor(k) {
			if !seen[u] {
				seen[u] = true
				label := u.Sign()
				if label == "" {
					label = string(u)
				}
				body.Units = append(body.Units, view.Option{Value: string(u), Label: label})
			}
		}
	}
	return view.Frame{Title: "New kit or meter", Up: &view.Link{Label: "Kits and meters", Href: "/kits"}}, view.KitNewBody(body)
}

func (p kitPages) fresh(w http.ResponseWriter, r *http.Request) error {
	frame, body := p.drawNew(view.Form{Values: url.Values{}})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p kitPages) make(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	k := tank.ParseKit(f)
	var id string
	if err = f.Faults.Err(); err == nil {
		id, err = p.first(p.store.MakeKit(p.once(r, values), who(r).Person.ID, k))
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawNew)
	}
	return p.done(w, r, kitPath(id), view.Notice{Text: k.Name + " is made. Readings name a lot: add the first one."})
}

func (p kitPages) addLot(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	l := tank.ParseLot(f, r.PathValue("kit"))
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.store.KeepLot(p.once(r, values), who(r).Person.ID, l))
	}
	if err != nil {
		return p.drawKit(w, r, err, values)
	}
	return p.done(w, r, kitPath(l.Kit), view.Notice{Text: "Lot " + l.Lot + " is in use."})
}

// check keeps a check of a lot; the kit that it belongs to is named in the
// address, so that the page can be drawn anew.
func (p kitPages) check(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	r.SetPathValue("kit", r.URL.Query().Get("kit"))
	k, err := p.store.Kit(r.Context(), r.PathValue("kit"))
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	c := tank.ParseMeterCheck(f, k, r.PathValue("lot"))
	c.At = p.cfg.Now().UTC()
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.store.RecordMeterCheck(p.once(r, values), who(r).Person.ID, c))
	}
	if err != nil {
		return p.drawKit(w, r, err, values)
	}
	return p.done(w, r, kitPath(k.ID), view.Notice{Text: "The check is written down."})
}

func (p kitPages) retire(retired bool) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		values, err := p.form(r)
		if err != nil {
			return err
		}
		lot := r.PathValue("lot")
		if err := p.store.RetireLot(r.Context(), who(r).Person.ID, lot, retired); err != nil {
			return err
		}
		n := view.Notice{Text: "The lot is in use again."}
		if retired {
			n = view.Notice{Text: "The lot is used up. Readings taken with it keep naming it.",
				Undo: &view.Post{Label: "Undo", Action: "/lots/" + lot + "/bring-back", Hidden: []view.Pair{{Name: "kit", Value: values.Get("kit")}}}}
		}
		return p.done(w, r, "/kits/"+url.PathEscape(values.Get("kit")), n)
	}
}

func (p kitPages) archive(archived bool) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		id := r.PathValue("kit")
		if err := p.store.ArchiveKit(r.Context(), who(r).Person.ID, id, archived); err != nil {
			return err
		}
		n := view.Notice{Text: "It is in use again."}
		if archived {
			n = view.Notice{Text: "It is out of use. Readings taken with it keep naming it.", Undo: &view.Post{Label: "Undo", Action: kitPath(id) + "/restore"}}
		}
		return p.done(w, r, kitPath(id), n)
	}
}
