package source

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Reaction is how thiosulfate takes up chlorine; which one runs depends on pH.
type Reaction int

// The balanced reactions.
const (
	ToSulfur        Reaction = iota // S2O3-- + Cl2 + H2O = SO4-- + S + 2 Cl- + 2 H+, one to one
	ToTetrathionate                 // 2 S2O3-- + Cl2 = S4O6-- + 2 Cl-, two to one
	ToSulfate                       // S2O3-- + 4 Cl2 + 5 H2O = 2 SO4-- + 8 Cl- + 10 H+, one to four
)

// Molar masses of sodium thiosulfate and its pentahydrate, g/mol.
const (
	massThiosulfate  = 2*chem.MassNa + 2*chem.MassS + 3*15.999
	massPentahydrate = massThiosulfate + 5*(2*1.008+15.999)
)

// PlannedThiosulfate is what is dosed, in mg of the pentahydrate per mg of Cl2:
// the amount for the most demanding of the reactions.
const PlannedThiosulfate = 2 * massPentahydrate / chem.MassCl2

// Thiosulfate returns mg of sodium thiosulfate, as pentahydrate or anhydrous,
// per mg of chlorine (as Cl2) by one reaction.
//
// Source: stoichiometry.
func Thiosulfate(r Reaction, pentahydrate bool) (float64, error) {
	if err := num.Within("The reaction", float64(r), 0, float64(ToSulfate), ""); err != nil {
		return 0, err
	}
	perCl2 := [...]float64{1, 2, 0.25}[r]
	m := massThiosulfate
	if pentahydrate {
		m = massPentahydrate
	}
	return perCl2 * m / chem.MassCl2, nil
}

// Dechlorinator returns the grams of thiosulfate pentahydrate for water with
// chlorine or chloramine (0 to 10 mg/L as Cl2), planned for the most demanding
// reaction. Water treated in a bin is dosed for its own volume; water that runs
// straight into the tank for the whole tank.
//
// Source: stoichiometry; planning figure as used by water utilities.
func Dechlorinator(cl2 quantity.MgPerLitre, treated quantity.Litre) (quantity.Gram, error) {
	if err := num.Within("Chlorine", float64(cl2), 0, 10, "mg/L"); err != nil {
		return 0, err
	}
	if err := num.Within("The water treated", float64(treated), 0, 1e6, "L"); err != nil {
		return 0, err
	}
	return quantity.Gram(float64(cl2) * float64(treated) * PlannedThiosulfate / 1000), nil
}

// AmmoniaFromChloramine returns the ammonia nitrogen that chloramine (0 to 10
// mg/L as Cl2) leaves when it is reduced: one nitrogen per chlorine equivalent.
func AmmoniaFromChloramine(cl2 quantity.MgPerLitre) (quantity.MgNPerLitre, error) {
	if err := num.Within("Chloramine", float64(cl2), 0, 10, "mg/L as Cl2"); err != nil {
		return 0, err
	}
	return quantity.MgNPerLitre(float64(cl2) * chem.MassN / chem.MassCl2), nil
}

// Limits of chlorine for freshwater animals, mg/L.
//
// Source: US EPA (1985), Ambient Water Quality Criteria for Chlorine - 1984, EPA
// 440/5-84-030.
const (
	ChlorineAcute   quantity.MgPerLitre = 0.019
	ChlorineChronic quantity.MgPerLitre = 0.011
)
