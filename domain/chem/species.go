package chem

// Species is how a kit, a label or a report writes an amount. Mixing two of
// them up is an error by a factor of 1.2 to 4.4, so every reading that comes in
// is turned into the whole ion, and TAN into nitrogen, before anything else.
type Species string

// The species that are met on kits, fertiliser labels and water reports.
const (
	AsNO3   Species = "NO3"
	AsNO3N  Species = "NO3-N"
	AsNO2   Species = "NO2"
	AsNO2N  Species = "NO2-N"
	AsNH4   Species = "NH4"
	AsNH3   Species = "NH3"
	AsTAN   Species = "TAN" // ammonia nitrogen, NH3 and NH4 together
	AsNH3N  Species = "NH3-N"
	AsNH4N  Species = "NH4-N"
	AsPO4   Species = "PO4"
	AsP     Species = "P"
	AsP2O5  Species = "P2O5"
	AsK     Species = "K"
	AsK2O   Species = "K2O"
	AsCa    Species = "Ca"
	AsCaO   Species = "CaO"
	AsMg    Species = "Mg"
	AsMgO   Species = "MgO"
	AsSO4   Species = "SO4"
	AsSO4S  Species = "SO4-S"
	AsHCO3  Species = "HCO3"
	AsCaCO3 Species = "CaCO3"
)

// atomsOf returns the element that carries the species and the mass of the
// species per mole of that element.
func atomsOf(s Species) (element string, mass float64) {
	switch s {
	case AsNO3:
		return "NO3", MassNO3
	case AsNO3N:
		return "NO3", massN
	case AsNO2:
		return "NO2", MassNO2
	case AsNO2N:
		return "NO2", massN
	case AsNH4:
		return "TAN", MassNH4
	case AsNH3:
		return "TAN", MassNH3
	case AsTAN, AsNH3N, AsNH4N:
		return "TAN", massN
	case AsPO4:
		return "P", MassPO4
	case AsP:
		return "P", massP
	case AsP2O5:
		return "P", (2*massP + 5*massO) / 2
	case AsK:
		return "K", massK
	case AsK2O:
		return "K", (2*massK + massO) / 2
	case AsCa:
		return "Ca", massCa
	case AsCaO:
		return "Ca", MassCaO
	case AsMg:
		return "Mg", massMg
	case AsMgO:
		return "Mg", massMg + massO
	case AsSO4:
		return "S", MassSO4
	case AsSO4S:
		return "S", massS
	case AsHCO3:
		return "alk", MassHCO3
	case AsCaCO3:
		return "alk", MassCaCO3 / 2
	}
	return "", 0
}

// PerSpecies returns how many mg/L of `to` one mg/L of `from` is. It is false
// where the two do not speak of the same thing (nitrate and nitrite, say).
//
// Source: molar masses from the abridged atomic weights.
func PerSpecies(from, to Species) (float64, bool) {
	a, ma := atomsOf(from)
	b, mb := atomsOf(to)
	if a == "" || a != b {
		return 0, false
	}
	return mb / ma, true
}
