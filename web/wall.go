package web

import (
	"time"

	q "scaperound/domain/quantity"
)

// wall turns local wall time into an instant. A doubled hour is its first; a
// skipped one moves forward by what was skipped.
func wall(zone *time.Location, d q.Date, m q.MinuteOfDay) time.Time {
	as := d.Midnight().Add(time.Duration(m) * time.Minute)
	before, after := offsetAt(zone, as.Add(-24*time.Hour)), offsetAt(zone, as.Add(24*time.Hour))
	for _, off := range []time.Duration{before, after} {
		if t := as.Add(-off); offsetAt(zone, t) == off {
			return t
		}
	}
	return as.Add(-before)
}

func offsetAt(zone *time.Location, t time.Time) time.Duration {
	_, seconds := t.In(zone).Zone()
	return time.Duration(seconds) * time.Second
}

// onWall is the shop's day and minute of an instant.
func onWall(zone *time.Location, t time.Time) (q.Date, q.MinuteOfDay) {
	l := t.In(zone)
	return q.DateOf(l), q.MinuteOfDay(l.Hour()*60 + l.Minute())
}
