package web

import (
	"testing"
	"time"

	q "scaperound/domain/quantity"
)

// Dublin's clocks went forward at 01:00 on 29 March 2026 and go back at 02:00
// on 25 October 2026 (EU directive 2000/84/EC: last Sundays, 01:00 UTC).
func TestWallTime(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ wall, want string }{
		{"2026-11-24 10:30", "2026-11-24T10:30:00Z"},
		{"2026-07-01 10:30", "2026-07-01T09:30:00Z"},
		{"2026-03-29 01:30", "2026-03-29T01:30:00Z"}, // skipped: becomes 02:30
		{"2026-03-29 02:00", "2026-03-29T01:00:00Z"},
		{"2026-10-25 01:30", "2026-10-25T00:30:00Z"}, // doubled: the first
		{"2026-10-25 02:30", "2026-10-25T02:30:00Z"},
	} {
		typed, err := time.Parse("2006-01-02 15:04", c.wall)
		if err != nil {
			t.Fatal(err)
		}
		got := wall(dublin, q.DateOf(typed), q.MinuteOfDay(typed.Hour()*60+typed.Minute()))
		if got.UTC().Format(time.RFC3339) != c.want {
			t.Errorf("%s is %s, want %s", c.wall, got.UTC().Format(time.RFC3339), c.want)
		}
	}
}
