package main

import "io"

// roundSchema prints what the document of a week may hold.
func roundSchema(e *env) error {
	_, err := io.WriteString(e.stdout, weekSchema)
	return err
}

const weekSchema = `The document of a week is one JSON object. Times of the day are written 07:45 or
07:45:30, days 2026-11-24, weekdays sun mon tue wed thu fri sat. A key that is not
named here is refused; a missing one means not given.

from         the first day                        days  1 to 62
places       id, name, lat and lon in degrees; without both nothing is planned there
vans         id, name, water_l (litres), cylinders: what fits in
people       id, name, skills [text],
             hours   weekday, from, to, start (place id), end (place id; start where it
                     is missing), van (id; without one loads are not checked),
                     break: from, to (when it may begin), minutes
             leave   from, to (both days included)
             special as hours with day instead of weekday; to not after from: a day off
stops        id, name, place (id), phone, work_minutes,
             windows    weekday or day, from, to: all of the work lies within one
             away       from, to: nobody is there
             due, early_days, late_days: the day wanted, and what is tolerated
             not_before, not_after: days that must hold
             press      routine, no_slip (not out of tolerance), urgent (not after due)
             weekday    a regular's
             promised   day, from, to: the work begins within
             skills     that each person needs
             people     1 or 2 who begin together
             prefer, last_by: person ids
             water_l, cylinders: what is taken out of the van
             kept_apart true: the last stop of the day
             keep       day, person, with, start: held there
             unsuited   person ids
travel       drive_s and metres: a row for each place, a number for each place;
             pace_percent: 24 numbers, 100 is as drive_s says. Without travel the great
             circle is taken, with rush hours.
weights      unplaced, urgent_late, slip_late, out_of_days (per day), off_due (per day),
             weekday, moved, not_prefer, not_last, uneven: in seconds of driving
known        a plan as it was printed: stops are moved from it only for good reason

The plan is one object as well: routes (day, person, leave, back, break, visits with
stop, drive_s, metres, arrive, start, done, with), unplaced (stop, why, remedy),
gave_up (stop, kind, days, text), said, cost in seconds of driving, and broken: rules
that the plan breaks by a check of its own; missing where it breaks none.
`
