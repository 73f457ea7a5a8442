package tank

import (
	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// MaxPinnedLines is how many pinned lines a person still reads.
const MaxPinnedLines = 5

// ParseNew reads the form of a new tank; today is the shop's day.
func ParseNew(f *typed.Form, today q.Date) New {
	var n New
	n.Name = f.Name("name", MaxName, "Type what you call this tank among yourselves.")
	n.Site = f.Name("site", MaxName, "Choose the site where it stands.")
	n.State = typed.Must(f, "state", States, "Choose how it stands.")
	n.SetUpOn = f.Past("set_up_on", "The day it was planted", today)
	n.Pinned = parsePinned(f)
	return n
}

// ParseCard reads the form of what is said of a tank once. was is the card that
// the form was drawn with.
func ParseCard(f *typed.Form, was Card, today q.Date) Card {
	c := was
	c.Name = f.Name("name", MaxName, "Type what you call this tank among yourselves.")
	c.State = typed.Must(f, "state", States, "Choose how it stands.")
	c.SetUpOn = f.Past("set_up_on", "The day it was planted", today)
	c.Site = f.Line("site", MaxName)
	return c
}

// ParsePins reads the form of the pinned lines and of keeping apart; today is the
// shop's day.
func ParsePins(f *typed.Form, was Card, today q.Date) Card {
	c := parseApart(f, was, today)
	c.Pinned = parsePinned(f)
	return c
}

// ParseApart reads the form that keeps a tank apart from today on or since
// before. One that ends before today would keep nothing apart.
func ParseApart(f *typed.Form, was Card, today q.Date) Card {
	c := parseApart(f, was, today)
	switch {
	case len(f.Faults) > 0:
	case !c.KeepApartSince.OK:
		f.Faults.Add("keep_apart_since", fault.Missing, "Since when?")
	case c.KeepApartUntil.OK && c.KeepApartUntil.V < today:
		f.Faults.Add("keep_apart_until", fault.Impossible, "That day is over: the tank would not be kept apart. Leave it empty, or type a day to come.")
	}
	return c
}

func parseApart(f *typed.Form, was Card, today q.Date) Card {
	c := was
	c.KeepApartSince = f.Past("keep_apart_since", "The first day of keeping apart", today)
	c.KeepApartUntil = f.Day("keep_apart_until")
	switch {
	case c.KeepApartUntil.OK && !c.KeepApartSince.OK && len(f.Faults.On("keep_apart_since")) == 0:
		f.Faults.Add("keep_apart_since", fault.Missing, "Type since when, or empty both.")
	case c.KeepApartUntil.OK && c.KeepApartSince.OK && c.KeepApartUntil.V < c.KeepApartSince.V:
		f.Faults.Add("keep_apart_until", fault.Impossible, "It cannot end before it begins.")
	}
	return c
}

func parsePinned(f *typed.Form) []string {
	l := f.Lines("pinned", MaxPinned)
	if len(l) > MaxPinnedLines {
		f.Faults.Add("pinned", fault.TooLong, "These are %d lines. At most %d are pinned, or nobody reads them.", len(l), MaxPinnedLines)
	}
	return l
}

// Show writes the card as its forms are drawn.
func (c Card) Show(f Shown) Shown {
	f.Text["name"], f.Text["state"], f.Text["site"] = c.Name, string(c.State), c.Site
	f.day("set_up_on", c.SetUpOn)
	f.lines("pinned", c.Pinned)
	f.day("keep_apart_since", c.KeepApartSince)
	f.day("keep_apart_until", c.KeepApartUntil)
	return f
}
