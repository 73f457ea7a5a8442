package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
)

// saltFor is how much of a salt raises a solute by so many mg/L in the net
// water; nothing where the volume is not known.
func (v *View) saltFor(id, what string, of q.Kind, rise float64) []Amount {
	if !v.Net.OK || !(rise > 0) {
		return nil
	}
	s, err := salt.Find(id)
	if err != nil {
		return []Amount(nil)
	}
	solute, ok := salt.FromKind(of)
	if !ok {
		return nil
	}
	d, err := salt.ForRise(s, solute, rise, v.Net.V)
	if err != nil {
		return nil
	}
	return []Amount{{what, float64(d.Mass), q.Gr}}
}

// slowly reports whether this tank's animals feel a step of salts.
func (v *View) slowly() bool {
	if v.Shrimp || v.Snails {
		return true
	}
	for _, a := range v.Setup.Animals {
		if a.Count > 0 && (a.Group == "tetras_sensitive" || a.Group == "dwarf_cichlids") {
			return true
		}
	}
	return v.Animals
}
