package tank

import (
	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

func gearNumbers() []number[GearEvent] {
	return []number[GearEvent]{
		in("gross", "The cylinder's weight", typed.Mass, span(0.05, 200), span(0.5, 40), func(e *GearEvent) *q.Opt[q.Kilogram] { return &e.Gross }),
	}
}

// GearMeasures are the numbers that the form of a gear event asks for.
func GearMeasures() []typed.Measure { return measures(gearNumbers()) }

// ParseGearEvent reads the form of one event but for its day and time.
func ParseGearEvent(f *typed.Form) GearEvent {
	var e, none GearEvent
	e.Gear = typed.Must(f, "gear", idsOf[string](Gears), "Choose the gear.")
	e.What = typed.Must(f, "what", idsOf[string](GearActs), "Choose what was done.")
	readNumbers(f, gearNumbers(), &e, &none)
	e.Number = f.Line("number", MaxName)
	e.TestedOn = f.Day("tested_on")
	e.Note = f.Text("note", MaxNote)
	if e.Gear != "cylinder" && (e.Gross.OK || e.Number != "" || e.TestedOn.OK) && e.Gear != "" {
		f.Faults.Add("gear", fault.Impossible, "Weight, number and test date are those of a cylinder; choose the CO2 cylinder or leave them empty.")
	}
	return e
}
