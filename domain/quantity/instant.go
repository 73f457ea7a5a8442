package quantity

import (
	"strconv"
	"strings"
	"time"
)

// The few forms of dates and times that the house reads and writes. The time
// package's own reader knows any layout, which the browser build has no room for.

// ParseInstant reads a time as RFC 3339 has it, with an offset from UTC and any
// fraction of a second; it comes back in UTC.
func ParseInstant(s string) (time.Time, bool) {
	date, rest, ok := leadingDate(s)
	if !ok || !strings.HasPrefix(rest, "T") {
		return time.Time{}, false
	}
	hour, minute, rest, ok := leadingClock(rest[1:])
	if !ok {
		return time.Time{}, false
	}
	second, nanos, rest, ok := leadingSecond(rest)
	if !ok {
		return time.Time{}, false
	}
	offset, ok := readOffset(rest)
	if !ok {
		return time.Time{}, false
	}
	t := date.Midnight().Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute + time.Duration(second)*time.Second + time.Duration(nanos))
	return t.Add(-offset), true
}

// WriteInstant writes t in UTC as RFC 3339 has it, its fraction without zeros at
// the end.
func WriteInstant(t time.Time) string {
	t = t.UTC()
	hour, minute, second := t.Clock()
	s := DateOf(t).String() + "T" + padded(hour, 2) + ":" + padded(minute, 2) + ":" + padded(second, 2)
	if n := t.Nanosecond(); n > 0 {
		s += "." + strings.TrimRight(padded(n, 9), "0")
	}
	return s + "Z"
}

// ParseWall reads a time without an offset, as forms send it: a day, a T or
// spaces, hour and minute. Seconds are read and left out.
func ParseWall(s string) (Date, MinuteOfDay, bool) {
	date, rest, ok := leadingDate(s)
	if !ok || rest == "" || rest[0] != 'T' && rest[0] != ' ' {
		return 0, 0, false
	}
	if rest[0] == ' ' {
		rest = strings.TrimLeft(rest, " ")
	} else {
		rest = rest[1:]
	}
	minute, rest, ok := leadingMinute(rest)
	if rest != "" {
		_, _, rest, ok = leadingSecond(rest)
	}
	return date, minute, ok && rest == ""
}

func leadingDate(s string) (d Date, rest string, ok bool) {
	year, rest, ok := leadingDigits(s, 4, "-")
	if !ok {
		return 0, "", false
	}
	month, rest, ok := leadingDigits(rest, 2, "-")
	if !ok {
		return 0, "", false
	}
	day, rest, ok := leadingDigits(rest, 2, "")
	d = NewDate(year, time.Month(month), day)
	// What is no day of its month has become one of the next.
	_, m, back := d.Midnight().Date()
	return d, rest, ok && int(m) == month && back == day
}

// leadingMinute reads an hour of one or two digits and a minute of two.
func leadingMinute(s string) (m MinuteOfDay, rest string, ok bool) {
	if len(s) > 1 && s[1] == ':' {
		s = "0" + s
	}
	hour, minute, rest, ok := leadingClock(s)
	return MinuteOfDay(hour*60 + minute), rest, ok
}

func leadingClock(s string) (hour, minute int, rest string, ok bool) {
	hour, rest, ok = leadingDigits(s, 2, ":")
	if !ok {
		return 0, 0, "", false
	}
	minute, rest, ok = leadingDigits(rest, 2, "")
	return hour, minute, rest, ok && hour < 24 && minute < 60
}

// leadingSecond reads the seconds after a colon, and a fraction of one.
func leadingSecond(s string) (second, nanos int, rest string, ok bool) {
	if !strings.HasPrefix(s, ":") {
		return 0, 0, "", false
	}
	second, rest, ok = leadingDigits(s[1:], 2, "")
	if !ok || second > 59 {
		return 0, 0, "", false
	}
	if rest == "" || rest[0] != '.' && rest[0] != ',' {
		return second, 0, rest, true
	}
	rest = rest[1:]
	n := 0
	for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
		n++
	}
	nanos, _, _ = leadingDigits((rest[:n] + "000000000")[:9], 9, "")
	return second, nanos, rest[n:], n > 0
}

// readOffset reads Z or +01:00.
func readOffset(s string) (time.Duration, bool) {
	if s == "Z" {
		return 0, true
	}
	if s == "" || s[0] != '+' && s[0] != '-' {
		return 0, false
	}
	hour, minute, rest, ok := leadingClock(s[1:])
	offset := time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute
	if s[0] == '-' {
		offset = -offset
	}
	return offset, ok && rest == ""
}

// leadingDigits reads exactly n digits, and what must follow them.
func leadingDigits(s string, n int, after string) (v int, rest string, ok bool) {
	if len(s) < n {
		return 0, "", false
	}
	for i := range n {
		if s[i] < '0' || s[i] > '9' {
			return 0, "", false
		}
		v = 10*v + int(s[i]-'0')
	}
	rest, ok = strings.CutPrefix(s[n:], after)
	return v, rest, ok
}

// padded writes n with at least so many digits.
func padded(n, digits int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	s := strconv.Itoa(n)
	return sign + strings.Repeat("0", max(0, digits-len(s))) + s
}
