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

func (p places) exec(sql string, args ...any) {
	p.Helper()
	if _, err := p.Pool().Exec(p.Context(), sql, args...); err != nil {
		p.Fatalf("%s: %v", sql, err)
	}
}
