package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// Gears that events are recorded for, in the order of the form.
var Gears = []Group{
	{"filter", "Filter"}, {"light", "Light"}, {"heater", "Heater"}, {"co2", "CO2 system"},
	{"cylinder", "CO2 cylinder"}, {"doser", "Doser"}, {"timer", "Timer"}, {"other", "Other gear"},
}

// GearActs are what may be done to gear, in the order of the form.
var GearActs = []Group{
	{"cleaned", "Cleaned"}, {"swapped", "Swapped"}, {"refilled", "Refilled"}, {"calibrated", "Calibrated"},
	{"repaired", "Repaired"}, {"set", "Set"},
}

// GearEvent is something done to the gear.
type GearEvent struct {
	ID       string
	Visit    string // id; empty: none
	At       time.Time
	Gear     string            // an id of Gears
	What     string            // an id of GearActs
	Gross    q.Opt[q.Kilogram] // cylinder weighed full, with the regulator on
	Number   string            // of the cylinder
	TestedOn q.Opt[q.Date]     // stamped on the cylinder
	Note     string
	Author   string // name, when read
}

// TitleIn is the name of an id in a list of choices, or the id itself.
func TitleIn(choices []Group, id string) string {
	for _, c := range choices {
		if c.ID == id {
			return c.Name
		}
	}
	return id
}

// Holds reports whether the id is one of the choices.
func Holds(choices []Group, id string) bool {
	for _, c := range choices {
		if c.ID == id {
			return true
		}
	}
	return false
}
