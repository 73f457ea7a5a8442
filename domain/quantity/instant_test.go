package quantity_test

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	q "scaperound/domain/quantity"
)

// What is read and written is what the time package reads and writes, for what
// is right, almost right and not right at all.
func TestInstantsAreTheTimePackages(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 26))
	whole := []string{
		"2026-11-24T10:30:00Z", "2026-11-24T10:30:59.123456789+05:30", "2024-02-29T23:59:60Z", "2024-02-29T23:59:59,5-11:00", "0000-01-01T00:00:00Z",
		"2026-02-29", "2024-02-29", "2100-02-29", "1999-12-31", "2026-00-10", "2026-13-01", "2026-04-31", "2026-01-00", "2026-1-1", "12026-01-01", "",
		"2026-11-24T07:45", "2026-11-24T07:45:30", "2026-11-24 07:45", "2026-11-24 7:45", "2026-11-24T24:00", "2026-11-24T12:60", "2026-11-24T12:00:", "2026-11-24T12:00:00.",
		"07:45", "7:45", "23:59", "24:00", "7:5", ":45", "007:45", "2026-11-24T10:30:00.000000000Z", "2026-11-24T10:30:00.12Zx", "2026-11-24T10:30:00+24:00", "2026-11-24T10:30:00+23:60",
	}
	for range 4000 {
		whole = append(whole, spoilt(r, whole[r.IntN(35)]))
	}
	good := 0
	for _, s := range whole {
		want, err := time.Parse("2006-01-02", s)
		if d, ok := q.ParseDate(s); ok != (err == nil) || ok && (d != q.DateOf(want) || d.String() != s) {
			t.Errorf("%q is the day %s (%t), want %s (%v)", s, d, ok, want, err)
		}
		want, err = time.Parse("15:04", s)
		if m, ok := q.ParseMinute(s); ok != (err == nil) || ok && int(m) != want.Hour()*60+want.Minute() {
			t.Errorf("%q is the minute %s (%t), want %s (%v)", s, m, ok, want, err)
		}
		want, err = time.Parse(time.RFC3339Nano, s)
		if got, ok := q.ParseInstant(s); ok != (err == nil && strict.MatchString(s)) || ok && !got.Equal(want) {
			t.Errorf("%q is %s (%t), want %s (%v)", s, got, ok, want, err)
		} else if ok {
			good++
			if w := q.WriteInstant(got); w != want.UTC().Format(time.RFC3339Nano) {
				t.Errorf("%q is written %s", s, w)
			}
		}
		wall, err := wallTime(s)
		if d, m, ok := q.ParseWall(s); ok != (err == nil) || ok && (d != q.DateOf(wall) || int(m) != wall.Hour()*60+wall.Minute()) {
			t.Errorf("%q is %s %s (%t), want %s (%v)", s, d, m, ok, wall, err)
		}
	}
	if good < 100 {
		t.Errorf("only %d were times", good)
	}
	for range 2000 {
		at := time.Unix(r.Int64N(8e9)-2e9, r.Int64N(1e9)/1000*1000).UTC()
		back, ok := q.ParseInstant(q.WriteInstant(at))
		if !ok || !back.Equal(at) {
			t.Errorf("%s came back as %s", at, back)
		}
		if d := q.DateOf(at); d.String() != at.Format("2006-01-02") {
			t.Errorf("%s has the day %s", at, d)
		}
	}
}

// An hour of one digit and an offset of a day and more are not RFC 3339; the time
// package reads them all the same.
var strict = regexp.MustCompile(`T\d\d:.*(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$`)

func wallTime(s string) (t time.Time, err error) {
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02T15:04:05", "2006-01-02 15:04", "2006-01-02 15:04:05"} {
		if t, err = time.Parse(layout, s); err == nil {
			return t, nil
		}
	}
	return t, err
}

// spoilt is a text with one thing in it replaced, left out or doubled.
func spoilt(r *rand.Rand, s string) string {
	if s == "" {
		return s
	}
	at := r.IntN(len(s))
	const with = "0123456789-:.,TZ+ "
	switch r.IntN(3) {
	case 0:
		return s[:at] + strings.Repeat(s[at:at+1], 2) + s[at+1:]
	case 1:
		return s[:at] + s[at+1:]
	}
	return s[:at] + string(with[r.IntN(len(with))]) + s[at+1:]
}
