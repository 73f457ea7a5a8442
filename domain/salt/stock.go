package salt

import (
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// SafeSaturation is how near to saturation a stock solution may be at the coldest
// temperature it is stored at.
const SafeSaturation = 0.7

// Bottle is a stock solution.
type Bottle struct {
	Size        quantity.Litre
	DoseML      quantity.Millilitre
	Weigh       []Weighed      // for the whole bottle
	Saturation  quantity.Share // sum over the salts of content over solubility
	TooMuch     bool           // above SafeSaturation: a larger dose volume or another bottle
	Extrapolate bool           // a solubility below 20 °C was extrapolated
	NotKnown    []string       // salts without a solubility here
	Doses       float64
}

// PerLitre returns the grams of a salt in a litre of stock so that a dose in
// millilitres raises a solute by rise in the net volume.
//
//	m = Δc·V/(1000·fraction) · 1000/mL
func PerLitre(s *Salt, of Solute, rise float64, net quantity.Litre, dose quantity.Millilitre) (quantity.Gram, error) {
	if err := num.Within("The dose", float64(dose), 0.05, 1000, "mL"); err != nil {
		return 0, err
	}
	d, err := ForRise(s, of, rise, net)
	if err != nil {
		return 0, err
	}
	return d.Mass * 1000 / quantity.Gram(dose), nil
}

// Stock makes up a bottle of a size (L) of which each dose of so many millilitres
// brings the given grams. coldest is the lowest temperature it is stored at.
//
// Salts that share a bottle share its water, so what counts is the sum of their
// contents over their solubilities; common ions make it worse, which the margin of
// 30 % is for. Salts that do not go together are an Invalid fault.
func Stock(perDose []Weighed, dose quantity.Millilitre, size quantity.Litre, coldest quantity.Celsius) (Bottle, error) {
	if err := num.Within("The dose", float64(dose), 0.05, 1000, "mL"); err != nil {
		return Bottle{}, err
	}
	if err := num.Within("The bottle", float64(size), 0.01, 100, "L"); err != nil {
		return Bottle{}, err
	}
	if len(perDose) == 0 {
		return Bottle{}, fault.New(fault.Invalid, "A bottle needs at least one salt.")
	}
	for i, a := range perDose {
		for _, b := range perDose[:i] {
			if why, bad := Conflict(a.Salt, b.Salt); bad {
				return Bottle{}, &fault.Error{Kind: fault.Invalid, Code: "conflict", Msg: a.Salt.ID + " and " + b.Salt.ID + " must not share a bottle: " + why.Text()}
			}
		}
	}
	b := Bottle{Size: size, DoseML: dose, Doses: float64(size) * 1000 / float64(dose)}
	for _, w := range perDose {
		if err := num.Within("The amount of "+w.Salt.ID, float64(w.Mass), 0, 1e5, "g"); err != nil {
			return Bottle{}, err
		}
		perLitre := float64(w.Mass) * 1000 / float64(dose)
		b.Weigh = append(b.Weigh, Weighed{w.Salt, quantity.Gram(perLitre * float64(size))})
		most, far, err := w.Salt.PerLitre(coldest)
		if err != nil {
			if w.Salt.Saturated[0] != 0 {
				return Bottle{}, err
			}
			b.NotKnown = append(b.NotKnown, w.Salt.ID)
			continue
		}
		b.Extrapolate = b.Extrapolate || far
		b.Saturation += quantity.Share(perLitre / float64(most))
	}
	b.TooMuch = b.Saturation > SafeSaturation
	return b, nil
}

// SmallestDose returns the dose volume at which the same salts per dose come to
// just SafeSaturation. Salts without a known solubility are left out.
func SmallestDose(perDose []Weighed, coldest quantity.Celsius) (quantity.Millilitre, error) {
	sum := 0.0
	for _, w := range perDose {
		if w.Salt.Saturated[0] == 0 {
			continue
		}
		most, _, err := w.Salt.PerLitre(coldest)
		if err != nil {
			return 0, err
		}
		sum += float64(w.Mass) / float64(most)
	}
	return quantity.Millilitre(sum / SafeSaturation * 1000), nil
}
