package care

import (
	"scaperound/domain/forecast"
)

// recall is what was learnt of the tank up to the visit before. Where no state
// was handed in, or one of another version, the history is folded anew, with the
// tank as it is now: what it was then is not in a Case, and whoever knows it hands
// in a Memory. Visits to the tank that stood there before it was set up anew are
// left out.
func recall(c *Case) forecast.State {
	if n := len(c.History); c.Memory.Usable() && n > 0 && c.Memory.Day == c.History[n-1].Day {
		return c.Memory
	}
	s := forecast.State{}
	for i := range c.History {
		if on := c.Setup.SetUpOn; on.OK && c.History[i].Day < on.V {
			continue
		}
		s = forecast.Update(s, c.Setup, c.Plan, c.History[i])
	}
	return s
}
