package salt

import (
	"scaperound/domain/chem"
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Weighed is so much of a salt.
type Weighed struct {
	Salt *Salt
	Mass quantity.Gram
}

// Dose is an amount of a salt for a body of water and all that it brings.
type Dose struct {
	Weighed
	Adds Amounts           // mg/L, alkalinity in meq/L
	GH   quantity.DegreeGH // rise
	KH   quantity.DegreeKH // rise
}

func checkNet(net quantity.Litre) error {
	return num.Within("The net volume", float64(net), 0.1, 1e6, "L")
}

// ForRise returns how much of a salt raises a solute by rise (mg/L, meq/L of
// alkalinity; 0 to 5000) in the net volume, with the co-ions that come along.
//
//	m = Δc·V/(1000·fraction) g
//
// A salt that does not hold the solute is an Invalid fault. Source: mass balance.
func ForRise(s *Salt, of Solute, rise float64, net quantity.Litre) (Dose, error) {
	if of < 0 || of >= SoluteCount || s.Gives[of] <= 0 {
		return Dose{}, fault.New(fault.Invalid, "%s brings no %s.", s.ID, of)
	}
	if err := num.Within("The wanted rise", rise, 0, 5000, "mg/L"); err != nil {
		return Dose{}, err
	}
	if err := checkNet(net); err != nil {
		return Dose{}, err
	}
	per := s.Gives[of] * 1000 // mg (meq·1000) per g
	if of == Alk {
		per = s.Gives[of]
	}
	return Brings(Weighed{s, quantity.Gram(rise * float64(net) / per)}, net)
}

// Brings returns what a weighed amount adds to the net volume: the inverse of
// ForRise.
func Brings(w Weighed, net quantity.Litre) (Dose, error) {
	if err := num.Within("The amount of "+w.Salt.ID, float64(w.Mass), 0, 1e6, "g"); err != nil {
		return Dose{}, err
	}
	if err := checkNet(net); err != nil {
		return Dose{}, err
	}
	d := Dose{Weighed: w}
	d.Adds = d.Adds.Add(float64(w.Mass)/float64(net), w.Salt.perGram())
	d.GH, d.KH = d.Adds.Hardness()
	return d, nil
}

// perGram returns mg (meq) per gram.
func (s *Salt) perGram() *Amounts {
	a := s.Gives
	for i := range a {
		if Solute(i) != Alk {
			a[i] *= 1000
		}
	}
	return &a
}

// Hardness returns GH and KH of amounts in mg/L and meq/L.
func (a *Amounts) Hardness() (quantity.DegreeGH, quantity.DegreeKH) {
	gh := (a[Ca]/chem.MassCa + a[Mg]/chem.MassMg) / chem.MmolPerDegree
	return quantity.DegreeGH(gh), quantity.DegreeKH(a[Alk] / chem.MeqPerDegree)
}

// Ions returns the amounts as an analysis, for conductivity and ionic strength.
func (a *Amounts) Ions() chem.Ions {
	return chem.Ions{
		chem.Ca: quantity.MgPerLitre(a[Ca]), chem.Mg: quantity.MgPerLitre(a[Mg]), chem.Na: quantity.MgPerLitre(a[Na]), chem.K: quantity.MgPerLitre(a[K]),
		chem.NH4: quantity.MgPerLitre(a[NH4]), chem.HCO3: quantity.MgPerLitre(a[Alk] * chem.MassHCO3), chem.Cl: quantity.MgPerLitre(a[Cl]),
		chem.SO4: quantity.MgPerLitre(a[SO4]), chem.NO3: quantity.MgPerLitre(a[NO3]), chem.PO4: quantity.MgPerLitre(a[PO4]),
	}
}

// AllowedWith returns an Invalid fault with code "animals" for a salt that is
// refused where animals live: ammonium salts and urea, whose nitrogen is a
// poison, a source of nitrite and a food for algae before plants have it.
func (s *Salt) AllowedWith(animals bool) error {
	if animals && s.Has(Ammonium) {
		return &fault.Error{Kind: fault.Invalid, Code: "animals", Msg: s.Name + " is refused in a tank with animals: it becomes ammonia and nitrite. Use a nitrate."}
	}
	return nil
}
