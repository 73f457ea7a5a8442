package store_test

import (
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
	"scaperound/store"
)

// visited is a visit in the store, with its judgement.
func (w tankWorld) visited(t *testing.T, note string) (visitID, evaluation string) {
	t.Helper()
	rec := visit.Record{
		Visit: store.NewID(), Revision: store.NewID(), Tank: w.tank, Staff: w.owner, Kind: visit.Routine,
		Performed: moment(t, "2026-11-24 10:30"), Day: q.NewDate(2026, 11, 24), Received: moment(t, "2026-11-24 10:40"), NoteCustomer: note,
		Looks: map[visit.Look]visit.Answer{visit.LookAnimals: visit.Fine},
	}
	out, err := w.db.SubmitVisit(t.Context(), rec, visit.BodyOf([]byte("note="+rec.Visit), []visit.Field{{Name: "visit", Value: rec.Visit}}), care.Assess)
	if err != nil {
		t.Fatal(err)
	}
	return out.Visit, out.Evaluation
}

func TestGivingTwiceIsGivingOnce(t *testing.T) {
	w := newTankWorld(t)
	id, evaluation := w.visited(t, "")
	release := share.Release{Visit: id, Evaluation: evaluation, Document: `{"version":1}`, Wire: "1", By: w.owner}
	first, err := w.db.GiveSheet(t.Context(), release)
	if err != nil {
		t.Fatal(err)
	}
	again, err := w.db.GiveSheet(t.Context(), release)
	if err != nil || again.ID != first.ID || first.Newer || first.Replaces != "" {
		t.Errorf("%+v, then %+v (%v)", first, again, err)
	}
	release.Document = `{"version":1,"note":"other"}`
	other, err := w.db.GiveSheet(t.Context(), release)
	if err != nil || other.Replaces != first.ID {
		t.Errorf("another document: %+v (%v)", other, err)
	}
	release.Evaluation = store.NewID()
	if _, err := w.db.GiveSheet(t.Context(), release); !fault.Is(err, fault.Conflict) {
		t.Errorf("of another judgement: %v", err)
	}
	list, err := w.db.SheetsOfTank(t.Context(), w.tank, 10)
	if err != nil || len(list) != 2 || list[0].ID != other.ID {
		t.Errorf("the tank's sheets: %+v (%v)", list, err)
	}
}

func TestAChangedDoseLeavesTheOwnerATaskToPhone(t *testing.T) {
	w := newTankWorld(t)
	id, evaluation := w.visited(t, "")
	task := string(wire.EncodeTask(care.PhoneTask(care.Sheet{Day: q.NewDate(2026, 11, 24)}, care.Sheet{Customer: "Millrace Coffee"})))
	for _, document := range []string{"{}", `{"a":1}`} {
		if _, err := w.db.GiveSheet(t.Context(), share.Release{Visit: id, Evaluation: evaluation, Document: document, Wire: "1", By: w.owner, Phone: task}); err != nil {
			t.Fatal(err)
		}
	}
	open, err := w.db.OpenTasks(t.Context(), w.tank)
	if err != nil {
		t.Fatal(err)
	}
	phone := 0
	for _, x := range open {
		if x.Action == care.PhoneCustomer {
			phone++
			if x.Who != care.Owner || x.When != care.WhenToday {
				t.Errorf("the task is %+v", x)
			}
		}
	}
	if phone != 1 {
		t.Errorf("%d tasks to phone, want one", phone)
	}
	// The next visit's judgement leaves it: only the owner can say that it is done.
	w.visited(t, "later")
	open, err = w.db.OpenTasks(t.Context(), w.tank)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range open {
		if x.Action == care.PhoneCustomer {
			return
		}
	}
	t.Error("the next visit withdrew the task to phone")
}

func TestASheetOfAMovedVisitIsReadNowhere(t *testing.T) {
	w := newTankWorld(t)
	id, evaluation := w.visited(t, "")
	if _, err := w.db.GiveSheet(t.Context(), share.Release{Visit: id, Evaluation: evaluation, Document: "{}", Wire: "1", By: w.owner}); err != nil {
		t.Fatal(err)
	}
	other := store.NewID()
	if _, err := w.db.Pool().Exec(t.Context(), `INSERT INTO tank (id, name, state, search, sort_key, created_at, updated_at) VALUES ($1, 'Bar tank', 'running', 'bar', 'bar', now(), now())`, other); err != nil {
		t.Fatal(err)
	}
	if err := w.db.MoveVisit(t.Context(), w.owner, id, other, care.Assess); err != nil {
		t.Fatal(err)
	}
	for _, tank := range []string{w.tank, other} {
		if list, err := w.db.SheetsOfTank(t.Context(), tank, 10); err != nil || len(list) != 0 {
			t.Errorf("the link of a tank shows %d sheets of the moved visit (%v)", len(list), err)
		}
	}
}
