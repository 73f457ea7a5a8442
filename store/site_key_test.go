package store_test

import (
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/store"
)

func TestKeyGoesOutAndIn(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	id, err := p.AddKey(t.Context(), p.tech, s, "K-17")
	if err != nil {
		t.Fatal(err)
	}
	_, err = p.AddKey(t.Context(), p.tech, s, "K-17")
	if f := fault.Of(err); f == nil || f.Kind != fault.Invalid || len(f.Fields) != 1 || f.Fields[0].Name != "number" || f.Fields[0].Kind != fault.Taken {
		t.Errorf("a second key of one number: %v", err)
	}
	second, err := p.AddKey(t.Context(), p.tech, s, "A-1")
	if err != nil {
		t.Fatal(err)
	}
	if err := p.TakeKey(t.Context(), p.tech, id, p.tech); err != nil {
		t.Fatal(err)
	}
	k, _ := p.Key(t.Context(), id)
	if !k.Out() || k.HolderName != "Ilo Vance" || k.OutAt != q.Some(p.Now()) || k.Customer != "Nora Quill" {
		t.Errorf("taken: %+v", k)
	}
	if all, err := p.Keys(t.Context()); err != nil || len(all) != 2 || all[0].ID != id || all[1].ID != second {
		t.Errorf("those that are out come first: %+v, %v", all, err)
	}
	if lines, _, _ := p.Sites(t.Context(), customer.List{}, weirDay); lines[0].KeysOut != 1 {
		t.Errorf("the list of sites says %d", lines[0].KeysOut)
	}
	for _, nobody := range []string{"", "x", store.NewID()} {
		p.want(p.TakeKey(t.Context(), p.tech, id, nobody), fault.Invalid)
	}
	for range 2 {
		if err := p.ReturnKey(t.Context(), p.owner, id); err != nil {
			t.Fatal(err)
		}
	}
	if k, _ = p.Key(t.Context(), id); k.Out() || k.InAt != q.Some(p.Now()) {
		t.Errorf("returned: %+v", k)
	}
	if err := p.RetireKey(t.Context(), p.owner, id, true); err != nil {
		t.Fatal(err)
	}
	p.want(p.TakeKey(t.Context(), p.tech, id, p.tech), fault.Conflict)
	if list, _ := p.SiteKeys(t.Context(), s); len(list) != 1 || list[0].ID != second {
		t.Errorf("given up and still listed: %+v", list)
	}
	if err := p.RetireKey(t.Context(), p.owner, id, false); err != nil {
		t.Fatal(err)
	}
	if err := p.TakeKey(t.Context(), p.tech, id, p.owner); err != nil {
		t.Errorf("undone and still given up: %v", err)
	}
	if n, text := p.audits("key"); n != 7 || !strings.Contains(text, "handed out") || !strings.Contains(text, "Ilo Vance") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
}
