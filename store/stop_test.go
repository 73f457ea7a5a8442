package store_test

import (
	"testing"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
	"scaperound/store"
)

func TestAStopIsJoinedNotDoubled(t *testing.T) {
	w := newTankWorld(t)
	first, err := w.db.Arrive(t.Context(), w.owner, w.site)
	if err != nil {
		t.Fatal(err)
	}
	second, err := w.db.Arrive(t.Context(), w.owner, w.site)
	if err != nil || second != first {
		t.Fatalf("a second arrival made %s (%v), want %s joined", second, err, first)
	}
	if err := w.db.LeaveStop(t.Context(), w.owner, first, visit.StopDone, ""); err != nil {
		t.Fatal(err)
	}
	third, err := w.db.Arrive(t.Context(), w.owner, w.site)
	if err != nil || third == first {
		t.Fatalf("an arrival after leaving joined the stop that was over (%v)", err)
	}
	s, err := w.db.Stop(t.Context(), third)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Tanks) != 1 || s.Tanks[0].ID != w.tank || len(s.People) != 1 || s.Outcome != visit.UnderWay || !s.Arrived.OK || s.Left.OK {
		t.Errorf("the stop reads %+v", s)
	}
}

func TestCouldNotGetInIsACompleteStop(t *testing.T) {
	w := newTankWorld(t)
	id, err := w.db.CouldNotGetIn(t.Context(), w.owner, w.site, "shutters down, nobody answers")
	if err != nil {
		t.Fatal(err)
	}
	s, err := w.db.Stop(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if s.Outcome != visit.CouldNotEnter || s.Why != "shutters down, nobody answers" || !s.Left.OK {
		t.Errorf("the stop reads %+v", s)
	}
	if err := w.db.ReopenStop(t.Context(), w.owner, id); err != nil {
		t.Fatal(err)
	}
	if s, err = w.db.Stop(t.Context(), id); err != nil || s.Outcome != visit.UnderWay || s.Left.OK || s.Why != "" {
		t.Errorf("taken back, the stop reads %+v (%v)", s, err)
	}
}

func TestStopsThatAreNotThere(t *testing.T) {
	w := newTankWorld(t)
	for _, id := range []string{"", "nonsense", store.NewID()} {
		if _, err := w.db.Arrive(t.Context(), w.owner, id); !fault.Is(err, fault.NotFound) {
			t.Errorf("Arrive at %q: %v", id, err)
		}
		if _, err := w.db.Stop(t.Context(), id); !fault.Is(err, fault.NotFound) {
			t.Errorf("Stop %q: %v", id, err)
		}
		if err := w.db.LeaveStop(t.Context(), w.owner, id, visit.StopDone, ""); !fault.Is(err, fault.NotFound) {
			t.Errorf("LeaveStop %q: %v", id, err)
		}
	}
}

func TestDueCountsFromTheAgreement(t *testing.T) {
	w := newTankWorld(t)
	if _, err := w.db.Pool().Exec(t.Context(), `INSERT INTO agreement (id, tank, since, recorded_at, every_days, tolerance_days, minutes)
		VALUES ($1, $2, '2026-03-01T00:00Z', now(), 14, 3, 45)`, store.NewID(), w.tank); err != nil {
		t.Fatal(err)
	}
	// Nobody has been there: due since the agreement began, on the shop's day,
	// which in Auckland is the day on which UTC's midnight falls at one o'clock.
	due, err := w.db.DueTanks(t.Context(), q.NewDate(2026, 3, 1), 10)
	if err != nil {
		t.Fatal(err)
	}
	if len(due) != 1 || due[0].Tank != w.tank || due[0].Due != q.NewDate(2026, 3, 1) || due[0].Latest != q.NewDate(2026, 3, 4) || due[0].Last.OK {
		t.Fatalf("due: %+v", due)
	}
	if due, err = w.db.DueTanks(t.Context(), q.NewDate(2026, 2, 28), 10); err != nil || len(due) != 0 {
		t.Errorf("the day before, due: %+v (%v)", due, err)
	}
	if _, err := w.db.Pool().Exec(t.Context(), `UPDATE tank SET state = 'resting'`); err != nil {
		t.Fatal(err)
	}
	if due, err = w.db.DueTanks(t.Context(), q.NewDate(2026, 4, 1), 10); err != nil || len(due) != 0 {
		t.Errorf("a resting tank is due: %+v (%v)", due, err)
	}
}

func TestALinkIsMadeOnceAndRenewed(t *testing.T) {
	w := newTankWorld(t)
	a, err := w.db.TankLink(t.Context(), w.owner, w.tank)
	if err != nil {
		t.Fatal(err)
	}
	b, err := w.db.TankLink(t.Context(), w.owner, w.tank)
	if err != nil || b.ID != a.ID || a.Generation != 1 {
		t.Fatalf("asked again: %+v after %+v (%v)", b, a, err)
	}
	if err := w.db.RenewLink(t.Context(), w.owner, w.tank); err != nil {
		t.Fatal(err)
	}
	c, err := w.db.LinkByID(t.Context(), a.ID)
	if err != nil || c.Generation != 2 || !c.Open(moment(t, "2026-12-01 00:00")) {
		t.Errorf("renewed: %+v (%v)", c, err)
	}
}
