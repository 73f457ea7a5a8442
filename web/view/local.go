package view

import (
	"time"

	"scaperound/domain/quantity"
	"scaperound/domain/shop"
)

// Local writes days and times as the shop does, on the shop's clock.
type Local struct {
	Zone  *time.Location
	Order shop.DateOrder
}

// Day writes a civil day with its weekday: Tue 24 Nov 2026.
func (l Local) Day(d quantity.Date) string { return d.Midnight().Format(l.layout()) }

// ShortDay writes a civil day without its year, where the page tells that: Tue 24 Nov.
func (l Local) ShortDay(d quantity.Date) string {
	layout := "Mon 2 Jan"
	switch l.Order {
	case shop.MonthFirst:
		layout = "Mon, Jan 2"
	case shop.YearFirst:
		layout = "Mon 01-02"
	}
	return d.Midnight().Format(layout)
}

// DayOf writes the day on which t falls in the shop.
func (l Local) DayOf(t time.Time) string { return t.In(l.zone()).Format(l.layout()) }

// Clock writes the time of day in the shop: 09:05.
func (l Local) Clock(t time.Time) string { return t.In(l.zone()).Format("15:04") }

// DayClock writes both: Tue 24 Nov 2026, 09:05.
func (l Local) DayClock(t time.Time) string { return l.DayOf(t) + ", " + l.Clock(t) }

func (l Local) zone() *time.Location {
	if l.Zone == nil {
		return time.UTC
	}
	return l.Zone
}

func (l Local) layout() string {
	switch l.Order {
	case shop.MonthFirst:
		return "Mon, Jan 2, 2006"
	case shop.YearFirst:
		return "Mon 2006-01-02"
	}
	return "Mon 2 Jan 2006"
}
