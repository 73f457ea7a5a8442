package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/web/view"
)

// calendarStore keeps the addresses of calendar feeds.
type calendarStore interface {
	CalendarLink(ctx context.Context, person string) (share.CalendarLink, error)
	CalendarByID(ctx context.Context, id string) (share.CalendarLink, error)
	MakeCalendar(ctx context.Context, person string) error
	RevokeCalendar(ctx context.Context, person string) error
	HandedOf(ctx context.Context, person string, from q.Date) ([]due.CalendarStop, error)
}

type calendarPages struct {
	*shell
	store calendarStore
}

// calendarBack is how many days that are over a feed still tells.
const calendarBack = 14

func errNoCalendar() error {
	return fault.New(fault.NotFound, "This calendar address leads nowhere any more.")
}

// feed answers a calendar program with what is handed out to the address's
// person (RFC 5545). It holds no way in, no key, no telephone number.
func (p calendarPages) feed(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	token := strings.TrimSuffix(r.PathValue("token"), ".ics")
	id, ok := share.LinkOf(token)
	if !ok {
		return errNoCalendar()
	}
	link, err := p.store.CalendarByID(r.Context(), id)
	if err != nil {
		return err
	}
	if !p.cfg.LinkKey.Fits(token, link.ID, link.Generation) {
		return errNoCalendar()
	}
	set, err := p.cfg.Store.Shop(r.Context())
	if err != nil {
		return err
	}
	zone := localOf(set).Zone
	today := q.DateOf(p.cfg.Now().In(zone))
	stops, err := p.store.HandedOf(r.Context(), link.Person, today.Add(-calendarBack))
	if err != nil {
		return err
	}
	text := calendar(set.Name, p.cfg.Public.Hostname(), stops, zone)
	p.write(w, r, http.StatusOK, "text/calendar; charset=utf-8", []byte(text))
	return nil
}

// calendar writes stops as events. An event keeps its UID while its stop stays
// in the week, so that a moved one moves in the calendar too.
func calendar(shop, host string, stops []due.CalendarStop, zone *time.Location) string {
	c := ics.NewCalendar()
	c.SetProductId("-//Scaperound//Round//EN")
	c.SetMethod(ics.MethodPublish)
	c.SetName(shop)
	c.SetXWRCalName(shop)
	c.SetRefreshInterval("PT1H")
	for _, s := range stops {
		e := c.AddEvent(s.Job + "." + due.Monday(s.Day).String() + "@" + host)
		e.SetDtStampTime(s.Changed.UTC())
		e.SetStartAt(wallSecond(zone, s.Day, s.Begin))
		e.SetEndAt(wallSecond(zone, s.Day, s.End))
		e.SetSummary(s.Site)
		if s.Address != "" {
			e.SetLocation(s.Address)
		}
		if s.Lat.OK && s.Lon.OK {
			e.SetProperty(ics.ComponentPropertyGeo, strconv.FormatFloat(s.Lat.V, 'f', 6, 64)+";"+strconv.FormatFloat(s.Lon.V, 'f', 6, 64))
		}
		if len(s.Tanks) > 0 {
			e.SetDescription(strings.Join(s.Tanks, ", "))
		}
	}
	return c.Serialize()
}

// wallSecond is the instant of a second of the shop's day.
func wallSecond(zone *time.Location, day q.Date, second int) time.Time {
	m := day.Midnight()
	return time.Date(m.Year(), m.Month(), m.Day(), 0, 0, second, 0, zone).UTC()
}

func (p calendarPages) make(w http.ResponseWriter, r *http.Request) error {
	if err := p.store.MakeCalendar(r.Context(), who(r).Person.ID); err != nil {
		return err
	}
	return p.done(w, r, "/me", view.Notice{Text: "The address is below. One that was there before leads nowhere any more."})
}

func (p calendarPages) revoke(w http.ResponseWriter, r *http.Request) error {
	if err := p.store.RevokeCalendar(r.Context(), who(r).Person.ID); err != nil {
		return err
	}
	return p.done(w, r, "/me", view.Notice{Text: "The calendar address leads nowhere any more."})
}
