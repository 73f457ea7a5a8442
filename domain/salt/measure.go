package salt

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Strokes returns how many pump strokes, or drops, of a calibrated size (mL each)
// a dose is, as a real number; the view rounds and says what the rounding costs.
func Strokes(dose, each quantity.Millilitre) (float64, error) {
	if err := num.Within("The dose", float64(dose), 0, 10000, "mL"); err != nil {
		return 0, err
	}
	if err := num.Within("One stroke", float64(each), 0.005, 100, "mL"); err != nil {
		return 0, err
	}
	return float64(dose) / float64(each), nil
}

// Spoons returns how many level spoons of a dry salt (grams each, weighed as ten at
// once) an amount is.
func Spoons(amount, each quantity.Gram) (float64, error) {
	if err := num.Within("The amount", float64(amount), 0, 10000, "g"); err != nil {
		return 0, err
	}
	if err := num.Within("One spoon", float64(each), 0.01, 100, "g"); err != nil {
		return 0, err
	}
	return float64(amount) / float64(each), nil
}

// PumpSeconds returns how long a dosing pump of a calibrated rate runs for a dose.
func PumpSeconds(dose quantity.Millilitre, perMinute quantity.Millilitre) (quantity.Seconds, error) {
	if err := num.Within("The dose", float64(dose), 0, 10000, "mL"); err != nil {
		return 0, err
	}
	if err := num.Within("The pump's rate", float64(perMinute), 0.01, 10000, "mL a minute"); err != nil {
		return 0, err
	}
	return quantity.Seconds(float64(dose) / float64(perMinute) * 60), nil
}

// UnsafeCopper is the copper above which shrimp and snails are at risk, mg/L.
//
// Source: R. Yang et al. (2008) for a freshwater shrimp (LC50 0.031 mg/L); J. W.
// Arthur and E. N. Leonard (1970), J. Fish. Res. Board Can. 27, 1277, for
// amphipods (effects from 0.005 to 0.015).
const UnsafeCopper quantity.MgPerLitre = 0.010

// CopperOf returns the copper (mg/L) that a dose of several salts, and a trace mix
// as one of them, brings to the net volume, and whether together with what is there
// it passes UnsafeCopper.
func CopperOf(there quantity.MgPerLitre, net quantity.Litre, doses ...Weighed) (adds quantity.MgPerLitre, unsafe bool, err error) {
	if err := num.Within("Copper", float64(there), 0, 100, "mg/L"); err != nil {
		return 0, false, err
	}
	for _, w := range doses {
		d, err := Brings(w, net)
		if err != nil {
			return 0, false, err
		}
		adds += quantity.MgPerLitre(d.Adds[Cu])
	}
	return adds, there+adds > UnsafeCopper, nil
}

// TraceMix is a salt of the shop's own: a mix known only by its label, in g per g.
// Shares outside 0 to 1, or more than 1 together, are an Invalid fault.
func TraceMix(name string, gives Amounts) (*Salt, error) {
	sum := 0.0
	for i, v := range gives {
		if Solute(i) == Alk {
			continue
		}
		if err := num.Within("The share of "+Solute(i).String(), v, 0, 1, ""); err != nil {
			return nil, err
		}
		sum += v
	}
	if err := num.Within("All shares together", sum, 0, 1, ""); err != nil {
		return nil, err
	}
	return &Salt{ID: name, Name: name, Gives: gives, Traits: Chelate}, nil
}
