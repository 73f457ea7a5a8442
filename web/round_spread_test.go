package web

import (
	"fmt"
	"math"
	"testing"

	"scaperound/web/view"
)

// Marks of near places lie beside each other, clear of the shop and inside the
// drawing; those that have room stay where their place is.
func TestMarksOfTheSketchKeepApart(t *testing.T) {
	shop := &view.RoundPoint{X: 340, Y: 215}
	for name, at := range map[string][][2]float64{
		"one place":     {{200, 200}, {200, 200}, {200, 200}, {200, 200}},
		"a corner":      {{34, 34}, {36, 34}, {34, 36}, {35, 35}, {34, 34}},
		"at the shop":   {{340, 215}, {342, 216}, {338, 214}},
		"a street":      {{400, 300}, {406, 300}, {412, 300}, {418, 300}, {424, 300}, {430, 300}},
		"the day is up": {{200, 200}, {201, 200}, {202, 201}, {203, 202}, {204, 200}, {205, 199}, {206, 200}, {207, 201}, {208, 200}, {209, 202}, {210, 200}, {211, 199}},
	} {
		made := func() []*view.RoundPoint {
			out := []*view.RoundPoint{{X: 600, Y: 60}}
			for _, p := range at {
				out = append(out, &view.RoundPoint{X: p[0], Y: p[1]})
			}
			return out
		}
		marks, again := made(), made()
		spread(marks, shop)
		spread(again, shop)
		if alone := marks[0]; math.Hypot(alone.MarkX-alone.X, alone.MarkY-alone.Y) > 0.1 {
			t.Errorf("%s: a mark with room for it went to %.1f, %.1f", name, alone.MarkX, alone.MarkY)
		}
		for i, m := range marks {
			if fmt.Sprint(*m) != fmt.Sprint(*again[i]) {
				t.Errorf("%s: the same places come out differently", name)
			}
			if m.MarkX < 16 || m.MarkX > sketchWidth-16 || m.MarkY < 16 || m.MarkY > sketchHeight-16 {
				t.Errorf("%s: mark %d lies beyond the edge at %.1f, %.1f", name, i, m.MarkX, m.MarkY)
			}
			if math.Hypot(m.MarkX-shop.X, m.MarkY-shop.Y) < 20 {
				t.Errorf("%s: mark %d hides the shop", name, i)
			}
			for k, o := range marks[:i] {
				if d := math.Hypot(m.MarkX-o.MarkX, m.MarkY-o.MarkY); d < 30 {
					t.Errorf("%s: marks %d and %d are %.1f apart", name, i, k, d)
				}
			}
			if far := math.Hypot(m.MarkX-m.X, m.MarkY-m.Y); far > 90 {
				t.Errorf("%s: mark %d lies %.0f from its place", name, i, far)
			}
		}
	}
}

// The shop's word goes to the right of its square, or where no mark hides it.
func TestTheShopsWordIsNotHidden(t *testing.T) {
	at := func(x, y float64) *view.RoundPoint { return &view.RoundPoint{X: x, Y: y, MarkX: x, MarkY: y} }
	for name, c := range map[string]struct {
		shop  *view.RoundPoint
		marks []*view.RoundPoint
		x, y  float64
	}{
		"alone":             {at(300, 200), nil, 336, 200},
		"one to the right":  {at(300, 200), []*view.RoundPoint{at(335, 190)}, 264, 200},
		"right and left":    {at(300, 200), []*view.RoundPoint{at(335, 190), at(270, 205)}, 300, 224},
		"at the right edge": {at(660, 200), nil, 624, 200},
		// To the left a mark is in the way, on every other side the edge.
		"down in a corner": {at(660, 419), []*view.RoundPoint{at(620, 415)}, 624, 419},
	} {
		if x, y := shopWord(c.shop, c.marks); x != c.x || y != c.y {
			t.Errorf("%s: at %.0f, %.0f; want %.0f, %.0f", name, x, y, c.x, c.y)
		}
	}
}
