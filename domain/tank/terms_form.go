package tank

import (
	"strconv"

	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

var (
	everyDays     = typed.Measure{Name: "every", What: "The interval", Dim: typed.Plain("d"), Possible: span(1, 366), Likely: span(3, 62)}
	toleranceDays = typed.Measure{Name: "tolerance", What: "The tolerance", Dim: typed.Plain("d"), Possible: span(0, 60), Likely: span(0, 14)}
	visitMinutes  = typed.Measure{Name: "minutes", What: "The time at the tank", Dim: typed.Plain(q.Minute), Possible: span(1, 1440), Likely: span(10, 300)}
)

// ParseAgreement reads the form of the agreement.
func ParseAgreement(f *typed.Form, was Agreement) Agreement {
	var a Agreement
	a.EveryDays = f.Whole(everyDays, was.EveryDays)
	if !a.EveryDays.OK && len(f.Faults.On("every")) == 0 {
		f.Faults.Add("every", fault.Missing, "Type every how many days a visit is agreed.")
	}
	a.ToleranceDays = f.Whole(toleranceDays, q.Some(was.ToleranceDays)).Or(2)
	minutes := f.Whole(visitMinutes, q.Opt[int]{V: was.Minutes, OK: was.Minutes > 0})
	if !minutes.OK && len(f.Faults.On("minutes")) == 0 {
		f.Faults.Add("minutes", fault.Missing, "Type how many minutes a visit to this tank takes.")
	}
	a.Minutes = minutes.V
	if a.EveryDays.OK && a.ToleranceDays >= a.EveryDays.V && a.EveryDays.V > 1 {
		f.Faults.Add("tolerance", fault.Impossible, "A tolerance as long as the interval would never fall due.")
	}
	a.Skill = f.Line("skill", MaxName)
	a.TwoPeople = f.Tick("two_people")
	a.Preferred = f.Line("preferred", MaxName)
	for day := range 7 {
		if f.Tick(WeekdayField(day + 1)) {
			a.Weekdays |= 1 << day
		}
	}
	if a.Weekdays == 127 {
		a.Weekdays = 0 // every day is any day
	}
	return a
}

// WeekdayField is the name of the form's box for a weekday; 1 is Monday.
func WeekdayField(weekday int) string { return "weekday." + strconv.Itoa(weekday) }

// Show writes the agreement as its form is drawn.
func (a Agreement) Show(f Shown) Shown {
	if a.EveryDays.OK {
		f.Text["every"] = strconv.Itoa(a.EveryDays.V)
		f.Text["tolerance"] = strconv.Itoa(a.ToleranceDays)
		f.Text["minutes"] = strconv.Itoa(a.Minutes)
	} else {
		f.Text["tolerance"] = "2"
	}
	f.Text["skill"], f.Text["preferred"] = a.Skill, a.Preferred
	f.tick("two_people", a.TwoPeople)
	for day := range 7 {
		f.tick(WeekdayField(day+1), a.Weekdays&(1<<day) != 0)
	}
	return f
}

func shareNumbers() []number[CareShare] {
	return []number[CareShare]{
		in("pinch", "One pinch", typed.SmallMass, span(0.001, 100), span(0.01, 2), func(c *CareShare) *q.Opt[q.Gram] { return &c.Pinch }),
		in("feed", "The daily feed", typed.SmallMass, span(0, 1000), span(0, 15), func(c *CareShare) *q.Opt[q.Gram] { return &c.FeedPerDay }),
	}
}

// ShareMeasures are the numbers that the form of the care share asks for.
func ShareMeasures() []typed.Measure { return measures(shareNumbers()) }

// ShareActs are what a customer may do between visits, in the order of the form.
var ShareActs = []Group{{"feeds", "Feeds"}, {"tops_up", "Tops up"}, {"doses", "Doses"}, {"changes_water", "Changes water"}}

// ParseCareShare reads the form of what the customer does.
func ParseCareShare(f *typed.Form, was CareShare) CareShare {
	var c CareShare
	readNumbers(f, shareNumbers(), &c, &was)
	c.Feeds, c.TopsUp, c.Doses, c.ChangesWater = f.Tick("feeds"), f.Tick("tops_up"), f.Tick("doses"), f.Tick("changes_water")
	return c
}

// Show writes the care share as its form is drawn.
func (c CareShare) Show(f Shown) Shown {
	showNumbers(f, shareNumbers(), &c)
	f.tick("feeds", c.Feeds)
	f.tick("tops_up", c.TopsUp)
	f.tick("doses", c.Doses)
	f.tick("changes_water", c.ChangesWater)
	return f
}

// Does lists in words what the customer does; empty is nothing.
func (c CareShare) Does() []string {
	var out []string
	for i, on := range []bool{c.Feeds, c.TopsUp, c.Doses, c.ChangesWater} {
		if on {
			out = append(out, ShareActs[i].Name)
		}
	}
	return out
}
