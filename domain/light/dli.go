// Package light turns PAR readings into what plants and people need to know of
// them: the daily sum, the spread over the tank, what a change of lamp, hours or
// height does, and how a new tank is brought up to its light.
package light

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// DLI returns the daily light integral of a steady PPFD (0 to 3000 µmol/m²/s)
// over the hours of light (0 to 24).
//
//	DLI = PPFD · h · 3600/1e6 mol/m²/d
//
// Source: definition.
func DLI(ppfd quantity.Micromol, lit quantity.Hours) (quantity.MolPerDay, error) {
	if err := checkPPFD(ppfd); err != nil {
		return 0, err
	}
	if err := num.Within("Hours of light", float64(lit), 0, 24, "h"); err != nil {
		return 0, err
	}
	return quantity.MolPerDay(float64(ppfd) * float64(lit) * 3600 / 1e6), nil
}

// PPFDForDLI returns the steady PPFD that gives a daily integral (0 to 100
// mol/m²/d) in the hours of light (above 0, to 24).
func PPFDForDLI(dli quantity.MolPerDay, lit quantity.Hours) (quantity.Micromol, error) {
	if err := num.Within("The daily light integral", float64(dli), 0, 100, "mol/m²/d"); err != nil {
		return 0, err
	}
	if err := num.Within("Hours of light", float64(lit), 0.1, 24, "h"); err != nil {
		return 0, err
	}
	return quantity.Micromol(float64(dli) * 1e6 / (float64(lit) * 3600)), nil
}

func checkPPFD(v quantity.Micromol) error {
	return num.Within("PPFD", float64(v), 0, 3000, "µmol/m²/s")
}
