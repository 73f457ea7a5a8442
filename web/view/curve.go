package view

import (
	"math"
	"strconv"
	"strings"
)

// Curve is one analyte of a tank over time, against its band. Days are counted
// from the left edge of the drawing; values are in one unit, the one shown.
type Curve struct {
	ID, Label, Unit string
	Digits          int
	Comma           bool
	Days            float64 // the whole width
	Now             float64 // where today stands
	Ticks           []CurveTick
	Lo, Hi          *float64 // the band as it is today
	Points          []CurvePoint
	Marks           []CurveMark
	Ahead           []CurveAhead // what is to be expected, the nearest first
	Sums            []string     // what is to be said of it, a sentence each
}

// CurveTick is a day on the axis.
type CurveTick struct {
	Day   float64
	Label string
}

// CurvePoint is a reading with what the kit can mean.
type CurvePoint struct {
	Day, Value float64
	From, To   *float64
	State      Standing
	Odd        bool   // does not fit what was done since the reading before
	When, Word string // Tue 24 Nov 2026; in band
	Href       string // its visit
}

// CurveMark is something that was done.
type CurveMark struct {
	Day  float64
	Kind string // one of the kinds below
	When string
	Said string // what was done, in words
	Href string
}

// Kinds of marks; each has a shape of its own.
const (
	MarkChange = "change"
	MarkDose   = "dose"
	MarkClean  = "clean"
	MarkOther  = "other"
)

// CurveAhead is what is to be expected on a day: a middle, and a range that holds
// in eight cases of ten.
type CurveAhead struct {
	Day, Value, Lo, Hi float64
	When               string
}

// The drawing's own units.
const (
	curveWidth, curveHeight = 720.0, 270.0
	plotLeft, plotRight     = 14.0, 662.0
	plotTop, plotBottom     = 26.0, 214.0
	marksLine               = 228.0
)

type curveScale struct{ lo, hi, step, days float64 }

