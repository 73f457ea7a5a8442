package due

import (
	q "scaperound/domain/quantity"
)

// behind reports whether a stop of a plan is over: its day is, or all of its
// tanks have been visited since.
func (f *Facts) behind(day q.Date, p Placed) bool {
	if day < f.Today {
		return true
	}
	if day > f.Today {
		return false
	}
	for _, id := range p.Tanks {
		if t := f.Tank(id); t != nil && !(t.Last.OK && t.Last.V >= day) {
			return false
		}
	}
	return len(p.Tanks) > 0
}
