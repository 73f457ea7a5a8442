// Package salt is what is weighed: the salts, what each brings besides what is
// wanted, how much is needed, what may share a bottle, and the recipes for
// doses, stock bottles and change water.
package salt

import "scaperound/domain/quantity"

// Solute is what a salt brings into the water.
type Solute int

// Solutes, in mg of the whole ion unless the name says otherwise.
const (
	NO3 Solute = iota
	PO4
	K
	Ca
	Mg
	Na
	Cl
	SO4
	Alk // alkalinity, in meq
	NH4
	UreaN // nitrogen of urea
	Fe
	Mn
	Zn
	Cu
	B
	Mo
	SoluteCount
)

var soluteNames = [SoluteCount]string{"NO3", "PO4", "K", "Ca", "Mg", "Na", "Cl", "SO4", "alkalinity", "NH4", "urea-N", "Fe", "Mn", "Zn", "Cu", "B", "Mo"}

// String returns the solute's symbol.
func (s Solute) String() string {
	if s < 0 || s >= SoluteCount {
		return "?"
	}
	return soluteNames[s]
}

// Amounts holds one number for each solute: mg/L (meq/L of alkalinity) of a
// water or a rise, or g per g (meq per g) of a salt.
type Amounts [SoluteCount]float64

// Add returns a + f·b.
func (a Amounts) Add(f float64, b *Amounts) Amounts {
	for i := range a {
		a[i] += float64(f * b[i])
	}
	return a
}

// FromKind returns the solute that a reading of this kind measures as the whole
// ion.
func FromKind(k quantity.Kind) (Solute, bool) {
	switch k {
	case quantity.Nitrate:
		return NO3, true
	case quantity.Phosphate:
		return PO4, true
	case quantity.Potassium:
		return K, true
	case quantity.Calcium:
		return Ca, true
	case quantity.Magnesium:
		return Mg, true
	case quantity.Sodium:
		return Na, true
	case quantity.Chloride:
		return Cl, true
	case quantity.Sulfate:
		return SO4, true
	case quantity.Iron:
		return Fe, true
	case quantity.Copper:
		return Cu, true
	case quantity.Zinc:
		return Zn, true
	}
	return 0, false
}
