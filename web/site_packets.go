package web

import (
	"net/http"
	"net/url"
	"strconv"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
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
	kept, err := p.store.AwayPackets(r.Context(), a.ID)
	if err != nil {
		return err
	}
	values := url.Values{}
	for _, x := range kept {
		set := func(name, text string) { values.Set(customer.PacketField(x.Tank, name), text) }
		set("every", strconv.Itoa(x.EveryDays))
		set("grams", typed.SmallMass.Show(typed.Float(x.Grams), reads(r)))
		if x.Feeder {
			set("feeder", "on")
		}
		if x.FeederTried.OK {
			set("tried", x.FeederTried.V.String())
		}
		set("note", x.Note)
	}
	frame, body := p.drawPackets(r, a, s, tanks)(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, body)
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

func (p sitePages) drawPackets(r *http.Request, a customer.Away, s customer.Site, tanks []customer.TankLine) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		path := "/away/" + a.ID
		body := view.Packets{Form: f, Action: path + "/packets", Back: view.Link{Label: "Leave it", Href: path + "/sheet"}, FeederBy: local(r).Day(customer.Packets{}.FeederBy(a))}
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
		all = append(all, customer.ParsePackets(f, t.ID))
	}
	if err = f.Faults.Err(); err == nil {
		err = p.store.KeepAwayPackets(r.Context(), who(r).Person.ID, a.ID, all)
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawPackets(r, a, s, tanks))
	}
	return p.done(w, r, "/away/"+a.ID+"/sheet", view.Notice{Text: "Kept. Print the sheet and leave it with the packets."})
}

// awaySheet is what whoever stands in gets on paper: packets by day, nothing
// else, our telephone.
func (p sitePages) awaySheet(w http.ResponseWriter, r *http.Request) error {
	a, s, err := p.awayAndSite(r)
	if err != nil {
		return err
	}
	kept, err := p.store.AwayPackets(r.Context(), a.ID)
	if err != nil {
		return err
	}
	path := "/away/" + a.ID
	if len(kept) == 0 {
		http.Redirect(w, r, path+"/packets", http.StatusSeeOther)
		return nil
	}
	when, shopOf, units := local(r), who(r).Shop, reads(r)
	body := view.AwaySheet{Change: view.Link{Label: "Change the packets", Href: path + "/packets"}, Shop: shopOf.Name, Phone: shopOf.Phone, Dial: dial(shopOf.Phone), For: a.StandIn}
	for _, x := range kept {
		t := view.AwayTank{Name: x.TankName, How: customer.FeedingTitle(x.EveryDays), Note: x.Note}
		if x.Grams.OK && x.EveryDays > 0 {
			t.How += ", " + figure(float64(x.Grams.V), q.Gr, units) + " in it"
		}
		if x.Feeder {
			t.How = "The feeder does it. Look once a day that it turned; if it did not, ring us"
			switch by := x.FeederBy(a); {
			case !x.FeederTried.OK:
				body.Warnings = append(body.Warnings, x.TankName+": the feeder has not been tried. Set it up and watch it by "+when.Day(by)+".")
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
