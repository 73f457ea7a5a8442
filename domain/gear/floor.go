package gear

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
	"scaperound/domain/volume"
)

// Weights of a set-up, in kg; a litre of water is 1 kg.
type Weights struct {
	Water                                    quantity.Litre
	Glass, Substrate, Stone, Cabinet, Others quantity.Kilogram
}

// Load is what a set-up weighs and puts on its footprint.
type Load struct {
	Mass      quantity.Kilogram
	PerSquare float64 // kg/m² of the footprint
	Pressure  float64 // kN/m²
	// AskEngineer is set from 300 kg/m² on. Floors of dwellings are designed for 1.5
	// to 2.0 kN/m² spread over the room; a small footprint may bear more or less,
	// which only a structural engineer can say.
	AskEngineer bool
}

// FloorLoad returns the load on a footprint of 10 to 1000 cm sides.
//
// Source: EN 1991-1-1, category A, for what floors are designed for; the limit
// for asking is a judgement.
func FloorLoad(length, width quantity.Centimetre, w Weights) (Load, error) {
	for _, c := range [...]struct {
		name      string
		v, lo, hi float64
		unit      string
	}{
		{"The footprint's length", float64(length), 10, 1000, "cm"},
		{"The footprint's width", float64(width), 10, 1000, "cm"},
		{"The water", float64(w.Water), 0, 1e5, "L"},
		{"The glass", float64(w.Glass), 0, 1e5, "kg"},
		{"The substrate", float64(w.Substrate), 0, 1e5, "kg"},
		{"The stones", float64(w.Stone), 0, 1e5, "kg"},
		{"The cabinet", float64(w.Cabinet), 0, 1e5, "kg"},
		{"The rest", float64(w.Others), 0, 1e5, "kg"},
	} {
		if err := num.Within(c.name, c.v, c.lo, c.hi, c.unit); err != nil {
			return Load{}, err
		}
	}
	m := quantity.Kilogram(w.Water) + w.Glass + w.Substrate + w.Stone + w.Cabinet + w.Others
	per := float64(m) / (float64(length) * float64(width) / 1e4)
	p, err := Pressure(per)
	return Load{Mass: m, PerSquare: per, Pressure: p, AskEngineer: per > 300 || m > 300}, err
}

// Pressure returns kN/m² of kg/m².
func Pressure(kgPerSquare float64) (float64, error) {
	if err := num.Within("The load", kgPerSquare, 0, 1e6, "kg/m²"); err != nil {
		return 0, err
	}
	return kgPerSquare * volume.Gravity / 1000, nil
}

// Lifting limits close to the body at waist height; less when low, high or far
// out. They are a filter for looking closer, not a permission.
//
// Source: HSE, Manual handling at work, INDG143.
const (
	LiftMen   quantity.Kilogram = 25
	LiftWomen quantity.Kilogram = 16
)
