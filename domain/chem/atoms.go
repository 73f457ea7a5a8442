package chem

// Standard atomic weights, abridged to five figures, in g/mol.
//
// Source: IUPAC Commission on Isotopic Abundances and Atomic Weights, table of
// abridged standard atomic weights. Where an element's weight is an interval,
// this is the conventional value.
const (
	massH  = 1.008
	massB  = 10.81
	massC  = 12.011
	massN  = 14.007
	massO  = 15.999
	massNa = 22.990
	massMg = 24.305
	massP  = 30.974
	massS  = 32.06
	massCl = 35.45
	massK  = 39.098
	massCa = 40.078
	massMn = 54.938
	massFe = 55.845
	massCu = 63.546
	massZn = 65.38
	massMo = 95.95
)

// Molar masses of the ions and molecules that readings and salts speak of, in
// g/mol.
const (
	MassCO2  = massC + 2*massO
	MassHCO3 = massH + massC + 3*massO
	MassCO3  = massC + 3*massO
	MassN    = massN
	MassNH3  = massN + 3*massH
	MassNH4  = massN + 4*massH
	MassNO2  = massN + 2*massO
	MassNO3  = massN + 3*massO
	MassP    = massP
	MassPO4  = massP + 4*massO
	MassSO4  = massS + 4*massO
	MassCl   = massCl
	MassCl2  = 2 * massCl
	MassNa   = massNa
	MassK    = massK
	MassCa   = massCa
	MassMg   = massMg
	MassS    = massS
	MassFe   = massFe
	MassMn   = massMn
	MassZn   = massZn
	MassCu   = massCu
	MassB    = massB
	MassMo   = massMo
	MassCaO  = massCa + massO
	MassNaCl = massNa + massCl

	MassCaCO3 = massCa + massC + 3*massO
)

// element returns the weight of an element by its symbol.
func element(symbol string) (float64, bool) {
	switch symbol {
	case "H":
		return massH, true
	case "B":
		return massB, true
	case "C":
		return massC, true
	case "N":
		return massN, true
	case "O":
		return massO, true
	case "Na":
		return massNa, true
	case "Mg":
		return massMg, true
	case "P":
		return massP, true
	case "S":
		return massS, true
	case "Cl":
		return massCl, true
	case "K":
		return massK, true
	case "Ca":
		return massCa, true
	case "Mn":
		return massMn, true
	case "Fe":
		return massFe, true
	case "Cu":
		return massCu, true
	case "Zn":
		return massZn, true
	case "Mo":
		return massMo, true
	}
	return 0, false
}
