package tank

import q "scaperound/domain/quantity"

// classes makes printed classes from their labels: a colour between two labels
// belongs to the nearer, and the last class has an open end.
func classes(labels ...float64) []Class {
	out := make([]Class, len(labels))
	lo := 0.0
	for i, l := range labels {
		out[i] = Class{Label: l, Lo: lo}
		if i+1 < len(labels) {
			lo = (l + labels[i+1]) / 2
			out[i].Hi = q.Some(lo)
		}
	}
	return out
}

// drops is a titration: one drop in 5 mL of sample is one step.
func drops(name string, k q.Kind, unit q.Unit, step float64) Kit {
	return Kit{Name: name, Measures: k, Type: Drops, Unit: unit, Step: q.Some(step), SampleML: q.Some(q.Millilitre(5))}
}

// card is a colour kit. Its floor is the first class above nothing.
func card(name string, k q.Kind, ml float64, labels ...float64) Kit {
	c := classes(labels...)
	kit := Kit{Name: name, Measures: k, Type: Classes, Unit: unitOf(k), SampleML: q.Some(q.Millilitre(ml)), Classes: c}
	if len(c) > 1 && labels[0] == 0 {
		kit.Floor = c[0].Hi
	}
	return kit
}

// meter has a last digit and a standard deviation, both in the unit.
func meter(name string, k q.Kind, unit q.Unit, step, sd float64) Kit {
	return Kit{Name: name, Measures: k, Type: Meter, Unit: unit, Step: q.Some(step), SD: q.Some(sd)}
}

func unitOf(k q.Kind) q.Unit {
	m, _ := q.MeasureOf(k)
	return m.Unit
}

// StandardKits returns the instruments of a new shop: of no make, with the steps and
// classes that kits of their type have. A shop replaces them by its own.
func StandardKits() []Kit {
	return []Kit{
		meter("Thermometer", q.Temperature, q.DegC, 0.1, 0.3),
		meter("pH meter", q.Acidity, q.PHUnit, 0.01, 0.05),
		card("pH colours", q.Acidity, 5, 6, 6.4, 6.6, 6.8, 7, 7.2, 7.6, 8),
		drops("KH drops", q.KH, q.DKH, 1),
		drops("GH drops", q.GH, q.DGH, 1),
		card("Ammonia colours", q.TAN, 5, 0, 0.25, 0.5, 1, 2, 4, 8),
		card("NO2 colours", q.Nitrite, 5, 0, 0.05, 0.1, 0.25, 0.5, 1, 2),
		card("NO3 colours", q.Nitrate, 10, 0, 5, 10, 25, 50, 100, 160),
		card("PO4 colours", q.Phosphate, 10, 0, 0.1, 0.25, 0.5, 1, 2, 3),
		card("K turbidity", q.Potassium, 15, 0, 3, 5, 8, 10, 15, 20, 30),
		card("Fe colours", q.Iron, 5, 0, 0.05, 0.1, 0.2, 0.5, 1),
		card("Copper colours", q.Copper, 10, 0, 0.05, 0.1, 0.2, 0.5),
		card("Free chlorine colours", q.FreeChlorine, 10, 0, 0.02, 0.05, 0.1, 0.25, 0.5, 1),
		card("Silicate colours", q.Silicate, 5, 0, 0.4, 1, 2, 4),
		meter("Conductivity meter", q.EC, q.USCm, 1, 10),
		meter("PAR sensor", q.PPFD, q.Umol, 1, 4),
		{Name: "Bucket and watch", Measures: q.Flow, Type: Bucket, Unit: q.LH, SD: q.Some(20.0)},
		{Name: "Cylinder scale", Measures: q.CylinderGross, Type: Scale, Unit: q.Kg, Step: q.Some(0.01), SD: q.Some(0.01)},
	}
}
