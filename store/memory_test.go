package store_test

import (
	"context"
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/store"
)

// Where nothing is kept of what was learnt, as after an update that learns
// otherwise, each visit is folded with the tank of its own day. Here the volume
// doubles half way.
func TestLearntWithTheTankOfItsDay(t *testing.T) {
	w := newTankWorld(t)
	filled := func(since string, litres float64) {
		w.tx(t, func(ctx context.Context, tx store.Tx) error {
			return store.AddSetup(ctx, tx, w.owner, w.tank, moment(t, since), tank.Setup{Shape: tank.Shape{Metered: q.Some(q.Litre(litres))}})
		})
	}
	filled("2026-03-01 00:00", 100)
	filled("2026-04-20 00:00", 200)
	for i, day := range []string{"2026-04-01", "2026-04-08", "2026-04-15", "2026-04-22", "2026-04-29"} {
		r := w.record(t, day+" 10:00", 10+float64(i))
		r.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(40))}}
		w.submit(t, r, day, wishing()) // a judgement that remembers nothing
	}
	all, err := store.VisitsOfTank(t.Context(), w.db.Pool(), w.tank, time.Time{}, moment(t, "2027-01-01 00:00"), 99)
	if err != nil || len(all) != 5 {
		t.Fatal(len(all), err)
	}
	var want, now forecast.State
	today, _, _ := w.at(t, "2026-05-06 10:00")
	for i := range all {
		setup, _, plan := w.at(t, all[i].Performed.Format("2006-01-02 15:04"))
		want = forecast.Update(want, setup, plan, all[i])
		now = forecast.Update(now, today, plan, all[i])
	}
	if want == now {
		t.Fatal("the two folds agree: this test shows nothing")
	}
	got, err := w.db.TankMemory(t.Context(), w.tank)
	if err != nil || got != want {
		t.Errorf("the page's memory: %d visits to %s, share %v, want %v (%v)", got.Visits, got.Day, got.Share, want.Share, err)
	}
	var seen forecast.State
	keep := func(c care.Case) care.Assessment {
		seen = c.Memory
		return care.Assess(c)
	}
	next := w.record(t, "2026-05-06 10:00", 12)
	w.submit(t, next, "next", keep)
	if seen != want {
		t.Errorf("the next judgement's memory: share %v, want %v", seen.Share, want.Share)
	}
	if kept, err := w.db.TankMemory(t.Context(), w.tank); err != nil || kept.Visits != 6 {
		t.Errorf("kept: %d visits, %v", kept.Visits, err)
	}
}
