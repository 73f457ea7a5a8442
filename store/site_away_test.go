package store_test

import (
	"context"
	"sync"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/store"
)

// Two absences of one site never share a day, however they come about: whoever
// stands in would find two sheets, and feed twice.
func TestAbsencesOfASiteDoNotOverlap(t *testing.T) {
	p := newPlaces(t)
	owner := p.customer("Nora Quill")
	s, other := p.site(owner, "The mill", "", ""), p.site(owner, "The loft", "", "")
	add := func(site string, from, to int) (string, error) {
		return p.AddAway(t.Context(), p.tech, customer.Away{Site: site, From: weirDay.Add(from), To: weirDay.Add(to)})
	}
	first, err := add(s, 0, 7)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]int{{7, 9}, {-3, 0}, {2, 3}, {-1, 8}} {
		_, err := add(s, c[0], c[1])
		if p.want(err, fault.Invalid); err != nil && len(fault.Of(err).Fields.On("from")) != 1 {
			t.Errorf("%v: it is not said beside the first day: %v", c, err)
		}
	}
	next, err := add(s, 8, 9)
	if err != nil {
		t.Fatal("the day after is free:", err)
	}
	if _, err := add(other, 0, 7); err != nil {
		t.Error("another site is another matter:", err)
	}
	a, err := p.Away(t.Context(), next)
	if err != nil {
		t.Fatal(err)
	}
	a.From = weirDay.Add(7)
	p.want(p.EditAway(t.Context(), p.tech, a), fault.Invalid)
	if err := p.WithdrawAway(t.Context(), p.tech, first, true); err != nil {
		t.Fatal(err)
	}
	if err := p.EditAway(t.Context(), p.tech, a); err != nil {
		t.Error("the other is called off:", err)
	}
	p.want(p.WithdrawAway(t.Context(), p.tech, first, false), fault.Invalid)
	if a, err := p.Away(t.Context(), first); err != nil || !a.Off {
		t.Errorf("%+v, %v", a, err)
	}
	_, err = add(s, 20, 19)
	p.want(err, fault.Invalid)
	_, err = add(store.NewID(), 20, 21)
	p.want(err, fault.NotFound)
	_, err = add("x", 20, 21)
	p.want(err, fault.NotFound)
	// Two people at the same moment.
	var wait sync.WaitGroup
	errs := make([]error, 4)
	for i := range errs {
		wait.Go(func() { _, errs[i] = add(s, 30, 34+i) })
	}
	wait.Wait()
	kept := 0
	for _, err := range errs {
		if err == nil {
			kept++
		}
	}
	if kept != 1 {
		t.Errorf("%d of four at once are kept: %v", kept, errs)
	}
}

func TestPacketsAreOfTheTanksThatStandThere(t *testing.T) {
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	p := newPlaces(t)
	owner := p.customer("Nora Quill")
	s, elsewhere := p.site(owner, "The mill", "", ""), p.site(p.customer("Tam Rowe"), "The loft", "", "")
	river, second, foreign := p.tank(s, "River"), p.tank(s, "Second"), p.tank(elsewhere, "Foreign")
	away, err := p.AddAway(t.Context(), p.tech, customer.Away{Site: s, From: weirDay, To: weirDay.Add(7)})
	if err != nil {
		t.Fatal(err)
	}
	keep := func(away string, at time.Time, tanks ...string) error {
		var all []customer.Packets
		for _, id := range tanks {
			all = append(all, customer.Packets{Tank: id, EveryDays: 2, Grams: q.Some(q.Gram(0.5)), Note: "lid sticks"})
		}
		return p.KeepAwayPackets(t.Context(), p.tech, away, all, at)
	}
	p.want(keep(away, time.Time{}, river, foreign), fault.Conflict)
	if kept, err := p.AwayPackets(t.Context(), away); err != nil || len(kept) != 0 {
		t.Errorf("refused, and kept by half: %+v, %v", kept, err)
	}
	p.want(keep(away, time.Time{}, store.NewID()), fault.NotFound)
	p.want(keep(away, time.Time{}, "x"), fault.NotFound)
	p.want(keep(store.NewID(), time.Time{}, river), fault.NotFound)
	p.want(keep("x", time.Time{}, river), fault.NotFound)
	if err := keep(away, time.Time{}, river, second); err != nil {
		t.Fatal(err)
	}
	kept, err := p.AwayPackets(t.Context(), away)
	if err != nil || len(kept) != 2 || kept[0].TankName != "River" || kept[0].Grams.V != 0.5 || !kept[0].At.Equal(now) {
		t.Fatalf("%+v, %v", kept, err)
	}
	p.want(keep(away, now.Add(-time.Second), river), fault.Conflict)
	if err := keep(away, now, river); err != nil {
		t.Error("from the newest:", err)
	}
	// One that is moved away is fed by nobody here any more.
	if err := p.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		return store.MoveTank(ctx, tx, p.tech, river, tx.Now, elsewhere)
	}); err != nil {
		t.Fatal(err)
	}
	if kept, err := p.AwayPackets(t.Context(), away); err != nil || len(kept) != 1 || kept[0].Tank != second {
		t.Errorf("%+v, %v", kept, err)
	}
}

// Kept apart is by the shop's day, and not before the day on which it begins.
func TestKeptApartByTheShopsDay(t *testing.T) {
	p := newPlaces(t)
	if _, err := p.Pool().Exec(t.Context(), `INSERT INTO shop (name, zone, locale, decimal_mark, units, updated_at) VALUES ('Fernweir Aquascapes', 'Pacific/Auckland', 'en-NZ', '.', 'metric', now())`); err != nil {
		t.Fatal(err)
	}
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	ill, well := p.tank(s, "A"), p.tank(s, "B")
	stop, err := p.Arrive(t.Context(), p.tech, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		since, until q.Opt[q.Date]
		want         bool
	}{
		{q.Some(weirDay), q.Opt[q.Date]{}, true}, {q.Some(weirDay.Add(-9)), q.Some(weirDay), true},
		{q.Some(weirDay.Add(1)), q.Opt[q.Date]{}, false}, {q.Some(weirDay.Add(-9)), q.Some(weirDay.Add(-1)), false}, {q.Opt[q.Date]{}, q.Opt[q.Date]{}, false},
	} {
		card, err := p.TankCard(t.Context(), ill)
		if err != nil {
			t.Fatal(err)
		}
		card.KeepApartSince, card.KeepApartUntil = c.since, c.until
		if err := p.ChangeCard(t.Context(), p.tech, card, p.Now()); err != nil {
			t.Fatal(err)
		}
		got, err := p.Stop(t.Context(), stop)
		if err != nil || len(got.Tanks) != 2 {
			t.Fatalf("%+v, %v", got, err)
		}
		last := got.Tanks[1]
		if last.KeepApart != c.want || c.want && last.ID != ill || !c.want && last.ID != well {
			t.Errorf("since %v until %v: the last is %+v", c.since, c.until, last)
		}
		if card.KeptApart(weirDay) != c.want {
			t.Errorf("the card says otherwise")
		}
	}
}
