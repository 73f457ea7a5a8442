package web

import (
	"cmp"
	"math"
	"net/http"
	"slices"
	"strconv"
	"time"

	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// curveSpans is how far back curves can look, in weeks.
var curveSpans = []struct {
	weeks int
	label string
}{{13, "A quarter"}, {26, "Half a year"}, {52, "A year"}, {104, "Two years"}}

// mostCurveVisits bounds the visits of one page of curves.
const mostCurveVisits = 400

// curves shows each analyte of a tank over time.
func (p tankPages) curves(w http.ResponseWriter, r *http.Request) error {
	n, err := p.now(r)
	if err != nil {
		return err
	}
	weeks := curveSpans[0].weeks
	if asked, err := strconv.Atoi(r.URL.Query().Get("weeks")); err == nil {
		for _, s := range curveSpans {
			if s.weeks == asked {
				weeks = asked
			}
		}
	}
	body := view.CurvesPage{}
	for _, s := range curveSpans {
		body.Spans = append(body.Spans, view.CurveSpan{Label: s.label, Href: tankPath(n.ID) + "/curves?weeks=" + strconv.Itoa(s.weeks), Here: s.weeks == weeks})
	}
	first := n.Today.Add(-7 * weeks)
	recs, err := p.store.VisitsSince(r.Context(), n.ID, wall(local(r).Zone, first, 0), mostCurveVisits)
	if err != nil {
		return err
	}
	sheet := curveSheet{first: first, today: n.Today, last: n.Today, units: reads(r), when: local(r), tank: n, other: readWhatIf(r)}
	if sheet.state, err = p.store.TankMemory(r.Context(), n.ID); err != nil {
		return err
	}
	sheet.lookAhead()
	body.Curves, body.Says = sheet.curves(recs), sheet.says()
	body.If = sheet.whatIfForm(tankPath(n.ID)+"/curves", weeks)
	return p.page(w, r, http.StatusOK, view.Frame{
		Title: "Curves", Lead: dotted(n.Name, n.CustomerName), Up: &view.Link{Label: n.Name, Href: tankPath(n.ID)}, Styles: []string{static.Path("curve.css")},
	}, view.CurvesBody(body))
}

// curveSheet is what the curves of one tank have in common.
type curveSheet struct {
	first, today, last q.Date // last is the right edge
	units              say.Units
	when               view.Local
	tank               tankNow

	state forecast.State // what was learnt; the zero State: nothing
	ahead []forecast.Expected
	next  q.Date // when the next visit is due
	other whatIf
}

// curves draws every kind of which there is a reading of the tank's own water.
func (c *curveSheet) curves(recs []visit.Record) []view.Curve {
	var out []view.Curve
	for _, m := range q.Measures() {
		v := c.blank(m)
		for i := range recs {
			for _, x := range recs[i].Readings {
				if x.Kind == m.Kind && ofTank(x.Phase) {
					v.Points = append(v.Points, c.point(m, &recs[i], x))
				}
			}
		}
		if len(v.Points) == 0 {
			continue
		}
		c.addAhead(m, &v)
		slices.SortStableFunc(v.Points, func(a, b view.CurvePoint) int { return cmp.Compare(a.Day, b.Day) })
		for i := range recs {
			v.Marks = append(v.Marks, c.marks(m.Kind, &recs[i])...)
		}
		out = append(out, v)
	}
	return out
}

// ofTank reports whether a sample was the tank's own water as it stood.
func ofTank(p visit.Phase) bool {
	switch p {
	case visit.Before, visit.Late, visit.Morning, visit.After, visit.Clean:
		return true
	}
	return false
}

func (c *curveSheet) blank(m q.Measure) view.Curve {
	in, digits := c.shown(m)
	v := view.Curve{
		ID: "curve-" + string(m.Kind), Label: m.Title, Unit: in.Sign(), Digits: digits, Comma: c.units.Decimal == ',',
		Days: float64(c.last - c.first), Now: float64(c.today - c.first), Ticks: c.ticks(),
	}
	if b, ok := c.tank.Profile.Band(m.Kind); ok {
		v.Lo, v.Hi = c.known(m, b.Lo), c.known(m, b.Hi)
	}
	return v
}

func (c *curveSheet) shown(m q.Measure) (q.Unit, int) {
	if c.units.System == say.US && m.Unit == q.DegC {
		return q.DegF, 0
	}
	return m.Unit, m.Decimals
}

func (c *curveSheet) known(m q.Measure, o q.Opt[float64]) *float64 {
	if !o.OK || math.IsInf(o.V, 0) || math.IsNaN(o.V) {
		return nil
	}
	in, _ := c.shown(m)
	v, _ := q.FromCanonical(m.Kind, o.V, in)
	return view.Figure(v)
}

// ticks are the firsts of the months within the drawing, or every third of them
// where it is long.
func (c *curveSheet) ticks() []view.CurveTick {
	var out []view.CurveTick
	every, dated := 1, false
	if c.last-c.first > 400 {
		every = 3
	}
	for d := c.first; d <= c.last; d = d.Add(1) {
		t := d.Midnight()
		if t.Day() != 1 || (int(t.Month())-1)%every != 0 {
			continue
		}
		label := t.Format("Jan")
		if t.Month() == time.January {
			label, dated = t.Format("Jan 2006"), true
		}
		out = append(out, view.CurveTick{Day: float64(d - c.first), Label: label})
	}
	if len(out) > 0 && !dated {
		out[0].Label += " " + c.first.Add(int(out[0].Day)).Midnight().Format("2006")
	}
	return out
}

// day is where a moment stands on the drawing.
func (c *curveSheet) day(t time.Time) float64 {
	d, m := onWall(c.when.Zone, t)
	return float64(d-c.first) + float64(m)/1440
}

func (c *curveSheet) point(m q.Measure, rec *visit.Record, x visit.Reading) view.CurvePoint {
	last := tank.LastReading{Kind: x.Kind, At: rec.Performed, Interval: q.Interval{Value: x.Value, Lo: x.Lo, Hi: x.Hi}}
	strip := lastStrip(last, c.tank.Profile, c.units)
	at := rec.Performed
	if !x.Drawn.IsZero() {
		at = x.Drawn
	}
	p := view.CurvePoint{Day: c.day(at), From: strip.From, To: strip.To, State: strip.State, Word: strip.Word, When: c.when.DayOf(at), Href: "/visits/" + rec.Visit}
	if strip.Value != nil {
		p.Value = *strip.Value
	}
	if x.Phase == visit.After {
		p.Word = joinComma(p.Word, "after the work")
	}
	return p
}

func joinComma(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// marks are the work that bears on a kind.
func (c *curveSheet) marks(k q.Kind, rec *visit.Record) []view.CurveMark {
	var out []view.CurveMark
	lines := workLines(*rec, c.units)
	for i, w := range rec.Work {
		kind := bears(k, w)
		if kind == "" {
			continue
		}
		out = append(out, view.CurveMark{Day: c.day(rec.Performed), Kind: kind, When: c.when.DayOf(rec.Performed), Said: lines[i], Href: "/visits/" + rec.Visit})
	}
	return out
}

// bears says as what a work is marked on the curve of a kind; empty where it has
// no bearing on it.
func bears(k q.Kind, w visit.Work) string {
	gear := slices.Contains([]q.Kind{q.Flow, q.FlowShare, q.CylinderGross, q.CylinderLoss, q.Gauge, q.WorkPressure, q.PPFD, q.PPFDMax, q.PPFDMin}, k)
	switch w.Kind {
	case visit.WaterChange:
		if !gear {
			return view.MarkChange
		}
	case visit.Dose:
		if w.Solute == string(k) {
			return view.MarkDose
		}
	case visit.FilterClean:
		if slices.Contains([]q.Kind{q.Flow, q.FlowShare, q.TAN, q.Nitrite}, k) {
			return view.MarkClean
		}
	case visit.Trim, visit.PlantsIn, visit.PlantsOut:
		if slices.Contains([]q.Kind{q.Nitrate, q.Phosphate, q.Potassium, q.Iron}, k) {
			return view.MarkOther
		}
	case visit.CylinderSwap:
		if k == q.CylinderGross || k == q.CylinderLoss || k == q.Gauge {
			return view.MarkOther
		}
	case visit.LightSet:
		if k == q.PPFD || k == q.PPFDMax || k == q.PPFDMin {
			return view.MarkOther
		}
	}
	return ""
}
