package store_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/store"
)

func fullSite(customerID string) customer.Site {
	return customer.Site{
		Customer: customerID, Name: "The café with the big wood", Address: "4 Weir Lane", Town: "Alderbrook",
		Position: q.Some(customer.Position{Lat: 53.35, Lon: -6.26}), Altitude: q.Some(q.Metre(30)),
		Card: customer.Card{ParkingMinutes: q.Some(5), Stairs: "one flight", Stopcock: "under the sink", Breaker: "hall", RCDTested: q.Some(q.NewDate(2026, time.March, 1)),
			Hose: q.Some(q.Metre(12.5)), Drain: "yard gully", Room: q.Some(q.CubicMetre(40)), CO2Alarm: q.Some(false), SpendingLimit: q.Some(60.5)},
		Windows: []customer.Window{{Weekday: 1, From: 540, To: 720}, {Weekday: 1, From: 840, To: 1050}, {Weekday: 7, From: 0, To: 1440}},
	}
}

func TestSiteIsKeptAsGiven(t *testing.T) {
	p := newPlaces(t)
	want := fullSite(p.customer("Nora Quill"))
	id, err := p.AddSite(t.Context(), p.owner, want, true)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Site(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if got.Card != want.Card || got.Position != want.Position || got.Altitude != want.Altitude || !slices.Equal(got.Windows, want.Windows) ||
		got.Name != want.Name || got.Address != want.Address || got.Town != want.Town || got.Customer != want.Customer || got.Version != 1 {
		t.Errorf("got %+v, want %+v", got, want)
	}
	bare := p.site(want.Customer, "Bare", "", "")
	got, err = p.Site(t.Context(), bare)
	if err != nil || got.Card != (customer.Card{}) || got.Position.OK || len(got.Windows) != 0 {
		t.Errorf("what is not known became known: %+v, %v", got, err)
	}
	_, err = p.AddSite(t.Context(), p.owner, customer.Site{Customer: store.NewID(), Name: "x"}, true)
	p.want(err, fault.NotFound)
}

func TestEditSite(t *testing.T) {
	p := newPlaces(t)
	id, err := p.AddSite(t.Context(), p.owner, fullSite(p.customer("Nora Quill")), true)
	if err != nil {
		t.Fatal(err)
	}
	first, _ := p.Site(t.Context(), id)
	second := first
	first.Card.Hose, first.Windows, first.Card.CO2Alarm = q.Opt[q.Metre]{}, first.Windows[:1], q.Opt[bool]{}
	if err := p.EditSite(t.Context(), p.tech, first, false); err != nil {
		t.Fatal(err)
	}
	got, _ := p.Site(t.Context(), id)
	if got.Card.Hose.OK || got.Card.CO2Alarm.OK || len(got.Windows) != 1 || got.Version != 2 {
		t.Errorf("got %+v", got)
	}
	p.want(p.EditSite(t.Context(), p.owner, second, true), fault.Conflict)
	if n, text := p.audits("site"); n != 2 || !strings.Contains(text, `"hose_m": 12.5`) || !strings.Contains(text, "Sunday 00:00-24:00") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
}

func TestOnlyTheOwnerPrices(t *testing.T) {
	p := newPlaces(t)
	c := p.customer("Nora Quill")
	_, err := p.AddSite(t.Context(), p.tech, fullSite(c), false)
	p.want(err, fault.Forbidden)
	id, err := p.AddSite(t.Context(), p.owner, fullSite(c), true)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := p.Site(t.Context(), id)
	s.Card.SpendingLimit = q.Opt[float64]{}
	p.want(p.EditSite(t.Context(), p.tech, s, false), fault.Forbidden)
	if now, _ := p.Site(t.Context(), id); now.Card.SpendingLimit != q.Some(60.5) || now.Version != 1 {
		t.Errorf("changed all the same: %+v", now)
	}
}

func TestAwayIsEditedAndCalledOff(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	id, err := p.AddAway(t.Context(), p.tech, customer.Away{Site: s, From: weirDay, To: weirDay.Add(7), Why: "skiing"})
	if err != nil {
		t.Fatal(err)
	}
	a, err := p.Away(t.Context(), id)
	if err != nil || a.From != weirDay || a.To != weirDay.Add(7) || a.Version != 1 {
		t.Fatalf("%+v, %v", a, err)
	}
	stale := a
	a.To = weirDay.Add(9)
	if err := p.EditAway(t.Context(), p.tech, a); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditAway(t.Context(), p.tech, stale), fault.Conflict)
	if err := p.WithdrawAway(t.Context(), p.tech, id, true); err != nil {
		t.Fatal(err)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay); len(list) != 0 {
		t.Errorf("called off and still listed: %+v", list)
	}
	if err := p.WithdrawAway(t.Context(), p.tech, id, false); err != nil {
		t.Fatal(err)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay.Add(9)); len(list) != 1 || list[0].To != weirDay.Add(9) {
		t.Errorf("undone it is %+v", list)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay.Add(10)); len(list) != 0 {
		t.Error("an absence that is over is listed")
	}
	if lines, _, _ := p.Sites(t.Context(), customer.List{}, weirDay.Add(3)); len(lines) != 1 || !lines[0].AwayNow {
		t.Errorf("the list of sites does not say so: %+v", lines)
	}
}
