package store_test

import (
	"context"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/store"
)

func TestCustomerCallGathersWhatOneWantsToKnow(t *testing.T) {
	p := newPlaces(t)
	id := p.customer("Nora Quill")
	mill, shut := p.site(id, "The mill", "4 Weir Lane", "Alderbrook"), p.site(id, "Old shop", "", "")
	other := p.site(p.customer("Pim Sallow"), "Elsewhere", "", "")
	river, nano, foreign := p.tank(mill, "River"), p.tank(mill, "Nano 2"), p.tank(other, "Foreign")
	if err := p.ArchiveSite(t.Context(), p.owner, shut, true); err != nil {
		t.Fatal(err)
	}
	visitOn := func(tankID string, days int, next any) {
		visit, rev := store.NewID(), store.NewID()
		at := p.Now().AddDate(0, 0, -days)
		// The visit and its first revision name each other: both are looked at
		// when the transaction ends.
		statements := []struct {
			sql  string
			args []any
		}{
			{`INSERT INTO visit (id, tank, kind, performer, performed_at, head, created_at) VALUES ($1, $2, 'routine', $3, $4, $5, $4)`, []any{visit, tankID, p.tech, at, rev}},
			{`INSERT INTO visit_revision (id, visit, no, raw, sha256, wire, performed_at, received_at, staff) VALUES ($1, $2, 1, '', '', '1', $3, $3, $4)`, []any{rev, visit, at, p.tech}},
			{`INSERT INTO evaluation (id, revision, tank, performed_at, at, cause, rules, input_sha256, status, urgency, next_on, document) VALUES ($1, $2, $3, $4, $4, 'first', '1', '', '', 'routine', $5, '')`, []any{store.NewID(), rev, tankID, at, next}},
		}
		err := p.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
			for _, s := range statements {
				if _, err := tx.Exec(ctx, s.sql, s.args...); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	visitOn(river, 20, weirDay.Add(-6).Midnight())
	visitOn(river, 9, weirDay.Add(5).Midnight())
	visitOn(nano, 30, nil)
	p.exec(`INSERT INTO agreement (id, tank, since, recorded_at, every_days, minutes) VALUES ($1, $2, $3, $3, 14, 40)`, store.NewID(), nano, p.Now().AddDate(0, -2, 0))
	for _, a := range []customer.Away{{Site: mill, From: weirDay.Add(-9), To: weirDay.Add(-2)}, {Site: mill, From: weirDay.Add(-1), To: weirDay, StandIn: "Bo next door"}} {
		if _, err := p.AddAway(t.Context(), p.tech, a); err != nil {
			t.Fatal(err)
		}
	}
	for _, tk := range []string{river, foreign} {
		if _, err := p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: tk, Title: "black tufts"}); err != nil {
			t.Fatal(err)
		}
	}
	// A sheet of each visit, given the day after it.
	p.exec(`INSERT INTO sheet (id, evaluation, tank, visit, document, sha256, wire, released_by, given_at)
		SELECT gen_random_uuid(), e.id, e.tank, r.visit, 'sheet of ' || v.performed_at::date, '', '1', $1, v.performed_at + interval '1 day'
		FROM evaluation e JOIN visit_revision r ON r.id = e.revision JOIN visit v ON v.id = r.visit`, p.owner)
	call, err := p.CustomerCall(t.Context(), id, weirDay)
	if err != nil {
		t.Fatal(err)
	}
	if g := call.Sheets; len(g) != 2 || g[0].TankName != "River" || g[0].Document != "sheet of 2026-11-15" || !g[0].GivenAt.Equal(p.Now().AddDate(0, 0, -8)) || g[1].TankName != "Nano 2" {
		t.Errorf("the newest sheet of each tank is %+v", g)
	}
	if len(call.Sites) != 1 || call.Sites[0].ID != mill || len(call.Tanks) != 2 {
		t.Fatalf("sites %+v, tanks %+v", call.Sites, call.Tanks)
	}
	day := func(at time.Time) q.Date { return q.DateOf(at) }
	n, r := call.Tanks[0], call.Tanks[1]
	if n.Name != "Nano 2" || n.Next(day) != q.Some(weirDay.Add(-30+14)) {
		t.Errorf("by its agreement: %+v, next %v", n, n.Next(day))
	}
	if r.Name != "River" || r.VisitBy != "Ilo Vance" || r.VisitKind != "routine" || r.Next(day) != q.Some(weirDay.Add(5)) {
		t.Errorf("by its judgement: %+v, next %v", r, r.Next(day))
	}
	if len(call.Away) != 1 || call.Away[0].StandIn != "Bo next door" {
		t.Errorf("away %+v", call.Away)
	}
	if len(call.Problems) != 1 || call.Problems[0].TankName != "River" {
		t.Errorf("problems %+v", call.Problems)
	}
	lines, err := p.SiteTanks(t.Context(), mill, weirDay)
	if err != nil || len(lines) != 2 || lines[1].ID != river {
		t.Errorf("tanks of the site %+v, %v", lines, err)
	}
	_, err = p.CustomerCall(t.Context(), store.NewID(), weirDay)
	p.want(err, fault.NotFound)
}
