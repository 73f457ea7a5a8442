package web

import (
	"net/http"
	"strconv"

	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// whatIf is another course than the plan's, to look at before anything is changed.
type whatIf struct {
	share q.Opt[q.Share] // of the water, at each visit
	every q.Opt[int]     // days between visits
	doses q.Opt[float64] // what is dosed, as a share of the plan
	form  view.Form
}

var (
	ifChange = typed.Measure{Name: "change", What: "The change", Dim: typed.Plain(q.Percent), Possible: q.Range{Lo: 0, Hi: 95}, Likely: q.Range{Lo: 0, Hi: 95}}
	ifEvery  = typed.Measure{Name: "every", What: "The interval", Dim: typed.Plain("d"), Possible: q.Range{Lo: 1, Hi: 120}, Likely: q.Range{Lo: 1, Hi: 120}}
	ifDoses  = typed.Measure{Name: "doses", What: "The doses", Dim: typed.Plain(q.Percent), Possible: q.Range{Lo: 0, Hi: 400}, Likely: q.Range{Lo: 0, Hi: 400}}
)

func readWhatIf(r *http.Request) whatIf {
	query := r.URL.Query()
	f := &typed.Form{Units: reads(r), Get: func(name string) string { return query.Get(name) }}
	var w whatIf
	if c := f.Number(ifChange, q.Opt[float64]{}); c.OK {
		w.share = q.Some(q.Share(c.V / 100))
	}
	w.every = f.Whole(ifEvery, q.Opt[int]{})
	if d := f.Number(ifDoses, q.Opt[float64]{}); d.OK {
		w.doses = q.Some(d.V / 100)
	}
	w.form = view.Form{Values: query, Faults: f.Faults}
	return w
}

// asked reports whether another course was asked for.
func (w whatIf) asked() bool { return w.share.OK || w.every.OK || w.doses.OK }

// of is the tank's course with what was asked put in its place.
func (w whatIf) of(c forecast.Course) forecast.Course {
	if w.share.OK {
		c.Share = w.share.V
	}
	if w.every.OK {
		c.Every = w.every.V
	}
	if w.doses.OK {
		lines := c.Plan.Lines
		c.Plan.Lines = nil
		for _, l := range lines {
			l.PerDose *= q.Milligram(w.doses.V)
			c.Plan.Lines = append(c.Plan.Lines, l)
		}
	}
	return c
}

// said is the other course in words.
func (w whatIf) said(u say.Units) string {
	var parts []string
	if w.share.OK {
		parts = append(parts, "a change of "+say.Amount(float64(w.share.V)*100, q.Percent, 0, u)+" at each visit")
	}
	if w.every.OK {
		parts = append(parts, "a visit every "+plural(w.every.V, "day", "days"))
	}
	if w.doses.OK {
		parts = append(parts, say.Amount(w.doses.V*100, q.Percent, 0, u)+" of the planned doses")
	}
	return say.JoinAnd(parts)
}

// form draws the question.
func (c *curveSheet) whatIfForm(path string, weeks int) *view.WhatIf {
	if len(c.ahead) == 0 {
		return nil
	}
	v := &view.WhatIf{Action: path, Weeks: strconv.Itoa(weeks), Form: c.other.form, Open: c.other.asked() || len(c.other.form.Faults) > 0}
	v.Usual = "As it is: " + say.Amount(c.state.Share*100, q.Percent, 0, c.units) + " changed every " + plural(c.tank.Setup.Agreement.EveryDays.Or(14), "day", "days") + ", the plan's doses."
	if c.other.asked() {
		v.Said = "Drawn as if there were " + c.other.said(c.units) + ". Nothing has been changed."
	}
	return v
}
