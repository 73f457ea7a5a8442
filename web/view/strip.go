package view

import (
	"math"
	"strconv"
	"strings"
)

// Standing is where a reading stands against its band. The word says it first,
// the mark's shape second, colour last.
type Standing int

const (
	NotJudged Standing = iota // no band, or out of hours: a hollow square
	InBand                    // a filled round mark
	Low                       // a filled triangle that points down
	High                      // a filled triangle that points up
	Retest                    // a hollow diamond: this kit cannot tell
	NotDue                    // no mark
)

// Strip is one reading against the tank's target band. All numbers are in one
// unit, the one shown. A nil pointer is "none": an open end, no hard limit, no
// reading, no last visit.
type Strip struct {
	Label  string // NO3
	Unit   string // mg/L
	Word   string // in band, low, high, retest, not due, not judged
	State  Standing
	Urgent bool // needs a hand today: the word is set in rust

	Lo, Hi         *float64 // the target band
	HardLo, HardHi *float64 // where harm begins
	Value          *float64 // this visit
	From, To       *float64 // what the kit can mean, around Value
	Last           *float64 // last visit

	Digits int    // after the decimal point, for the figures shown
	Comma  bool   // the shop writes a decimal comma
	As     string // shown instead of the value's figure: "5 to 10", "4 drops"
}

// The drawing's own units. Marks are round, so it is scaled as a whole.
const (
	stripWidth  = 320.0
	stripHeight = 32.0
	stripMiddle = 16.0
	stripMargin = 12.0
)

// Figure returns a pointer to v, for Strip's optional numbers.
func Figure(v float64) *float64 { return &v }

// scale maps a value onto the drawing.
type scale struct{ lo, hi float64 }

func (s Strip) scale() scale {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range []*float64{s.Lo, s.Hi, s.HardLo, s.HardHi, s.Value, s.From, s.To, s.Last} {
		if p == nil || math.IsNaN(*p) || math.IsInf(*p, 0) {
			continue
		}
		lo, hi = math.Min(lo, *p), math.Max(hi, *p)
	}
	if lo > hi {
		return scale{0, 1}
	}
	// An open end of the band gets room to run out of the drawing.
	span := hi - lo
	if span == 0 {
		span = math.Max(math.Abs(hi)*0.2, 1e-9)
	}
	pad := span * 0.12
	lo, hi = lo-pad, hi+pad
	return scale{lo, hi}
}

func (c scale) at(v float64) float64 {
	return stripMargin + (v-c.lo)/(c.hi-c.lo)*(stripWidth-2*stripMargin)
}

func coordinate(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

// drawing is the strip in the drawing's own coordinates, as text.
type drawing struct {
	band           bool
	bandX, bandW   string
	openLo, openHi string // points of an arrow at an open end; empty where closed
	hard           []string
	whisker        bool
	from, to       string
	valueX         string
	mark           string // the path of the mark; empty for none
	hollow         bool
	lastX          string // empty for none
}

func (s Strip) drawing() drawing {
	c := s.scale()
	var d drawing
	if s.Lo != nil || s.Hi != nil {
		d.band = true
		left, right := stripMargin/2, stripWidth-stripMargin/2
		if s.Lo != nil {
			left = c.at(*s.Lo)
		} else {
			d.openLo = arrow(left, -1)
		}
		if s.Hi != nil {
			right = c.at(*s.Hi)
		} else {
			d.openHi = arrow(right, 1)
		}
		d.bandX, d.bandW = coordinate(left), coordinate(math.Max(right-left, 2))
	}
	for _, p := range []*float64{s.HardLo, s.HardHi} {
		if p != nil {
			d.hard = append(d.hard, coordinate(c.at(*p)))
		}
	}
	if s.Last != nil {
		d.lastX = coordinate(c.at(*s.Last))
	}
	if s.Value == nil || s.State == NotDue {
		return d
	}
	x := c.at(*s.Value)
	d.valueX = coordinate(x)
	if s.From != nil || s.To != nil {
		from, to := 2.0, stripWidth-2
		if s.From != nil {
			from = c.at(*s.From)
		}
		if s.To != nil {
			to = c.at(*s.To)
		}
		d.whisker, d.from, d.to = true, coordinate(from), coordinate(to)
	}
	d.mark, d.hollow = markPath(s.State, x)
	return d
}

func arrow(x float64, way float64) string {
	return points(x, stripMiddle-5, x+way*6, stripMiddle, x, stripMiddle+5)
}

func markPath(state Standing, x float64) (path string, hollow bool) {
	const y = stripMiddle
	switch state {
	case InBand:
		const r = 7.0
		c := coordinate
		arc := "A" + c(r) + " " + c(r) + " 0 1 0 "
		return "M" + c(x-r) + " " + c(y) + arc + c(x+r) + " " + c(y) + arc + c(x-r) + " " + c(y) + "Z", false
	case Low:
		return polygon(x-8, y-7, x+8, y-7, x, y+8), false
	case High:
		return polygon(x-8, y+7, x+8, y+7, x, y-8), false
	case Retest:
		return polygon(x-8, y, x, y-8, x+8, y, x, y+8), true
	}
	return polygon(x-6, y-6, x+6, y-6, x+6, y+6, x-6, y+6), true
}

func polygon(xy ...float64) string { return "M" + strings.ReplaceAll(points(xy...), " ", "L") + "Z" }

func points(xy ...float64) string {
	var b strings.Builder
	for i := 0; i < len(xy); i += 2 {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(coordinate(xy[i]) + "," + coordinate(xy[i+1]))
	}
	return b.String()
}

func (s Strip) figure(v *float64) string {
	if v == nil {
		return ""
	}
	text := strconv.FormatFloat(*v, 'f', s.Digits, 64)
	if s.Comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return strings.Replace(text, "-", "−", 1)
}

func (s Strip) valueText() string {
	if s.As != "" {
		return s.As
	}
	if s.Value == nil {
		return "–"
	}
	return s.figure(s.Value)
}

// bandText is the band in figures: 6 to 12, up to 0.2, from 4.
func (s Strip) bandText() string {
	switch {
	case s.Lo != nil && s.Hi != nil:
		return s.figure(s.Lo) + " to " + s.figure(s.Hi)
	case s.Hi != nil:
		return "up to " + s.figure(s.Hi)
	case s.Lo != nil:
		return "from " + s.figure(s.Lo)
	}
	return ""
}

// belowText is the quiet line below the drawing.
func (s Strip) belowText() string {
	var parts []string
	if t := s.bandText(); t != "" {
		parts = append(parts, "target "+t)
	}
	if s.Last != nil {
		parts = append(parts, "last visit "+s.figure(s.Last))
	}
	return strings.Join(parts, " · ")
}

// spoken is the drawing in words, for those who hear the page.
func (s Strip) spoken() string {
	parts := []string{s.Label}
	if s.Value != nil {
		v := s.figure(s.Value) + " " + s.Unit
		if s.From != nil && s.To != nil {
			v += ", could be " + s.figure(s.From) + " to " + s.figure(s.To)
		}
		parts = append(parts, strings.TrimSpace(v))
	} else {
		parts = append(parts, "no reading")
	}
	if s.Word != "" {
		parts = append(parts, s.Word)
	}
	if t := s.belowText(); t != "" {
		parts = append(parts, strings.ReplaceAll(t, " · ", ", "))
	}
	return strings.Join(parts, ", ")
}
