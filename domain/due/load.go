package due

import (
	"cmp"
	"maps"
	"slices"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
)

// Carry is what a visit to a tank takes along, by the judgement of its last one.
type Carry struct {
	Bring []string      // words' ids
	Weigh []care.Amount // into the change water
	Water q.Litre       // osmosis water
	Open  int           // open tasks
}

// CarryOf reads it from a judgement.
func CarryOf(a care.Assessment) Carry {
	return Carry{Bring: a.Next.Bring, Weigh: a.Recipe.Weigh, Water: q.Litre(Water(a))}
}

// LoadList is what goes into the van for a day, summed over its tanks.
type LoadList struct {
	Water     q.Litre
	Weigh     []care.Amount
	Cylinders int
	Bring     []Counted // tools, kits and the like
}

// Counted is a thing and for how many tanks it is wanted.
type Counted struct {
	What  string // a word's id
	Tanks int
}

// twice are what is taken once for each tank that wants it; of the rest one goes
// round with the person.
var twice = []string{"own_net", "mature_media", "carbon", "strap", "clean_bottle"}

// Each reports whether a thing is taken once for each tank that wants it.
func (c Counted) Each() bool { return slices.Contains(twice, c.What) }

// Load sums what the tanks of a day take.
func Load(of []Carry) LoadList {
	var l LoadList
	mass := map[care.Amount]float64{}
	things := map[string]int{}
	for _, c := range of {
		l.Water += c.Water
		for _, w := range c.Weigh {
			mass[care.Amount{What: w.What, Unit: w.Unit}] += w.Value
		}
		for _, b := range c.Bring {
			switch b {
			case "full_cylinder":
				l.Cylinders++
			case "ro_water": // its litres say it
			default:
				things[b]++
			}
		}
	}
	for _, k := range slices.SortedFunc(maps.Keys(mass), func(a, b care.Amount) int { return cmp.Compare(a.What, b.What) }) {
		l.Weigh = append(l.Weigh, care.Amount{What: k.What, Unit: k.Unit, Value: mass[k]})
	}
	for _, what := range slices.Sorted(maps.Keys(things)) {
		l.Bring = append(l.Bring, Counted{What: what, Tanks: things[what]})
	}
	return l
}
