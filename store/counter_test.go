package store_test

import (
	"context"
	"testing"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/store"
)

// pressing is a judgement that cannot wait, asks for an extra visit and holds
// the sheet back.
func pressing(on q.Date) store.Assess {
	return func(c care.Case) care.Assessment {
		a := wishing("test_nh3_no2")(c)
		a.Urgency, a.HoldFor, a.Next.Extra = care.Now, "death", q.Some(on)
		a.Next.Say = say.S("next.extra")
		a.Findings = []care.Finding{{Rule: "death", System: care.Animals, State: care.Seen, Urgency: care.Now, Audience: care.ForShop, Say: say.S("death.seen")}}
		return a
	}
}

func TestCounterShowsWhatWaitsUntilItIsSettled(t *testing.T) {
	now := moment(t, "2026-04-10 08:00")
	w := newTankWorldWith(t, store.WithClock(func() time.Time { return now }))
	counter := func() (phone, held, extra, missed, late int) {
		t.Helper()
		c, err := w.db.Counter(t.Context(), q.NewDate(2026, 4, 10))
		if err != nil {
			t.Fatal(err)
		}
		return len(c.Phone), len(c.Held), len(c.Extra), len(c.Missed), len(c.Overdue)
	}
	if a, b, c, d, e := counter(); a+b+c+d+e != 0 {
		t.Errorf("something waits in an empty shop: %d %d %d %d %d", a, b, c, d, e)
	}
	w.submit(t, w.record(t, "2026-04-09 10:00", 10), "1", pressing(q.NewDate(2026, 4, 12)))
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		return store.RecordStops(ctx, tx, []store.PastStop{{ID: store.NewID(), Site: w.site, Staff: w.owner, Arrived: moment(t, "2026-04-09 15:00"),
			Left: moment(t, "2026-04-09 15:10"), Outcome: "could_not_get_in", Why: "nobody home"}})
	})
	if a, b, c, d, e := counter(); a != 1 || b != 1 || c != 1 || d != 1 || e != 0 {
		t.Errorf("phone %d held %d extra %d missed %d late %d", a, b, c, d, e)
	}
	// The owner phones; a later visit finds all well.
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		_, err := tx.Exec(ctx, `INSERT INTO contact_note (id, customer, at, staff, we_said) SELECT $1, id, $2, $3, 'we come on Sunday' FROM customer`, store.NewID(), now, w.owner)
		return err
	})
	if a, b, _, _, _ := counter(); a != 0 || b != 1 {
		t.Errorf("after the call: phone %d held %d", a, b)
	}
	w.submit(t, w.record(t, "2026-04-10 07:00", 10), "2", wishing())
	if _, b, c, _, _ := counter(); b != 1 || c != 0 {
		t.Errorf("after the next visit: held %d extra %d; the older sheet still waits", b, c)
	}
}