func (c Curve) scale() curveScale {
	lo, hi := math.Inf(1), math.Inf(-1)
	see := func(v float64) {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	for _, p := range c.Points {
		see(p.Value)
		if p.From != nil {
			see(*p.From)
		}
		if p.To != nil {
			see(*p.To)
		}
	}
	for _, a := range c.Ahead {
		see(a.Lo)
		see(a.Hi)
	}
	for _, p := range []*float64{c.Lo, c.Hi} {
		if p != nil {
			see(*p)
		}
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	if lo > 0 && lo < hi/2 {
		lo = 0
	}
	if hi-lo < 1e-9 {
		hi = lo + math.Max(math.Abs(lo)*0.1, 1e-3)
	}
	step := roundStep((hi - lo) / 4)
	return curveScale{math.Floor(lo/step+1e-9) * step, math.Ceil(hi/step-1e-9) * step, step, math.Max(c.Days, 1)}
}

// roundStep is the next of 1, 2 and 5 times a power of ten.
func roundStep(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 5} {
		if v <= f*power*(1+1e-9) {
			return f * power
		}
	}
	return 10 * power
}

func (s curveScale) x(day float64) float64 {
	return plotLeft + math.Min(math.Max(day/s.days, 0), 1)*(plotRight-plotLeft)
}

func (s curveScale) y(v float64) float64 {
	return plotBottom - math.Min(math.Max((v-s.lo)/(s.hi-s.lo), 0), 1)*(plotBottom-plotTop)
}

// curveDrawing is the curve in the drawing's coordinates, as text.
type curveDrawing struct {
	rungs              []curveRung
	ticks              []curveTick
	bandY, bandH       string
	band               bool
	now                string
	line               string
	fan, middle        string
	points, marks, fut []curveSpot
}

type curveRung struct{ At, Label string }

// curveTick is a day on the axis; its label is held within the drawing.
type curveTick struct{ At, LabelAt, Label string }

// curveSpot is one thing to touch: its shape, where it stands, what it says.
type curveSpot struct {
	Class, X, Y, Path, Whisker, Said string
}

func (c Curve) drawing() curveDrawing {
	s := c.scale()
	var d curveDrawing
	digits := 0
	for f := s.step; f < 0.999999 && digits < 4; f *= 10 {
		digits++
	}
	for v := s.lo; v <= s.hi+s.step/2; v += s.step {
		d.rungs = append(d.rungs, curveRung{coordinate(s.y(v)), c.write(v, digits)})
	}
	for _, t := range c.Ticks {
		x, half := s.x(t.Day), 5*float64(len(t.Label))
		d.ticks = append(d.ticks, curveTick{coordinate(x), coordinate(min(max(x, half), curveWidth-half)), t.Label})
	}
	if c.Lo != nil || c.Hi != nil {
		top, bottom := plotTop, plotBottom
		if c.Hi != nil {
			top = s.y(*c.Hi)
		}
		if c.Lo != nil {
			bottom = s.y(*c.Lo)
		}
		d.band, d.bandY, d.bandH = true, coordinate(top), coordinate(math.Max(bottom-top, 1))
	}
	d.now = coordinate(s.x(c.Now))
	var line strings.Builder
	for i, p := range c.Points {
		x, y := s.x(p.Day), s.y(p.Value)
		line.WriteString(letter(i) + coordinate(x) + " " + coordinate(y))
		path, hollow := markAt(p.State, x, y)
		spot := curveSpot{Class: "curve-point", X: coordinate(x), Y: coordinate(y), Path: path, Said: p.When + ": " + c.said(p)}
		if hollow || p.Odd {
			spot.Class += " hollow"
		}
		if p.From != nil || p.To != nil {
			from, to := plotBottom, plotTop
			if p.From != nil {
				from = s.y(*p.From)
			}
			if p.To != nil {
				to = s.y(*p.To)
			}
			spot.Whisker = "M" + coordinate(x) + " " + coordinate(from) + "V" + coordinate(to) + "M" + coordinate(x-4) + " " + coordinate(from) + "h8M" + coordinate(x-4) + " " + coordinate(to) + "h8"
		}
		d.points = append(d.points, spot)
	}
	d.line = line.String()
	for _, m := range c.Marks {
		x := s.x(m.Day)
		d.marks = append(d.marks, curveSpot{Class: "curve-mark mark-" + m.Kind, X: coordinate(x), Y: coordinate(marksLine), Path: markShape(m.Kind, x), Said: m.When + ": " + m.Said})
	}
	c.drawAhead(s, &d)
	return d
}

func (c Curve) drawAhead(s curveScale, d *curveDrawing) {
	var up, down, middle strings.Builder
	for i, a := range c.Ahead {
		x := s.x(a.Day)
		up.WriteString(letter(i) + coordinate(x) + " " + coordinate(s.y(a.Hi)))
		middle.WriteString(letter(i) + coordinate(x) + " " + coordinate(s.y(a.Value)))
		b := c.Ahead[len(c.Ahead)-1-i]
		down.WriteString("L" + coordinate(s.x(b.Day)) + " " + coordinate(s.y(b.Lo)))
		d.fut = append(d.fut, curveSpot{Class: "curve-future", X: coordinate(x), Y: coordinate(s.y(a.Value)), Said: a.When + ": " + c.saidAhead(a)})
	}
	if len(c.Ahead) > 1 {
		d.fan, d.middle = up.String()+down.String()+"Z", middle.String()
	}
}

func letter(i int) string {
	if i == 0 {
		return "M"
	}
	return "L"
}

func markAt(state Standing, x, y float64) (path string, hollow bool) {
	switch state {
	case Low:
		return polygon(x-6, y-5, x+6, y-5, x, y+6), false
	case High:
		return polygon(x-6, y+5, x+6, y+5, x, y-6), false
	case Retest:
		return polygon(x-6, y, x, y-6, x+6, y, x, y+6), true
	case NotJudged:
		return polygon(x-4, y-4, x+4, y-4, x+4, y+4, x-4, y+4), true
	}
	c := coordinate
	return "M" + c(x-5) + " " + c(y) + "a5 5 0 1 0 10 0a5 5 0 1 0 -10 0Z", false
}

func markShape(kind string, x float64) string {
	const y = marksLine
	c := coordinate
	switch kind {
	case MarkChange:
		return "M" + c(x) + " " + c(y-7) + "q7 8 0 12q-7 -4 0 -12Z"
	case MarkDose:
		return "M" + c(x-5) + " " + c(y) + "h10M" + c(x) + " " + c(y-5) + "v10"
	case MarkClean:
		return "M" + c(x-5) + " " + c(y-5) + "l10 10M" + c(x-5) + " " + c(y+5) + "l10 -10"
	}
	return "M" + c(x) + " " + c(y-5) + "v10"
}

func (c Curve) write(v float64, digits int) string {
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if text == "-0" {
		text = "0"
	}
	if c.Comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return strings.Replace(text, "-", "−", 1)
}

func (c Curve) figure(v float64) string { return c.write(v, c.Digits) }

// between says what a reading can mean: 5 to 10, above 50, below 0.1; empty
// where nothing is known of that.
func (c Curve) between(from, to *float64) string {
	switch {
	case from != nil && to != nil:
		return c.figure(*from) + " to " + c.figure(*to)
	case from != nil:
		return "above " + c.figure(*from)
	case to != nil:
		return "below " + c.figure(*to)
	}
	return ""
}

func (c Curve) said(p CurvePoint) string {
	text := c.figure(p.Value) + " " + c.Unit
	if t := c.between(p.From, p.To); t != "" {
		text = strings.TrimSpace(text) + ", could be " + t
	}
	if p.Word != "" {
		text += ", " + p.Word
	}
	if p.Odd {
		text += "; does not fit"
	}
	return text
}

func (c Curve) saidAhead(a CurveAhead) string {
	return "about " + c.figure(a.Value) + ", likely " + c.figure(a.Lo) + " to " + c.figure(a.Hi) + " " + c.Unit
}

// spoken is the drawing in a sentence.
func (c Curve) spoken() string {
	parts := []string{c.Label + ": " + strconv.Itoa(len(c.Points)) + " readings"}
	if len(c.Points) == 1 {
		parts[0] = c.Label + ": one reading"
	}
	if n := len(c.Points); n > 0 {
		parts = append(parts, "the last on "+c.Points[n-1].When+", "+c.said(c.Points[n-1]))
	}
	if n := len(c.Ahead); n > 0 {
		parts = append(parts, "ahead on "+c.Ahead[n-1].When+" "+c.saidAhead(c.Ahead[n-1]))
	}
	return strings.Join(parts, "; ") + ". All numbers are in the table below."
}

// curveRow is a line of the table: a reading, something done, or what is ahead.
type curveRow struct {
	Day              float64
	When, What, Word string
	Href             string
}

// rows are the numbers of the curve, the newest first.
func (c Curve) rows() []curveRow {
	var out []curveRow
	for i := len(c.Ahead) - 1; i >= 0; i-- {
		a := c.Ahead[i]
		if a.Day > c.Now {
			out = append(out, curveRow{a.Day, a.When, c.saidAhead(a), "ahead", ""})
		}
	}
	p, m := len(c.Points)-1, len(c.Marks)-1
	for p >= 0 || m >= 0 {
		if m < 0 || p >= 0 && c.Points[p].Day >= c.Marks[m].Day {
			x := c.Points[p]
			word := x.Word
			if x.Odd {
				word = strings.TrimPrefix(word+", does not fit", ", ")
			}
			text := strings.TrimSpace(c.figure(x.Value) + " " + c.Unit)
			if t := c.between(x.From, x.To); t != "" {
				text += ", could be " + t
			}
			out = append(out, curveRow{x.Day, x.When, text, word, x.Href})
			p--
			continue
		}
		x := c.Marks[m]
		out = append(out, curveRow{x.Day, x.When, x.Said, "done", x.Href})
		m--
	}
	return out
}
