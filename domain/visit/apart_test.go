package visit_test

import (
	"testing"
	"time"

	"scaperound/domain/visit"
)

func TestVisitsOfOneMinuteAreToldApart(t *testing.T) {
	at := time.Date(2026, 4, 1, 9, 30, 0, 0, time.UTC)
	var taken []time.Time
	for i := range 4 {
		got := visit.Apart(at, taken)
		if want := at.Add(time.Duration(i) * time.Microsecond); !got.Equal(want) {
			t.Errorf("visit %d is at %s, want %s", i+1, got, want)
		}
		taken = append([]time.Time{got}, taken...)
	}
	if got := visit.Apart(at.Add(time.Minute), taken); !got.Equal(at.Add(time.Minute)) {
		t.Errorf("another minute became %s", got)
	}
}
