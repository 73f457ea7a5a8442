package store_test

import (
	"strings"
	"testing"

	"scaperound/domain/fault"
	"scaperound/store"
)

func TestAccessNoteIsKeptApart(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	n, err := p.AccessNote(t.Context(), s)
	if err != nil || n.Version != 0 || n.Note != "" {
		t.Fatalf("before anything is written: %v, %v", n, err)
	}
	n.Note, n.AlarmCode = "through the yard", "4711"
	if err := p.EditAccessNote(t.Context(), p.tech, n); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditAccessNote(t.Context(), p.owner, n), fault.Conflict)
	got, err := p.AccessNote(t.Context(), s)
	if err != nil || got.Note != "through the yard" || got.AlarmCode != "4711" || got.Version != 1 || got.UpdatedBy != "Ilo Vance" {
		t.Errorf("got %q %q, %v", got.Note, got.AlarmCode, err)
	}
	got.AlarmCode = "0815"
	if err := p.EditAccessNote(t.Context(), p.owner, got); err != nil {
		t.Fatal(err)
	}
	lines, text := p.audits("access note")
	if lines != 2 || strings.Contains(text, "yard") || strings.Contains(text, "4711") || strings.Contains(text, "0815") || !strings.Contains(text, "alarm code") {
		t.Errorf("the audit says:\n%s", text)
	}
	_, err = p.AccessNote(t.Context(), store.NewID())
	p.want(err, fault.NotFound)
}
