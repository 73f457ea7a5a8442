package store_test

import (
	"context"
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/store"
)

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
