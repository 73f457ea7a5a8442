package store_test

import (
	"context"
	"testing"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/store"
)

func (w tankWorld) second(t *testing.T) (other tankWorld) {
	t.Helper()
	other = w
	w.tx(t, func(ctx context.Context, tx store.Tx) (err error) {
		other.tank, err = store.CreateTank(ctx, tx, w.owner, tank.New{Name: "Door tank", Site: w.site, State: tank.Running, SetUpOn: q.Some(q.NewDate(2026, 3, 1))}, moment(t, "2026-03-01 00:00"))
		return err
	})
	return other
}

func TestVisitOnTheWrongTankIsMoved(t *testing.T) {
	w := newTankWorld(t)
	right := w.second(t)
	w.submit(t, w.record(t, "2026-04-01 10:00", 10), "1", wishing("trim_old"))
	before := w.open(t)
	wrong := w.record(t, "2026-04-08 10:00", 40)
	wrong.Movements = []visit.Movement{{Living: "animal", Group: "tetras", N: 8, Reason: "we_added"}}
	wrong.Tasks = []visit.TaskAnswer{{Task: before["trim_old"].ID, State: "done"}}
	w.submit(t, wrong, "2", wishing("wc_30_50"))
	if err := w.db.MoveVisit(t.Context(), w.owner, wrong.Visit, right.tank, wishing("feed_less")); err != nil {
		t.Fatal(err)
	}
	if open := w.open(t); len(open) != 1 || open["feed_less"].Action == "" {
		t.Errorf("open on the wrong tank: %v", open)
	}
	if open := right.open(t); len(open) != 1 {
		t.Errorf("open on the right tank: %v", open)
	}
	if s, _, _ := w.at(t, "2026-04-10 00:00"); len(s.Animals) != 0 {
		t.Errorf("animals stayed on the wrong tank: %+v", s.Animals)
	}
	if s, _, _ := right.at(t, "2026-04-10 00:00"); len(s.Animals) != 1 {
		t.Errorf("animals did not come along: %+v", s.Animals)
	}
	got, err := w.db.VisitByID(t.Context(), wrong.Visit)
	if err != nil || got.Tank != right.tank {
		t.Errorf("the visit is on %s, %v", got.Tank, err)
	}
	if err := w.db.MoveVisit(t.Context(), w.owner, wrong.Visit, right.tank, wishing()); !fault.Is(err, fault.Conflict) {
		t.Errorf("moving it where it is: %v", err)
	}
	if err := w.db.MoveVisit(t.Context(), w.owner, store.NewID(), right.tank, wishing()); !fault.Is(err, fault.NotFound) {
		t.Errorf("moving nobody's visit: %v", err)
	}
}

func TestWithdrawnVisitCountsNoMoreAndComesBack(t *testing.T) {
	w := newTankWorld(t)
	r := w.record(t, "2026-04-01 10:00", 10)
	r.Movements = []visit.Movement{{Living: "animal", Group: "tetras", N: 8, Reason: "we_added"}}
	w.submit(t, r, "1", wishing("trim_old"))
	if err := w.db.WithdrawVisit(t.Context(), w.owner, r.Visit, true, wishing("trim_old")); err != nil {
		t.Fatal(err)
	}
	if open := w.open(t); len(open) != 0 {
		t.Errorf("tasks of nothing: %v", open)
	}
	if s, _, _ := w.at(t, "2026-04-10 00:00"); len(s.Animals) != 0 {
		t.Errorf("stock of a withdrawn visit counts: %+v", s.Animals)
	}
	if _, _, ok, err := w.db.NewestAssessment(t.Context(), w.tank); ok || err != nil {
		t.Errorf("it is still the newest: %v %v", ok, err)
	}
	if err := w.db.WithdrawVisit(t.Context(), w.owner, r.Visit, false, wishing("trim_old")); err != nil {
		t.Fatal(err)
	}
	if s, _, _ := w.at(t, "2026-04-10 00:00"); len(s.Animals) != 1 {
		t.Errorf("stock after it came back: %+v", s.Animals)
	}
	if open := w.open(t); len(open) != 1 {
		t.Errorf("tasks after it came back: %v", open)
	}
}
