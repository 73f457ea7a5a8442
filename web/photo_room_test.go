package web

import (
	"context"
	"testing"
	"time"

	"scaperound/domain/fault"
)

func TestTheDarkroomTakesOnlySoMany(t *testing.T) {
	d := newDarkroom()
	d.patience = time.Millisecond
	var leave []func()
	for range photosPrinted {
		out, err := d.place(t.Context(), d.printed)
		if err != nil {
			t.Fatal(err)
		}
		leave = append(leave, out)
	}
	if _, err := d.place(t.Context(), d.printed); !fault.Is(err, fault.Unavailable) {
		t.Errorf("one too many: %v", err)
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	d.patience = time.Hour
	if _, err := d.place(gone, d.printed); !fault.Is(err, fault.Unavailable) {
		t.Errorf("who has gone: %v", err)
	}
	leave[0]()
	if _, err := d.place(t.Context(), d.printed); err != nil {
		t.Errorf("a place is free again: %v", err)
	}
}
