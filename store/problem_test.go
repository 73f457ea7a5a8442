package store_test

import (
	"testing"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
	"scaperound/store"
)

func TestProblemIsOneStory(t *testing.T) {
	p := newPlaces(t)
	tk := p.tank(p.site(p.customer("Nora Quill"), "The mill", "", ""), "River")
	id, err := p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: tk, Title: "Black tufts", Belief: "flow"})
	if err != nil {
		t.Fatal(err)
	}
	if err := p.TryProblem(t.Context(), p.owner, id, tank.Try{Tried: "turned the outlet", Result: "no change"}); err != nil {
		t.Fatal(err)
	}
	list, err := p.TankProblems(t.Context(), tk)
	if err != nil || len(list) != 1 || len(list[0].Tries) != 1 || list[0].Tries[0].Staff != "Maren Tolland" || list[0].OpenedBy != "Ilo Vance" {
		t.Fatalf("%+v, %v", list, err)
	}
	edit := list[0]
	edit.Belief = "CO2 swings"
	if err := p.EditProblem(t.Context(), p.owner, edit); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditProblem(t.Context(), p.tech, list[0]), fault.Conflict)
	if err := p.CloseProblem(t.Context(), p.owner, id, true); err != nil {
		t.Fatal(err)
	}
	p.want(p.TryProblem(t.Context(), p.owner, id, tank.Try{Tried: "x"}), fault.Conflict)
	if err := p.CloseProblem(t.Context(), p.owner, id, false); err != nil {
		t.Fatal(err)
	}
	if list, _ = p.TankProblems(t.Context(), tk); list[0].ClosedAt.OK || list[0].Belief != "CO2 swings" {
		t.Errorf("opened again it is %+v", list[0])
	}
	_, err = p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: store.NewID(), Title: "x"})
	p.want(err, fault.NotFound)
	_, err = p.TankProblems(t.Context(), store.NewID())
	p.want(err, fault.NotFound)
	if one, err := p.Problem(t.Context(), id); err != nil || one.TankName != "River" || len(one.Tries) != 1 {
		t.Errorf("by itself: %+v, %v", one, err)
	}
	if n, _ := p.audits("problem"); n != 5 {
		t.Errorf("%d lines in the audit, want 5", n)
	}
}
