package web

import (
	"context"
	"net/http"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// siteStore is what the pages about sites ask for. by is the id of whoever does
// it, today the shop's day.
type siteStore interface {
	Sites(ctx context.Context, want customer.List, today q.Date) ([]customer.SiteLine, int, error)
	Site(ctx context.Context, id string) (customer.Site, error)
	Customer(ctx context.Context, id string) (customer.Customer, error)
	SiteTanks(ctx context.Context, site string, today q.Date) ([]customer.TankLine, error)
	// AddSite and EditSite refuse a spending limit from who may not price.
	// EditSite writes over s.Version; Conflict where somebody was faster.
	AddSite(ctx context.Context, by string, s customer.Site, mayPrice bool) (id string, err error)
	EditSite(ctx context.Context, by string, s customer.Site, mayPrice bool) error
	ArchiveSite(ctx context.Context, by, id string, archived bool) error

	SiteAways(ctx context.Context, site string, from q.Date) ([]customer.Away, error)
	Away(ctx context.Context, id string) (customer.Away, error)
	AddAway(ctx context.Context, by string, a customer.Away) (id string, err error)
	EditAway(ctx context.Context, by string, a customer.Away) error
	WithdrawAway(ctx context.Context, by, id string, off bool) error
	// AwayPackets are those that somebody has settled.
	AwayPackets(ctx context.Context, away string) ([]customer.Packets, error)
	// KeepAwayPackets answers Conflict where somebody has settled one of them since at.
	KeepAwayPackets(ctx context.Context, by, away string, all []customer.Packets, at time.Time) error

	AccessNote(ctx context.Context, site string) (customer.AccessNote, error)
	EditAccessNote(ctx context.Context, by string, n customer.AccessNote) error

	Keys(ctx context.Context) ([]customer.Key, error)
	SiteKeys(ctx context.Context, site string) ([]customer.Key, error)
	Key(ctx context.Context, id string) (customer.Key, error)
	AddKey(ctx context.Context, by, site, number string) (id string, err error)
	TakeKey(ctx context.Context, by, id, holder string) error
	ReturnKey(ctx context.Context, by, id string) error
	RetireKey(ctx context.Context, by, id string, retired bool) error
	People(ctx context.Context) ([]staff.Listed, error)

	SitePromises(ctx context.Context, site string, since q.Date) ([]due.Promise, error)

	SiteIncidents(ctx context.Context, site string) ([]customer.Incident, error)
	RecordIncident(ctx context.Context, by string, i customer.Incident) (id string, err error)
}

type sitePages struct {
	*shell
	store siteStore
}

func sitePath(id string) string { return "/sites/" + id }

func (p sitePages) list(w http.ResponseWriter, r *http.Request) error {
	want := wanted(r)
	lines, total, err := p.store.Sites(r.Context(), want, p.today(r))
	if err != nil {
		return err
	}
	when := local(r)
	body := view.SiteList{Head: listHead("/sites", want, total, len(lines), "sites", []view.Option{
		{Value: "name", Label: "Name"}, {Value: "customer", Label: "Customer"}, {Value: "town", Label: "Town"}, {Value: "visit", Label: "Longest not visited"}})}
	for _, l := range lines {
		line := view.SiteLine{Name: l.Name, Href: sitePath(l.ID), Customer: l.CustomerName, Where: joined(", ", l.Address, l.Town), Tanks: counted(l.Tanks, "tank", "tanks"), Away: l.AwayNow}
		if l.KeysOut > 0 {
			line.KeysOut = counted(l.KeysOut, "key", "keys") + " out"
		}
		if l.LastVisit.OK {
			line.Visited = when.DayOf(l.LastVisit.V)
		}
		body.Lines = append(body.Lines, line)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Sites"}, view.SiteListBody(body))
}
