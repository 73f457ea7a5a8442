package forecast

import (
	"cmp"

	"scaperound/domain/num"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Step is one visit with what was true of the tank on its day.
type Step struct {
	Setup tank.Setup // as of the visit
	Plan  tank.Plan  // in force in the days before it
	Visit visit.Record
}

// Fold is the state after all of the visits, in the order in which they were
// performed, whatever the order in which they came in. The zero State comes from
// no visits.
func Fold(steps []Step) State {
	order := make([]int, len(steps))
	for i := range order {
		order[i] = i
	}
	num.SortStable(order, func(a, b int) int {
		x, y := &steps[a].Visit, &steps[b].Visit
		return cmp.Or(cmp.Compare(x.Day, y.Day), x.Performed.Compare(y.Performed), cmp.Compare(x.Minute, y.Minute), cmp.Compare(x.Visit, y.Visit))
	})
	var s State
	for _, i := range order {
		s = Update(s, steps[i].Setup, steps[i].Plan, steps[i].Visit)
	}
	return s
}
