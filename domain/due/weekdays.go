package due

import (
	"strings"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
)

// dayBit is a day's bit, where bit 0 is Monday.
func dayBit(d q.Date) int { return 1 << ((int(d.Weekday()) + 6) % 7) }

// Weekdays are days of the week as bits, Monday first; 0 is any day.
type Weekdays int

// Has reports whether the day is one of them.
func (w Weekdays) Has(d q.Date) bool { return w == 0 || int(w)&dayBit(d) != 0 }

// Text lists the days in words; empty for any day.
func (w Weekdays) Text() string {
	var names []string
	for day := 1; day <= 7; day++ {
		if int(w)&(1<<(day-1)) != 0 {
			names = append(names, customer.Weekday(day))
		}
	}
	return strings.Join(names, ", ")
}
