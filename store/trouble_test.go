package store_test

import (
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/triage"
	"scaperound/store"
)

func TestACallIsKeptWithANoteAndAProblem(t *testing.T) {
	p := newPlaces(t)
	c := p.customer("Nora Quill")
	tk, other := p.tank(p.site(c, "The mill", "", ""), "River"), p.tank(p.site(c, "The loft", "", ""), "Loft")
	call := triage.Call{Tank: tk, Guide: "gasping", Replies: map[string]triage.Reply{"all": triage.Yes}, Words: "since dawn", Read: []int{0, 2}, Advised: triage.GoNow, Going: triage.GoToday, Goes: p.tech, OpenProblem: true}
	id, err := p.KeepCall(t.Context(), p.owner, call)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.TroubleCall(t.Context(), id)
	if err != nil || got.TankName != "River" || got.GoesName != "Ilo Vance" || got.Replies["all"] != triage.Yes || len(got.Read) != 2 || got.Advised != triage.GoNow || got.Problem == "" {
		t.Fatalf("%+v, %v", got, err)
	}
	for of, want := range map[string]int{tk: 1, other: 0} {
		waiting, err := p.WaitingCalls(t.Context(), of)
		all, err2 := p.TroubleCalls(t.Context(), of, 10)
		if err != nil || err2 != nil || len(waiting) != want || len(all) != want {
			t.Errorf("%d wait, %d were taken, want %d; %v, %v", len(waiting), len(all), want, err, err2)
		}
	}
	if err := p.SettleCall(t.Context(), p.tech, id, true); err != nil {
		t.Fatal(err)
	}
	if waiting, _ := p.WaitingCalls(t.Context(), tk); len(waiting) != 0 {
		t.Error("settled, and it waits")
	}
	p.want(p.SettleCall(t.Context(), p.tech, store.NewID(), true), fault.NotFound)
	_, err = p.TroubleCall(t.Context(), "x")
	p.want(err, fault.NotFound)
	call.Tank = store.NewID()
	_, err = p.KeepCall(t.Context(), p.owner, call)
	p.want(err, fault.NotFound)
}

func TestADeathLeavesTheStockOfItsOwnTankAlone(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	tk, other := p.tank(s, "River"), p.tank(s, "Loft")
	day := q.DateOf(p.Now())
	d := triage.Death{Tank: tk, Seen: p.Now(), Group: "tetras", Species: "ember tetra", N: 2, Before: []string{"dosed"}, WaterKept: true, Body: "chilled"}
	if _, err := p.RecordDeath(t.Context(), p.tech, d, day); err != nil { // nobody wrote them in: it is kept all the same
		t.Fatal(err)
	}
	got, err := p.Deaths(t.Context(), tk, 10)
	if err != nil || len(got) != 1 || got[0].N != 2 || got[0].By != "Ilo Vance" || !got[0].WaterKept || got[0].CauseText() != "cause not known" {
		t.Errorf("%+v, %v", got, err)
	}
	if none, err := p.Deaths(t.Context(), other, 10); err != nil || len(none) != 0 {
		t.Errorf("another tank has %+v, %v", none, err)
	}
	d.Tank = store.NewID()
	_, err = p.RecordDeath(t.Context(), p.tech, d, day)
	p.want(err, fault.NotFound)
	_, err = p.Deaths(t.Context(), "x", 10)
	p.want(err, fault.NotFound)
}

func TestAStoppedFilterAsksOnceForEachTest(t *testing.T) {
	p := newPlaces(t)
	tk := p.tank(p.site(p.customer("Nora Quill"), "The mill", "", ""), "River")
	for range 2 {
		if _, err := p.KeepStop(t.Context(), p.tech, triage.Stop{Tank: tk, Stood: triage.StoodLonger, PowerCut: true}, q.DateOf(p.Now())); err != nil {
			t.Fatal(err)
		}
	}
	tasks, err := p.OpenTasks(t.Context(), tk)
	if err != nil || len(tasks) != 3 { // two tests, and the timers that nobody looked at
		t.Errorf("%+v, %v", tasks, err)
	}
	if stops, err := p.FilterStops(t.Context(), tk, 10); err != nil || len(stops) != 2 || !stops[0].PowerCut {
		t.Errorf("%+v, %v", stops, err)
	}
	_, err = p.KeepStop(t.Context(), p.tech, triage.Stop{Tank: store.NewID(), Stood: triage.StoodLonger}, q.DateOf(p.Now()))
	p.want(err, fault.NotFound)
}

// One question names everything that a list of changes is about.
func TestThingsAreCalledByTheirNames(t *testing.T) {
	p := newPlaces(t)
	c := p.customer("Nora Quill")
	s := p.site(c, "The mill", "", "")
	tk := p.tank(s, "River")
	pr, err := p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: tk, Title: "Black tufts", Told: "We are at it."})
	if err != nil {
		t.Fatal(err)
	}
	inc, err := p.RecordIncident(t.Context(), p.tech, customer.Incident{Site: s, NoticedAt: p.Now(), What: "a leak"})
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Things(t.Context(), []string{c, s, tk, pr, inc, p.tech, store.NewID(), "x", ""})
	if err != nil || len(got) != 6 {
		t.Fatalf("%+v, %v", got, err)
	}
	for id, want := range map[string]string{c: "Nora Quill", s: "The mill", tk: "River", pr: "Black tufts, River", p.tech: "Ilo Vance", inc: "The mill"} {
		if got[id].Name != want {
			t.Errorf("%q is called %q", want, got[id].Name)
		}
	}
	if x := got[inc]; x.ID != s || !x.At.OK {
		t.Errorf("an incident is shown on its site's page, with its time: %+v", x)
	}
	if one, err := p.Problem(t.Context(), pr); err != nil || one.Told != "We are at it." {
		t.Errorf("%+v, %v", one, err)
	}
	if none, err := p.Things(t.Context(), nil); err != nil || len(none) != 0 {
		t.Errorf("%+v, %v", none, err)
	}
}
