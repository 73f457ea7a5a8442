package salt

import (
	"scaperound/domain/chem"
	"scaperound/domain/fault"
)

// Salt is a substance as it is sold.
type Salt struct {
	ID         string     // the formula as sold, or the name of a chelate
	Name       string     // for people
	Mass       float64    // g/mol with its crystal water; 0 for a technical product
	WaterMass  float64    // g/mol of the crystal water
	Gives      Amounts    // g per g; alkalinity in meq per g
	Saturated  [2]float64 // mass % of the anhydrous salt in the saturated solution at 20 and 25 °C; 0 where not known
	Statements []string   // hazard statements as usually registered; the supplier's data sheet rules
	Traits     Trait
}

// Trait is something that decides what a salt may be used or bottled with.
type Trait uint16

// Traits.
const (
	Oxidiser   Trait = 1 << iota // feeds a fire
	Reports                      // suspicious sales and losses are reported (EU 2019/1148)
	Restricted                   // not for the general public in the EU above its limit
	Ammonium                     // refused in any tank with animals
	Caustic
	Acidic
	Carbonate // gives gas with acids, precipitates calcium and magnesium
	Chelate   // destroyed by acid, by light and by free copper or zinc
	SlowToDissolve
	HeatsWhenDissolved
	FreeMetal // free iron, manganese, zinc or copper
)

// Has reports whether the salt has all of the traits.
func (s *Salt) Has(t Trait) bool { return s.Traits&t == t }

// part is so many of a solute per formula unit.
type part struct {
	of    Solute
	count float64
}

type row struct {
	formula, name string
	parts         []part
	saturated     [2]float64
	statements    []string
	traits        Trait
}

// rows is the table of the shop's salts.
//
// Sources: compositions from the formulas and the abridged atomic weights.
// Saturation: CRC Handbook of Chemistry and Physics, 98th edition, "Aqueous
// solubility of inorganic compounds at various temperatures"; urea from handbooks
// of chemical engineering. Hazard statements:
// harmonised or usual registrations under Regulation (EC) 1272/2008.
// Restrictions: Regulation (EU) 2019/1148.
var rows = []row{
	{"KNO3", "potassium nitrate", []part{{K, 1}, {NO3, 1}}, [2]float64{24.2, 27.7}, []string{"H272"}, Oxidiser | Reports},
	{"KH2PO4", "monopotassium phosphate", []part{{K, 1}, {PO4, 1}}, [2]float64{18.25, 19.97}, nil, Acidic},
	{"K2SO4", "potassium sulfate", []part{{K, 2}, {SO4, 1}}, [2]float64{9.95, 10.7}, nil, 0},
	{"KHCO3", "potassium bicarbonate", []part{{K, 1}, {Alk, 1}}, [2]float64{24.92, 26.6}, nil, Carbonate},
	{"K2CO3", "potassium carbonate", []part{{K, 2}, {Alk, 2}}, [2]float64{52.3, 52.7}, []string{"H315", "H319", "H335"}, Carbonate | Caustic},
	{"MgSO4.7H2O", "magnesium sulfate heptahydrate", []part{{Mg, 1}, {SO4, 1}}, [2]float64{25.1, 26.3}, nil, 0},
	{"CaSO4.2H2O", "gypsum", []part{{Ca, 1}, {SO4, 1}}, [2]float64{0.202, 0.205}, nil, SlowToDissolve},
	{"CaCl2.2H2O", "calcium chloride dihydrate", []part{{Ca, 1}, {Cl, 2}}, [2]float64{42.13, 44.83}, []string{"H319"}, 0},
	{"CaCl2", "calcium chloride, anhydrous", []part{{Ca, 1}, {Cl, 2}}, [2]float64{42.13, 44.83}, []string{"H319"}, HeatsWhenDissolved},
	{"Ca(NO3)2.4H2O", "calcium nitrate tetrahydrate", []part{{Ca, 1}, {NO3, 2}}, [2]float64{56.7, 59.0}, []string{"H272", "H302", "H318"}, Oxidiser | Reports},
	{"MgCl2.6H2O", "magnesium chloride hexahydrate", []part{{Mg, 1}, {Cl, 2}}, [2]float64{35.58, 35.9}, nil, 0},
	{"Mg(NO3)2.6H2O", "magnesium nitrate hexahydrate", []part{{Mg, 1}, {NO3, 2}}, [2]float64{40.8, 41.6}, []string{"H272", "H319"}, Oxidiser},
	{"NaHCO3", "sodium bicarbonate", []part{{Na, 1}, {Alk, 1}}, [2]float64{8.73, 9.32}, nil, Carbonate},
	{"NaCl", "sodium chloride", []part{{Na, 1}, {Cl, 1}}, [2]float64{26.41, 26.45}, nil, 0},
	{"CaCO3", "calcium carbonate", []part{{Ca, 1}, {Alk, 2}}, [2]float64{}, nil, Carbonate | SlowToDissolve},
	{"CO(NH2)2", "urea", []part{{UreaN, 2}}, [2]float64{51.9, 0}, nil, Ammonium},
	{"NH4Cl", "ammonium chloride", []part{{NH4, 1}, {Cl, 1}}, [2]float64{27.27, 28.34}, []string{"H302", "H319"}, Ammonium},
	{"(NH4)2SO4", "ammonium sulfate", []part{{NH4, 2}, {SO4, 1}}, [2]float64{42.9, 43.3}, nil, Ammonium},
	{"NH4NO3", "ammonium nitrate", []part{{NH4, 1}, {NO3, 1}}, [2]float64{65.5, 68.0}, []string{"H272", "H319"}, Ammonium | Oxidiser | Reports | Restricted},
	{"FeSO4.7H2O", "iron(II) sulfate heptahydrate", []part{{Fe, 1}, {SO4, 1}}, [2]float64{20.8, 22.8}, []string{"H302", "H315", "H319"}, FreeMetal | Acidic},
	{"MnSO4.H2O", "manganese sulfate monohydrate", []part{{Mn, 1}, {SO4, 1}}, [2]float64{38.6, 38.9}, []string{"H318", "H373", "H411"}, FreeMetal},
	{"ZnSO4.7H2O", "zinc sulfate heptahydrate", []part{{Zn, 1}, {SO4, 1}}, [2]float64{35.0, 36.6}, []string{"H302", "H318", "H410"}, FreeMetal},
	{"CuSO4.5H2O", "copper sulfate pentahydrate", []part{{Cu, 1}, {SO4, 1}}, [2]float64{16.7, 18.0}, []string{"H302", "H318", "H410"}, FreeMetal},
	{"H3BO3", "boric acid", []part{{B, 1}}, [2]float64{4.77, 5.48}, []string{"H360FD"}, Restricted},
	{"Na2MoO4.2H2O", "sodium molybdate dihydrate", []part{{Na, 2}, {Mo, 1}}, [2]float64{39.4, 39.4}, nil, 0},
}

