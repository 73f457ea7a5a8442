package quantity

import (
	"strconv"
	"time"
)

// Date is a civil day, counted from 1970-01-01. The domain knows no time zone:
// whoever has one hands over days.
type Date int32

// MinuteOfDay is local wall time, 0 to 1439.
type MinuteOfDay int16

// NewDate makes a date of year, month and day of the month.
func NewDate(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// DateOf is the day that t shows on its own clock.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return NewDate(y, m, d)
}

// ParseDate reads 2026-11-24.
func ParseDate(s string) (Date, bool) {
	d, rest, ok := leadingDate(s)
	return d, ok && rest == ""
}

// Midnight is the start of the day in UTC, for calendars and arithmetic only.
func (d Date) Midnight() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.Midnight().Weekday() }

// Add moves the date by n days.
func (d Date) Add(n int) Date { return d + Date(n) }

// String writes 2026-11-24.
func (d Date) String() string {
	y, m, day := d.Midnight().Date()
	return padded(y, 4) + "-" + padded(int(m), 2) + "-" + padded(day, 2)
}

// ParseMinute reads 07:45.
func ParseMinute(s string) (MinuteOfDay, bool) {
	m, rest, ok := leadingMinute(s)
	return m, ok && rest == ""
}

// String writes 07:45.
func (m MinuteOfDay) String() string { return twoDigits(m/60) + ":" + twoDigits(m%60) }

func twoDigits(n MinuteOfDay) string {
	s := strconv.Itoa(int(n))
	if n >= 0 && n < 10 {
		return "0" + s
	}
	return s
}
