package chem

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Ion names a dissolved ion of an analysis.
type Ion int

// The ions that make up nearly all of the charge of fresh water.
const (
	Ca Ion = iota
	Mg
	Na
	K
	NH4
	HCO3
	Cl
	SO4
	NO3
	PO4 // counted as H2PO4-, its form at the pH of planted tanks
	IonCount
)

// Ions is an analysis in mg/L of the whole ion; zero means none.
type Ions [IonCount]quantity.MgPerLitre

// ionData holds charge, molar mass of the ion as reported (g/mol) and limiting
// molar conductivity per equivalent (S cm²/eq) at 25 °C.
//
// Source of conductivities: CRC Handbook of Chemistry and Physics, "Ionic
// conductivity and diffusion at infinite dilution".
var ionData = [IonCount]struct {
	name   string
	charge int
	mass   float64
	lambda float64
}{
	Ca:   {"Ca", 2, MassCa, 59.5},
	Mg:   {"Mg", 2, MassMg, 53.0},
	Na:   {"Na", 1, MassNa, 50.1},
	K:    {"K", 1, MassK, 73.5},
	NH4:  {"NH4", 1, MassNH4, 73.5},
	HCO3: {"HCO3", -1, MassHCO3, 44.5},
	Cl:   {"Cl", -1, MassCl, 76.3},
	SO4:  {"SO4", -2, MassSO4, 80.0},
	NO3:  {"NO3", -1, MassNO3, 71.4},
	PO4:  {"PO4", -1, MassPO4, 34.5},
}

// String returns the ion's symbol.
func (i Ion) String() string { return ionData[i].name }

// Charge returns the ion's charge number.
func (i Ion) Charge() int { return ionData[i].charge }

// Mass returns the ion's molar mass in g/mol.
func (i Ion) Mass() float64 { return ionData[i].mass }

func (w Ions) check() error {
	for i, c := range w {
		if c < 0 || math.IsNaN(float64(c)) || c > 100000 {
			return num.Within(ionData[i].name, float64(c), 0, 100000, "mg/L")
		}
	}
	return nil
}