// chelates are technical products: only their iron is known, and it differs from
// lot to lot; the label rules.
var chelates = []Salt{
	{ID: "Fe-EDTA", Name: "iron EDTA, 13 % Fe, up to about pH 6.5", Gives: Amounts{Fe: 0.13}, Traits: Chelate},
	{ID: "Fe-DTPA", Name: "iron DTPA, 11 % Fe, up to about pH 7.5", Gives: Amounts{Fe: 0.11}, Traits: Chelate},
	{ID: "Fe-EDDHA", Name: "iron EDDHA, 6 % Fe, also above pH 9, colours the water", Gives: Amounts{Fe: 0.06}, Traits: Chelate},
}

// soluteMass is the molar mass of one solute as it is counted.
var soluteMass = [SoluteCount]float64{
	NO3: chem.MassNO3, PO4: chem.MassPO4, K: chem.MassK, Ca: chem.MassCa, Mg: chem.MassMg, Na: chem.MassNa, Cl: chem.MassCl, SO4: chem.MassSO4,
	Alk: 1000, // 1 mol is 1000 meq
	NH4: chem.MassNH4, UreaN: chem.MassN, Fe: chem.MassFe, Mn: chem.MassMn, Zn: chem.MassZn, Cu: chem.MassCu, B: chem.MassB, Mo: chem.MassMo,
}

var table = build()

func build() []Salt {
	out := make([]Salt, 0, len(rows)+len(chelates))
	for _, r := range rows {
		f, err := chem.Weigh(r.formula)
		if err != nil {
			panic(err)
		}
		s := Salt{ID: r.formula, Name: r.name, Mass: f.Mass, WaterMass: f.Water, Saturated: r.saturated, Statements: r.statements, Traits: r.traits}
		for _, p := range r.parts {
			s.Gives[p.of] = p.count * soluteMass[p.of] / f.Mass
		}
		out = append(out, s)
	}
	return append(out, chelates...)
}

// All returns the salts in the order of the table. The slice is the caller's.
func All() []*Salt {
	out := make([]*Salt, len(table))
	for i := range table {
		out[i] = &table[i]
	}
	return out
}

// Find returns a salt by its formula or the name of a chelate; "·" and "*" may
// stand for the point.
func Find(id string) (*Salt, error) {
	norm := normal(id)
	for i := range table {
		if table[i].ID == norm {
			return &table[i], nil
		}
	}
	return nil, fault.New(fault.Invalid, "“%s” is not a salt of the table.", id)
}

func normal(id string) string {
	b := make([]byte, 0, len(id))
	for _, r := range id {
		switch r {
		case ' ':
		case '·', '*':
			b = append(b, '.')
		default:
			if r < 128 {
				b = append(b, byte(r))
			}
		}
	}
	return string(b)
}

// Fraction returns the grams of a species per gram of the salt. Beside the
// solutes it knows N (all of the nitrogen), P, and HCO3 where the salt is a
// bicarbonate. It is false for what the salt does not hold or names unknown.
func (s *Salt) Fraction(as string) (float64, bool) {
	switch as {
	case "N":
		v := s.Gives[NO3]*chem.MassN/chem.MassNO3 + s.Gives[NH4]*chem.MassN/chem.MassNH4 + s.Gives[UreaN]
		return v, v > 0
	case "P":
		v := s.Gives[PO4] * chem.MassP / chem.MassPO4
		return v, v > 0
	case "S":
		v := s.Gives[SO4] * chem.MassS / chem.MassSO4
		return v, v > 0
	case "K2O":
		f, _ := chem.PerSpecies(chem.AsK, chem.AsK2O)
		return s.Gives[K] * f, s.Gives[K] > 0
	case "P2O5":
		f, _ := chem.PerSpecies(chem.AsPO4, chem.AsP2O5)
		return s.Gives[PO4] * f, s.Gives[PO4] > 0
	case "HCO3":
		if s.ID != "KHCO3" && s.ID != "NaHCO3" {
			return 0, false
		}
		return s.Gives[Alk] / 1000 * chem.MassHCO3, true
	case "CO3":
		if s.ID != "K2CO3" && s.ID != "CaCO3" {
			return 0, false
		}
		return s.Gives[Alk] / 2000 * chem.MassCO3, true
	}
	for i := Solute(0); i < SoluteCount; i++ {
		if i != Alk && soluteNames[i] == as {
			return s.Gives[i], s.Gives[i] > 0
		}
	}
	return 0, false
}
