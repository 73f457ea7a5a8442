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
