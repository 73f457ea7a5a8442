package store_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
)

var weirDay = q.NewDate(2026, time.November, 24)

// places is a shop with an owner and a technician, and customers as a test
// needs them.
type places struct {
	*testing.T
	*store.DB
	owner, tech string
}

func newPlaces(t *testing.T) places {
	t.Helper()
	db := storetest.New(t, store.WithClock(func() time.Time { return time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC) }))
	p := places{T: t, DB: db}
	for _, d := range []staff.Draft{{Name: "Maren Tolland", Email: "maren@fernweir.example", Role: staff.Owner}, {Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Technician}} {
		made, err := db.AddPerson(t.Context(), "", d, "-")
		if err != nil {
			t.Fatal(err)
		}
		if d.Role == staff.Owner {
			p.owner = made.ID
		} else {
			p.tech = made.ID
		}
	}
	return p
}

func (p places) customer(name string, phones ...string) string {
	p.Helper()
	id, err := p.AddCustomer(p.Context(), p.owner, customer.Customer{Name: name, Kind: customer.Home, Language: "en", Phones: phones})
	if err != nil {
		p.Fatal(err)
	}
	return id
}

func (p places) site(customerID, name, address, town string) string {
	p.Helper()
	id, err := p.AddSite(p.Context(), p.owner, customer.Site{Customer: customerID, Name: name, Address: address, Town: town}, true)
	if err != nil {
		p.Fatal(err)
	}
	return id
}

func (p places) tank(site, name string) (id string) {
	p.Helper()
	err := p.Tx(p.Context(), func(ctx context.Context, tx store.Tx) (err error) {
		id, err = store.CreateTank(ctx, tx, p.owner, tank.New{Name: name, Site: site}, tx.Now.Add(-time.Hour))
		return err
	})
	if err != nil {
		p.Fatal(err)
	}
	return id
}

// audits counts what the audit holds of a noun, and returns the texts of it all.
func (p places) audits(noun string) (n int, text string) {
	p.Helper()
	err := p.Pool().QueryRow(p.Context(), `SELECT count(*), coalesce(string_agg(concat_ws(' ', verb, before, after), E'\n' ORDER BY id), '') FROM audit WHERE noun = $1`, noun).Scan(&n, &text)
	if err != nil {
		p.Fatal(err)
	}
	return n, text
}

func (p places) want(err error, kind fault.Kind) {
	p.Helper()
	if !fault.Is(err, kind) {
		p.Errorf("got %v, want a fault that is %v", err, kind)
	}
}

