package tank

import q "scaperound/domain/quantity"

// SourceKind is where change water comes from.
type SourceKind string

// Kinds of source water.
const (
	Tap         SourceKind = "tap"
	SoftenedTap SourceKind = "softened_tap"
	Well        SourceKind = "well"
	RO          SourceKind = "ro"
	ROWithSalts SourceKind = "ro_remineralised"
	Blend       SourceKind = "blend" // of tap and RO, in a share that is not known
)

// Disinfectant in the supply.
type Disinfectant string

// What a supplier may use.
const (
	NoDisinfectant       Disinfectant = "none"
	Chlorine             Disinfectant = "chlorine"
	Chloramine           Disinfectant = "chloramine"
	DisinfectantNotKnown Disinfectant = "not_known"
)

// Source is one dated version of a source water, before any RO is mixed in.
type Source struct {
	ID, Name     string
	Kind         SourceKind
	Values       []Known // by kind, canonical units
	WinterMin    q.Opt[q.Celsius]
	Disinfectant Disinfectant
	Softener     bool
	Note         string
}

// Known is one value of a source water.
type Known struct {
	Kind  q.Kind
	Value float64
}

// Get returns one value of the source, where it is known.
func (s Source) Get(k q.Kind) q.Opt[float64] {
	for _, v := range s.Values {
		if v.Kind == k {
			return q.Some(v.Value)
		}
	}
	return q.Opt[float64]{}
}

// Change returns one value of the water that goes in at a change: the source
// with the tank's share of pure water. Only what mixes linearly can be asked
// for; pH is not among it.
func (s Setup) Change(k q.Kind) q.Opt[float64] {
	if !s.Source.OK || k == q.Acidity || k == q.Temperature {
		return q.Opt[float64]{}
	}
	v := s.Source.V.Get(k)
	if !v.OK {
		return v
	}
	return q.Some(v.V * (1 - float64(s.ROShare)))
}
