package due

import (
	"strings"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Promise is a time that somebody was told: we come on that day, in that span.
type Promise struct {
	ID, Site string
	Day      q.Date
	From, To q.MinuteOfDay
	ToWhom   string
}

// Text is the span in words, without the day.
func (p Promise) Text() string { return p.From.String() + " to " + p.To.String() }

// farPromise, in days from today, is asked about beyond: mostly a mistyped year.
const farPromise = 183

// ParsePromise reads the fields day, time and to_whom. today is the shop's day.
func ParsePromise(get typed.Fields, today q.Date) (Promise, fault.Fields) {
	f := typed.Form{Get: get}
	var p Promise
	day := f.Day("day")
	switch {
	case !day.OK && len(f.Faults.On("day")) == 0:
		f.Faults.Add("day", fault.Missing, "Which day was promised?")
	case day.OK && day.V < today:
		f.Faults.Add("day", fault.Impossible, "That day is over.")
	case day.OK && int(day.V-today) > farPromise && !f.Confirmed("day", strings.TrimSpace(get("day"))):
		f.Faults = append(f.Faults, fault.Field{Name: "day", Kind: fault.Unlikely, Confirm: strings.TrimSpace(get("day")), Text: "That is more than half a year from now. Is the day right?"})
	}
	p.Day = day.V
	text := strings.TrimSpace(get("time"))
	spans, why := customer.ParseWindows(1, text)
	switch {
	case text == "":
		f.Faults.Add("time", fault.Missing, "Between when and when? Write it like 9-11 or 14:00-15:30.")
	case why != "":
		f.Faults.Add("time", fault.NotDate, "%s", why)
	case len(spans) != 1:
		f.Faults.Add("time", fault.Impossible, "One time span is promised, not several.")
	default:
		p.From, p.To = spans[0].From, spans[0].To
	}
	p.ToWhom = f.Line("to_whom", maxName)
	return p, f.Faults
}
