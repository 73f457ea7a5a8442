package due

import (
	"strconv"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// Van is one of the shop's vans and what it can carry.
type Van struct {
	ID, Name  string
	Water     q.Opt[q.Litre] // not known: no limit
	Cylinders q.Opt[int]     // not known: no limit
	Note      string
	Archived  bool
	Version   int
}

var (
	vanWater     = typed.Measure{Name: "water", What: "The water", Dim: typed.Volume, Possible: q.Range{Lo: 0, Hi: 20000}, Likely: q.Range{Lo: 20, Hi: 2000}}
	vanCylinders = typed.Measure{Name: "cylinders", What: "The number of cylinders", Dim: typed.Plain("1"), Possible: q.Range{Lo: 0, Hi: 100}, Likely: q.Range{Lo: 0, Hi: 20}}
)

// ParseVan reads the form of a van. ID, Archived and Version are those of was.
func ParseVan(get typed.Fields, units say.Units, was Van) (Van, fault.Fields) {
	f := typed.Form{Get: get, Units: units}
	v := Van{ID: was.ID, Archived: was.Archived, Version: was.Version}
	v.Name = f.Name("name", maxName, "Type what you call this van among yourselves.")
	v.Water = typed.As[q.Litre](f.Number(vanWater, typed.Float(was.Water)))
	v.Cylinders = f.Whole(vanCylinders, was.Cylinders)
	v.Note = f.Line("note", maxLine)
	return v, f.Faults
}

// Typed is what ParseVan reads, in a reader's units.
func (v Van) Typed(units say.Units) map[string]string {
	out := map[string]string{"name": v.Name, "note": v.Note, "water": vanWater.Dim.Show(typed.Float(v.Water), units), "water.unit": string(vanWater.Dim.Units(units.System)[0])}
	if v.Cylinders.OK {
		out["cylinders"] = strconv.Itoa(v.Cylinders.V)
	}
	return out
}

// WaterMeasure is the measure of a van's water, for the form's units.
func WaterMeasure() typed.Measure { return vanWater }
