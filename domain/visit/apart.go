package visit

import (
	"slices"
	"time"
)

// Apart is the moment of a visit among others to the same tank: two that were
// written down for one minute are told apart by a microsecond, the later to
// arrive the later, so that what looks back on them sees one order everywhere.
// taken are the moments of the others, in any order.
func Apart(performed time.Time, taken []time.Time) time.Time {
	for slices.ContainsFunc(taken, performed.Equal) {
		performed = performed.Add(time.Microsecond)
	}
	return performed
}