func TestCustomerIsKeptAsGiven(t *testing.T) {
	p := newPlaces(t)
	want := customer.Customer{Name: "Nóra Quill", Kind: customer.Restaurant, Language: "ga", Phones: []string{"+353 1 555 0142", "01 555 0143"}, Email: "nora@example.org", Notes: "rings on Fridays"}
	id, err := p.AddCustomer(t.Context(), p.owner, want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Customer(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got.Phones, want.Phones) {
		t.Errorf("phones %q", got.Phones)
	}
	got.Phones, want.Phones, want.ID, want.Version = nil, nil, id, 1
	if got.Name != want.Name || got.Kind != want.Kind || got.Language != want.Language || got.Email != want.Email || got.Notes != want.Notes || got.Version != 1 || got.ArchivedAt.OK || got.ErasedAt.OK {
		t.Errorf("got %+v, want %+v", got, want)
	}
	for _, no := range []string{"", "nonsense", store.NewID()} {
		_, err := p.Customer(t.Context(), no)
		p.want(err, fault.NotFound)
	}
}

func TestSecondEditorIsToldAndNothingIsOverwritten(t *testing.T) {
	p := newPlaces(t)
	id := p.customer("Nora Quill")
	first, _ := p.Customer(t.Context(), id)
	second := first
	first.Notes = "has a dog"
	if err := p.EditCustomer(t.Context(), p.owner, first); err != nil {
		t.Fatal(err)
	}
	second.Notes = "has a cat"
	err := p.EditCustomer(t.Context(), p.tech, second)
	p.want(err, fault.Conflict)
	if now, _ := p.Customer(t.Context(), id); now.Notes != "has a dog" || now.Version != 2 {
		t.Errorf("now %+v", now)
	}
	if n, text := p.audits("customer"); n != 2 || !strings.Contains(text, "has a dog") || strings.Contains(text, "cat") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
	second.Version = 2
	if err := p.EditCustomer(t.Context(), p.tech, second); err != nil {
		t.Errorf("with the newest version it is refused too: %v", err)
	}
	if err := p.EditCustomer(t.Context(), p.tech, customer.Customer{ID: id, Name: "Nora Quill", Kind: customer.Home, Language: "en", Notes: "has a cat", Version: 3}); err != nil {
		t.Fatal(err)
	}
	if now, _ := p.Customer(t.Context(), id); now.Version != 3 {
		t.Errorf("saving without a change made version %d", now.Version)
	}
}

func TestArchiveIsUndone(t *testing.T) {
	p := newPlaces(t)
	id := p.customer("Nora Quill")
	s := p.site(id, "The mill", "4 Weir Lane", "Alderbrook")
	for range 2 {
		if err := p.ArchiveCustomer(t.Context(), p.owner, id, true); err != nil {
			t.Fatal(err)
		}
	}
	if _, n, _ := p.Customers(t.Context(), customer.List{}); n != 0 {
		t.Error("an archived customer is listed")
	}
	if _, n, _ := p.Sites(t.Context(), customer.List{}, weirDay); n != 0 {
		t.Error("the site of an archived customer is listed")
	}
	if lines, n, _ := p.Customers(t.Context(), customer.List{Archived: true}); n != 1 || lines[0].ID != id {
		t.Error("it is not among those archived")
	}
	if err := p.ArchiveCustomer(t.Context(), p.owner, id, false); err != nil {
		t.Fatal(err)
	}
	if lines, _, _ := p.Sites(t.Context(), customer.List{}, weirDay); len(lines) != 1 || lines[0].ID != s {
		t.Error("the site did not come back with its customer")
	}
	if n, text := p.audits("customer"); n != 3 || !strings.Contains(text, "brought back") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
	p.want(p.ArchiveCustomer(t.Context(), p.owner, store.NewID(), true), fault.NotFound)
}

func TestContactNoteIsKeptOnce(t *testing.T) {
	p := newPlaces(t)
	id := p.customer("Nora Quill")
	call, err := p.CustomerCall(t.Context(), id, weirDay)
	if err != nil {
		t.Fatal(err)
	}
	n := customer.ContactNote{ID: call.NoteID, Customer: id, TheySaid: "the filter hums", WeSaid: "we come on Thursday"}
	for range 2 {
		if _, err := p.AddContactNote(t.Context(), p.tech, n); err != nil {
			t.Fatal(err)
		}
	}
	n.WeSaid = "we come on Friday"
	if _, err := p.AddContactNote(t.Context(), p.tech, n); err != nil {
		t.Fatal(err)
	}
	notes, err := p.ContactNotes(t.Context(), id, 10)
	if err != nil || len(notes) != 2 || notes[0].WeSaid != "we come on Friday" || notes[0].Staff != "Ilo Vance" || notes[1].WeSaid != "we come on Thursday" {
		t.Errorf("%+v, %v", notes, err)
	}
	_, err = p.AddContactNote(t.Context(), p.tech, customer.ContactNote{Customer: store.NewID(), WeSaid: "x"})
	p.want(err, fault.NotFound)
}

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
	for _, a := range []customer.Away{{Site: mill, From: weirDay.Add(-9), To: weirDay.Add(-1)}, {Site: mill, From: weirDay.Add(-1), To: weirDay, StandIn: "Bo next door"}} {
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

func (p places) exec(sql string, args ...any) {
	p.Helper()
	if _, err := p.Pool().Exec(p.Context(), sql, args...); err != nil {
		p.Fatalf("%s: %v", sql, err)
	}
}

func TestEraseEmptiesThePersonForGood(t *testing.T) {
	p := newPlaces(t)
	id := p.customer("Nora Quill", "+353 1 555 0142")
	mill := p.site(id, "Quill house", "4 Weir Lane", "Alderbrook")
	other := p.customer("Pim Sallow")
	must := func(_ string, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(p.AddContactNote(t.Context(), p.tech, customer.ContactNote{Customer: id, TheySaid: "my hip aches"}))
	must(p.AddContactNote(t.Context(), p.tech, customer.ContactNote{Customer: other, TheySaid: "all is well"}))
	must(p.AddAway(t.Context(), p.tech, customer.Away{Site: mill, From: weirDay, To: weirDay, StandIn: "Bo Quill"}))
	must(p.AddKey(t.Context(), p.tech, mill, "K-17"))
	must(p.RecordIncident(t.Context(), p.tech, customer.Incident{Site: mill, NoticedAt: p.Now(), What: "overflow", Told: "Mrs Quill"}))
	must("", p.EditAccessNote(t.Context(), p.tech, customer.AccessNote{Site: mill, Note: "behind the Quill gnome", AlarmCode: "4711"}))
	tk := p.tank(mill, "River")
	p.exec(`INSERT INTO link (id, tank, made_at) VALUES ($1, $2, now())`, store.NewID(), tk)

	for range 2 {
		if err := p.EraseCustomer(t.Context(), p.owner, id); err != nil {
			t.Fatal(err)
		}
	}
	var everything string
	err := p.Pool().QueryRow(t.Context(), `SELECT concat_ws(E'\n', (SELECT string_agg(t::text, E'\n') FROM customer t WHERE id = $1), (SELECT string_agg(t::text, E'\n') FROM site t WHERE customer = $1),
		(SELECT string_agg(t::text, E'\n') FROM contact_note t WHERE customer = $1), (SELECT string_agg(t::text, E'\n') FROM site_away t), (SELECT string_agg(t::text, E'\n') FROM access_note t),
		(SELECT string_agg(t::text, E'\n') FROM incident t), (SELECT string_agg(t::text, E'\n') FROM audit t))`, id).Scan(&everything)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"Quill", "quill", "555", "0142", "Weir Lane", "weir lane", "Alderbrook", "hip", "gnome", "4711"} {
		if strings.Contains(everything, word) {
			t.Errorf("%q is still there", word)
		}
	}
	if strings.Contains(everything, store.SortKey("Nora Quill")) || strings.Contains(everything, store.SortKey("Quill house")) {
		t.Error("a sort key still tells the name")
	}
	if notes, _ := p.ContactNotes(t.Context(), other, 5); len(notes) != 1 || notes[0].TheySaid != "all is well" {
		t.Errorf("somebody else's note: %+v", notes)
	}
	if n, text := p.audits("customer"); n != 3 || !strings.Contains(text, "Pim Sallow") || !strings.Contains(text, "erased") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
	var open int
	if err := p.Pool().QueryRow(t.Context(), `SELECT count(*) FROM link WHERE revoked_at IS NULL`).Scan(&open); err != nil || open != 0 {
		t.Errorf("%d links still open, %v", open, err)
	}
	if _, err := p.Customer(t.Context(), id); err != nil {
		t.Errorf("visits hang from nothing: %v", err)
	}
	p.want(p.EditCustomer(t.Context(), p.owner, customer.Customer{ID: id, Name: "x", Version: 2}), fault.Conflict)
	p.want(p.ArchiveCustomer(t.Context(), p.owner, id, false), fault.Conflict)
	_, err = p.AddContactNote(t.Context(), p.tech, customer.ContactNote{Customer: id, WeSaid: "x"})
	p.want(err, fault.Conflict)
	if found, _ := p.Search(t.Context(), "erased"); len(found.Customers) != 0 {
		t.Error("what was erased is found")
	}
}

// Only erasing may touch the audit, and only to empty values.
func TestAuditStaysAppendOnly(t *testing.T) {
	p := newPlaces(t)
	p.customer("Nora Quill")
	for _, sql := range []string{`UPDATE audit SET before = NULL, after = NULL`, `DELETE FROM audit`} {
		if _, err := p.Pool().Exec(t.Context(), sql); err == nil {
			t.Errorf("%s was let through", sql)
		}
	}
	for _, sql := range []string{`UPDATE audit SET after = '{}'`, `UPDATE audit SET after = NULL, verb = 'x'`, `DELETE FROM audit`} {
		err := p.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
			if _, err := tx.Exec(ctx, `SELECT set_config('scaperound.erasing', 'on', true)`); err != nil {
				return err
			}
			_, err := tx.Exec(ctx, sql)
			return err
		})
		if err == nil {
			t.Errorf("while erasing, %s was let through", sql)
		}
	}
}
