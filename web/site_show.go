package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

func (p sitePages) show(w http.ResponseWriter, r *http.Request) error {
	return p.drawSite(w, r, http.StatusOK, view.Form{})
}

// drawSite draws the site's page; f is the form of a new key.
func (p sitePages) drawSite(w http.ResponseWriter, r *http.Request, status int, f view.Form) error {
	s, c, err := p.siteAndCustomer(r)
	if err != nil {
		return err
	}
	today := p.today(r)
	tanks, err := p.store.SiteTanks(r.Context(), s.ID, today)
	if err != nil {
		return err
	}
	keys, err := p.store.SiteKeys(r.Context(), s.ID)
	if err != nil {
		return err
	}
	aways, err := p.store.SiteAways(r.Context(), s.ID, today)
	if err != nil {
		return err
	}
	incidents, err := p.store.SiteIncidents(r.Context(), s.ID)
	if err != nil {
		return err
	}
	path := sitePath(s.ID)
	body := p.card(r, s)
	body.Form = f
	body.Tanks = tankRows(r, today, tanks, false, true)
	body.Keys, body.AddKey = keyRows(r, keys, false), path+"/keys"
	if !s.ArchivedAt.OK {
		body.NewTank = view.Link{Label: "Add a tank", Href: "/tanks/new?site=" + s.ID}
	}
	body.NewAway = view.Link{Label: "Note an absence", Href: path + "/away/new"}
	body.Access = view.Link{Label: "How to get in", Href: path + "/access"}
	body.Edit = view.Link{Label: "Change the card", Href: path + "/edit"}
	body.Incidents = view.Link{Label: counted(len(incidents), "incident", "incidents") + " recorded", Href: path + "/incidents"}
	body.Archived = s.ArchivedAt.OK
	body.BringBack = view.Post{Label: "Bring back", Action: path + "/bring-back"}
	if s.Position.OK {
		body.MapHref = templ.SafeURL(s.Position.V.Geo())
	}
	for _, a := range aways {
		body.Away = append(body.Away, awayText(local(r), a, today))
	}
	promised, err := p.store.SitePromises(r.Context(), s.ID, today)
	if err != nil {
		return err
	}
	for _, x := range promised {
		body.Promises = append(body.Promises, view.PromiseRow{When: local(r).Day(x.Day) + ", " + x.Text(), ToWhom: x.ToWhom,
			TakeBack: view.Post{Label: "Take back", Action: "/promises/" + x.ID + "/take-back", Quiet: true}})
	}
	body.NewPromise = view.Link{Label: "Promise a time", Href: path + "/promises/new"}
	if isOwner(r) {
		body.Archive = &view.Post{Label: "Archive", Action: path + "/archive"}
	}
	return p.page(w, r, status, view.Frame{Title: s.Name, Lead: joined(", ", s.Address, s.Town), Up: &view.Link{Label: c.Name, Href: customerPath(c.ID)}}, view.SiteBody(body))
}

// card is what stands on the site's card, for this reader.
func (p sitePages) card(r *http.Request, s customer.Site) view.Site {
	c, units, when := s.Card, reads(r), local(r)
	v := view.Site{Stairs: c.Stairs, Times: windowsText(s.Windows), Stopcock: c.Stopcock, Breaker: c.Breaker, Drain: c.Drain}
	if s.Position.OK {
		v.Position = s.Position.V.String()
	}
	if s.Altitude.OK {
		v.Altitude = say.Amount(float64(s.Altitude.V), q.M, 0, units)
	}
	if c.ParkingMinutes.OK {
		v.Parking = say.Amount(float64(c.ParkingMinutes.V), q.Minute, 0, units)
	}
	if c.RCDTested.OK {
		v.Tested, v.TestedLongAgo = when.Day(c.RCDTested.V), p.today(r)-c.RCDTested.V > yearOfDays
	}
	if c.Hose.OK {
		v.Hose = say.Amount(float64(c.Hose.V), q.M, 0, units)
	}
	if c.Room.OK {
		v.Room = say.Amount(float64(c.Room.V), q.M3, 0, units)
	}
	if c.CO2Alarm.OK {
		v.Alarm = map[bool]string{true: "fitted", false: "none"}[c.CO2Alarm.V]
	}
	v.Limit = limitText(units, s)
	return v
}

// yearOfDays is how old the test of a residual-current device may be before the
// card says so.
const yearOfDays = 366

func keyRows(r *http.Request, keys []customer.Key, sites bool) []view.KeyRow {
	when, me := local(r), who(r).Person.ID
	var out []view.KeyRow
	for _, k := range keys {
		path := "/keys/" + k.ID
		row := view.KeyRow{Number: k.Number, Href: path, Out: k.Out()}
		if sites {
			row.Site = k.SiteName + ", " + k.Customer
		}
		switch {
		case k.Holder == me:
			row.Where = "you have it, since " + when.DayOf(k.OutAt.V)
		case k.Out():
			row.Where = k.HolderName + " has it, since " + when.DayOf(k.OutAt.V)
		default:
			row.Where = "hangs in the shop"
		}
		row.Move = view.Post{Label: "I take it", Action: path + "/take", Hidden: []view.Pair{{Name: "holder", Value: me}}}
		if k.Holder == me {
			row.Move = view.Post{Label: "I hang it back", Action: path + "/return"}
		}
		out = append(out, row)
	}
	return out
}

// handOptions are those who can hold a key.
func handOptions(people []staff.Listed) []view.Option {
	var out []view.Option
	for _, one := range people {
		if !one.Deactivated {
			out = append(out, view.Option{Value: one.ID, Label: one.Name})
		}
	}
	return out
}
