package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// Profile is the shop's standard for a tank: a band for each kind that matters.
type Profile struct {
	ID, Version, Name string
	Since             time.Time
	Bands             []Band
	LightNeed         q.Opt[q.Micromol] // PPFD below which this planting goes short
}

// Band is where a reading should be. Hard ends are beyond taste.
type Band struct {
	Kind           q.Kind
	Lo, Hi         q.Opt[float64]
	HardLo, HardHi q.Opt[float64]
}

// Band returns the profile's band of the kind.
func (p Profile) Band(k q.Kind) (Band, bool) {
	for _, b := range p.Bands {
		if b.Kind == k {
			return b, true
		}
	}
	return Band{}, false
}
