package light

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Dimmed returns the PPFD after moving a dimmer from one per cent to another (above
// 0 to 100, to 0 to 100), taking the lamp as linear. Many are not, below a third:
// measure again there.
func Dimmed(ppfd quantity.Micromol, from, to float64) (quantity.Micromol, error) {
	if err := checkPPFD(ppfd); err != nil {
		return 0, err
	}
	if err := num.Within("The dimmer's setting", from, 1, 100, "%"); err != nil {
		return 0, err
	}
	if err := num.Within("The dimmer's new setting", to, 0, 100, "%"); err != nil {
		return 0, err
	}
	return checked(float64(ppfd) * to / from)
}

// Raised returns the PPFD after hanging a lamp from one height over the leaves (cm,
// 5 to 300) at another: between 1/d, a long lamp close by, and 1/d², a small one
// far off. The value is the middle of the two on a ratio scale; both ends are given.
//
// Source: inverse-square law and its limit for a line.
func Raised(ppfd quantity.Micromol, from, to quantity.Centimetre) (quantity.Interval, error) {
	if err := checkPPFD(ppfd); err != nil {
		return quantity.Interval{}, err
	}
	if err := num.Within("The lamp's height", float64(from), 5, 300, "cm"); err != nil {
		return quantity.Interval{}, err
	}
	if err := num.Within("The lamp's new height", float64(to), 5, 300, "cm"); err != nil {
		return quantity.Interval{}, err
	}
	r := float64(from / to)
	line, point := float64(ppfd)*r, float64(ppfd)*r*r
	return quantity.Interval{Value: float64(ppfd) * num.Pow(r, 1.5), Lo: min(line, point), Hi: max(line, point)}, nil
}

// HoursForDLI returns the hours of a PPFD (above 0) that give a daily integral; a
// result above 24 is a fault.
func HoursForDLI(dli quantity.MolPerDay, ppfd quantity.Micromol) (quantity.Hours, error) {
	if err := num.Within("The daily light integral", float64(dli), 0, 100, "mol/m²/d"); err != nil {
		return 0, err
	}
	if err := num.Within("PPFD", float64(ppfd), 0.1, 3000, "µmol/m²/s"); err != nil {
		return 0, err
	}
	h := float64(dli) * 1e6 / (float64(ppfd) * 3600)
	if err := num.Within("Hours of light", h, 0, 24, "h"); err != nil {
		return 0, err
	}
	return quantity.Hours(h), nil
}

func checked(v float64) (quantity.Micromol, error) {
	return quantity.Micromol(v), checkPPFD(quantity.Micromol(v))
}
