// Package volume is how much water there is and how it is exchanged: gross and
// net volume, changes of water, the line to drain to and the time it takes.
//
// "Net" is the water that is really in the tank and its filter: doses, shares
// and changes refer to it, never to the tank's label.
package volume

import (
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Densities of hardscape and the porosity assumed where none is given.
//
// Source: handbook values; waterlogged wood barely sinks.
const (
	StoneDensity   = 2.65 // kg/L; 2.6 to 2.7, lava 1.0 to 2.0
	WoodDensity    = 1.10 // kg/L, waterlogged
	UsualPorosity  = 0.40 // sand 0.25 to 0.50, gravel 0.25 to 0.40, granulated soil 0.4 to 0.5
	usualNetLow    = 0.55 // net over gross below which something was mistyped or is unusual
	usualNetHigh   = 0.98
	largestSide    = 1000.0 // cm
	largestFilling = 1e6    // L
)

// Setup is what decides the net volume. All lengths are inner ones: outer less
// twice the glass.
type Setup struct {
	Length, Width quantity.Centimetre
	Level         quantity.Centimetre // of the water over the bottom, not the glass's height
	Substrate     quantity.Centimetre // mean depth
	Porosity      quantity.Share      // share of the substrate's volume that is water
	Stone, Wood   quantity.Kilogram
	StoneDensity  quantity.Opt[float64] // kg/L where it is not StoneDensity (lava)
	Filter        quantity.Litre        // water in an outside filter and its hoses
}

// Volumes of a tank.
type Volumes struct {
	Gross   quantity.Litre // the space up to the level
	Net     quantity.Litre // the water, filter included
	Ratio   quantity.Share // net over gross
	Unusual bool           // the ratio is outside 0.55 to 0.98
}

// Of computes gross and net volume.
//
//	gross = L·W·h/1000
//	net   = gross - L·W·s/1000·(1-φ) - stone/2.65 - wood/1.1 + filter     (cm, L, kg)
//
// Lengths must be above 0 and at most 10 m, the substrate lower than the water,
// and something must be left for water. Better than any calculation is a meter at
// the first filling, or BySalt. Source: geometry; porosities from R. A. Freeze
// and J. A. Cherry (1979), Groundwater, table 2.4.
func Of(s Setup) (Volumes, error) {
	for _, c := range [...]struct {
		name   string
		v      float64
		lo, hi float64
		unit   string
	}{
		{"The inner length", float64(s.Length), 1, largestSide, "cm"},
		{"The inner width", float64(s.Width), 1, largestSide, "cm"},
		{"The water level", float64(s.Level), 1, largestSide, "cm"},
		{"The substrate's depth", float64(s.Substrate), 0, float64(s.Level), "cm"},
		{"Porosity", float64(s.Porosity), 0, 0.9, ""},
		{"Stone", float64(s.Stone), 0, largestFilling, "kg"},
		{"Wood", float64(s.Wood), 0, largestFilling, "kg"},
		{"The stone's density", s.StoneDensity.Or(StoneDensity), 0.5, 5, "kg/L"},
		{"The filter's volume", float64(s.Filter), 0, largestFilling, "L"},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return Volumes{}, err
		}
	}
	base := float64(s.Length) * float64(s.Width) / 1000
	gross := base * float64(s.Level)
	net := gross - float64(float64(base*float64(s.Substrate))*(1-float64(s.Porosity))) -
		float64(s.Stone)/s.StoneDensity.Or(StoneDensity) - float64(s.Wood)/WoodDensity
	if net <= 0 {
		return Volumes{}, fault.New(fault.Invalid, "Substrate, stone and wood would take up all %.3g L of the tank; one of the figures is too large.", gross)
	}
	net += float64(s.Filter)
	r := net / gross
	return Volumes{
		Gross: quantity.Litre(gross), Net: quantity.Litre(net), Ratio: quantity.Share(r),
		Unusual: r < usualNetLow || r > usualNetHigh,
	}, nil
}

// Inner returns an inner length from an outer one and the thickness of the glass.
func Inner(outer quantity.Centimetre, glass quantity.Millimetre) (quantity.Centimetre, error) {
	if err := num.Within("The glass's thickness", float64(glass), 0, 60, "mm"); err != nil {
		return 0, err
	}
	v := float64(outer) - 2*float64(glass)/10
	if err := num.Within("The inner length", v, 0.1, largestSide, "cm"); err != nil {
		return 0, err
	}
	return quantity.Centimetre(v), nil
}
