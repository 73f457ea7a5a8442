package web

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// packets is the form of how the tanks of a site are fed while nobody is there.
func (p sitePages) packets(w http.ResponseWriter, r *http.Request) error {
	a, s, tanks, err := p.awayTanks(r)
	if err != nil {
		return err
	}
	if a.Off {
		http.Redirect(w, r, "/away/"+a.ID, http.StatusSeeOther)
		return nil
	}
	kept, err := p.store.AwayPackets(r.Context(), a.ID)
	if err != nil {
		return err
	}
	frame, body := p.drawPackets(r, a, s, tanks, kept, packetsVersion(kept))(view.Form{Values: valuesOf(packetsTyped(kept, reads(r)))})
	return p.page(w, r, http.StatusOK, frame, body)
}

// packetsTyped is what was settled, as its form says it.
func packetsTyped(kept []customer.Packets, units say.Units) map[string]string {
	out := map[string]string{}
	for _, x := range kept {
		set := func(name, text string) { out[customer.PacketField(x.Tank, name)] = text }
		set("every", strconv.Itoa(x.EveryDays))
		set("grams", typed.SmallMass.Show(typed.Float(x.Grams), units))
		set("feeder", map[bool]string{true: "on"}[x.Feeder])
		set("tried", "")
		if x.FeederTried.OK {
			set("tried", x.FeederTried.V.String())
		}
		set("note", x.Note)
	}
	return out
}

// packetsVersion names the moment at which the newest of them was settled.
func packetsVersion(kept []customer.Packets) int {
	newest := 0
	for _, x := range kept {
		newest = max(newest, int(x.At.UnixMicro()))
	}
	return newest
}

// awayTanks are the tanks that somebody must feed in an absence.
func (p sitePages) awayTanks(r *http.Request) (a customer.Away, s customer.Site, tanks []customer.TankLine, err error) {
	if a, s, err = p.awayAndSite(r); err != nil {
		return a, s, nil, err
	}
	all, err := p.store.SiteTanks(r.Context(), s.ID, p.today(r))
	for _, t := range all {
		if t.State != string(tank.Ended) {
			tanks = append(tanks, t)
		}
	}
	return a, s, tanks, err
}

func (p sitePages) drawPackets(r *http.Request, a customer.Away, s customer.Site, tanks []customer.TankLine, kept []customer.Packets, version int) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		path := "/away/" + a.ID
		f = meanwhile(f, packetsTyped(kept, reads(r)))
		body := view.Packets{Form: f, Version: version, Action: path + "/packets", Back: view.Link{Label: "Leave it", Href: path + "/sheet"}, FeederBy: "Set up and watched " + feederBy(local(r), a, p.today(r)) + "."}
		for _, n := range customer.Feedings {
			body.Feedings = append(body.Feedings, view.Option{Value: strconv.Itoa(n), Label: customer.FeedingTitle(n)})
		}
		for _, t := range tanks {
			field := func(name string) string { return customer.PacketField(t.ID, name) }
			body.Tanks = append(body.Tanks, view.PacketTank{Name: t.Name, Every: field("every"), Grams: field("grams"), Feeder: field("feeder"), Tried: field("tried"), Note: field("note")})
		}
		return view.Frame{Title: "Packets for whoever stands in", Lead: s.Name + ", " + awayText(local(r), a, p.today(r)).Text, Up: &view.Link{Label: "The absence", Href: path}}, view.PacketsBody(body)
	}
}

// feederBy says until when a feeder is set up. Where that day is over nobody can
// see it fail in time.
func feederBy(when view.Local, a customer.Away, today q.Date) string {
	by := customer.Packets{}.FeederBy(a)
	if by < today {
		return "a week before they leave: too late for that now, so packets are safer"
	}
	return "by " + when.Day(by) + ", a week before they leave"
}

func (p sitePages) keepPackets(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	a, s, tanks, err := p.awayTanks(r)
	if err != nil {
		return err
	}
	f := typedForm(r, values)
	var all []customer.Packets
	for _, t := range tanks {
		all = append(all, customer.ParsePackets(f, t.ID, p.today(r)))
	}
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.store.KeepAwayPackets(p.once(r, values), who(r).Person.ID, a.ID, all, time.UnixMicro(int64(rowVersion(values)))))
	}
	if err != nil {
		now, readErr := p.store.AwayPackets(r.Context(), a.ID)
		if readErr != nil {
			return readErr
		}
		version := rowVersion(values)
		if isConflict(err) {
			version = packetsVersion(now)
		}
		return p.again(w, r, err, values, p.drawPackets(r, a, s, tanks, now, version))
	}
	return p.done(w, r, "/away/"+a.ID+"/sheet", view.Notice{Text: "Kept. Print the sheet and leave it with the packets."})
}

// awaySheet is what whoever stands in gets on paper: packets by day, nothing
// else, our telephone.
func (p sitePages) awaySheet(w http.ResponseWriter, r *http.Request) error {
	a, s, tanks, err := p.awayTanks(r)
	if err != nil {
		return err
	}
	path := "/away/" + a.ID
	if a.Off {
		http.Redirect(w, r, path, http.StatusSeeOther)
		return nil
	}
	kept, err := p.store.AwayPackets(r.Context(), a.ID)
	if err != nil {
		return err
	}
	if len(kept) == 0 {
		http.Redirect(w, r, path+"/packets", http.StatusSeeOther)
		return nil
	}
	when, shopOf, units := local(r), who(r).Shop, reads(r)
	body := view.AwaySheet{Change: view.Link{Label: "Change the packets", Href: path + "/packets"}, Shop: shopOf.Name, Phone: shopOf.Phone, For: a.StandIn}
	if body.Phone == "" {
		if body.Phone, err = p.cfg.Store.OwnerPhone(r.Context()); err != nil {
			return err
		}
	}
	if body.Dial = dial(body.Phone); body.Phone == "" {
		body.Warnings = append(body.Warnings, "The shop has no telephone number: whoever stands in has nobody to ring.")
	}
	for _, t := range tanks {
		if !slices.ContainsFunc(kept, func(x customer.Packets) bool { return x.Tank == t.ID }) {
			body.Warnings = append(body.Warnings, t.Name+": nothing is settled for it, so it is not on the sheet.")
		}
	}
	for _, x := range kept {
		t := view.AwayTank{Name: x.TankName, How: customer.FeedingTitle(x.EveryDays), Note: x.Note}
		if x.Grams.OK && x.EveryDays > 0 {
			t.How += ", " + figure(float64(x.Grams.V), q.Gr, units) + " in it"
		}
		if x.Feeder {
			t.How = "The feeder does it. Look once a day that it turned; if it did not, ring us"
			switch by := x.FeederBy(a); {
			case !x.FeederTried.OK:
				body.Warnings = append(body.Warnings, x.TankName+": the feeder has not been tried. Set it up and watch it "+feederBy(when, a, p.today(r))+".")
			case x.FeederTried.V > by:
				body.Warnings = append(body.Warnings, x.TankName+": the feeder was tried on "+when.Day(x.FeederTried.V)+", less than a week before they leave.")
			}
		} else {
			for i, d := range x.Days(a) {
				t.Packets = append(t.Packets, view.AwayPacket{Number: strconv.Itoa(i + 1), Day: when.Day(d)})
			}
		}
		body.Tanks = append(body.Tanks, t)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "While they are away", Lead: s.Name + ", " + awayText(when, a, p.today(r)).Text, Up: &view.Link{Label: "The absence", Href: path}}, view.AwaySheetBody(body))
}
