package web

import (
	"math"

	"scaperound/web/view"
)

// How marks of the sketch keep apart, in units of the drawing.
const (
	markGap    = 31.0 // between the middles of two marks
	shopGap    = 24.0 // between a mark and the shop
	markEdge   = 17.0 // between a mark's middle and the drawing's edge
	spreadMost = 300  // times that all pairs are looked at
	spreadRest = 0.25 // an overlap that is let be
)

// spread moves marks that would lie on each other apart, a little at a time and
// no farther than they must; the same places always come out the same.
func spread(marks []*view.RoundPoint, shop *view.RoundPoint) {
	for i, m := range marks {
		// Marks of one place have a direction to go in from the start.
		turn := 2.4 * float64(i) // radians, about the golden angle
		m.MarkX, m.MarkY = m.X+0.01*math.Cos(turn), m.Y+0.01*math.Sin(turn)
	}
	for range spreadMost {
		moved := false
		push := func(m *view.RoundPoint, x, y, gap, part float64) {
			dx, dy := m.MarkX-x, m.MarkY-y
			far := math.Hypot(dx, dy)
			if far >= gap-spreadRest {
				return
			}
			if far == 0 {
				dx, far = 1, 1
			}
			step := part * (gap - far)
			m.MarkX, m.MarkY = m.MarkX+dx/far*step, m.MarkY+dy/far*step
			moved = true
		}
		for i, a := range marks {
			for _, b := range marks[:i] {
				x, y := a.MarkX, a.MarkY
				push(a, b.MarkX, b.MarkY, markGap, 0.5)
				push(b, x, y, markGap, 0.5)
			}
			if shop != nil {
				push(a, shop.X, shop.Y, shopGap, 1)
			}
			a.MarkX = min(max(a.MarkX, markEdge), sketchWidth-markEdge)
			a.MarkY = min(max(a.MarkY, markEdge), sketchHeight-markEdge)
		}
		if !moved {
			return
		}
	}
}

// shopWord finds room for the shop's word beside its square: to the right where
// no mark is in the way, else on another side.
func shopWord(shop *view.RoundPoint, marks []*view.RoundPoint) (x, y float64) {
	const halfWide, halfHigh, markHalf = 27.0, 11.0, 15.0 // as on a phone, where words are largest
	sides := [][2]float64{{36, 0}, {-36, 0}, {0, 24}, {0, -24}}
	best, least := 0, math.Inf(1)
	for i, side := range sides {
		x, y := shop.X+side[0], shop.Y+side[1]
		over := 0.0
		for _, m := range marks {
			wide, high := halfWide+markHalf-math.Abs(m.MarkX-x), halfHigh+markHalf-math.Abs(m.MarkY-y)
			if wide > 0 && high > 0 {
				over += wide * high
			}
		}
		if x < halfWide || x > sketchWidth-halfWide || y < halfHigh || y > sketchHeight-halfHigh {
			over += 1e6
		}
		if over < least {
			best, least = i, over
		}
	}
	return shop.X + sides[best][0], shop.Y + sides[best][1]
}
