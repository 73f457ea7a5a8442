package tank

import (
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

func span(lo, hi float64) q.Range { return q.Range{Lo: lo, Hi: hi} }

// setupNumbers are the numbers of the set-up form, in its order. Ranges are what
// can be built and what an aquascaping shop meets. It is a function, as the other
// tables of the office are: the browser build then leaves out what it never asks for.
func setupNumbers() []number[Setup] {
	return []number[Setup]{
		in("length", "The inner length", typed.Length, span(1, 1000), span(15, 400), func(s *Setup) *q.Opt[q.Centimetre] { return &s.Length }),
		in("width", "The inner width", typed.Length, span(1, 1000), span(12, 150), func(s *Setup) *q.Opt[q.Centimetre] { return &s.Width }),
		in("height", "The inner height", typed.Length, span(1, 1000), span(12, 150), func(s *Setup) *q.Opt[q.Centimetre] { return &s.Height }),
		in("level", "The water level", typed.Length, span(1, 1000), span(8, 150), func(s *Setup) *q.Opt[q.Centimetre] { return &s.Level }),
		in("metered", "The metered fill", typed.Volume, span(0.5, 100000), span(4, 5000), func(s *Setup) *q.Opt[q.Litre] { return &s.Metered }),
		in("substrate_depth", "The substrate's depth", typed.Length, span(0, 200), span(0, 25), func(s *Setup) *q.Opt[q.Centimetre] { return &s.SubstrateDepth }),
		in("porosity", "The substrate's share of water", typed.PercentOfOne, span(0, 0.9), span(0.2, 0.6), func(s *Setup) *q.Opt[q.Share] { return &s.Porosity }),
		in("stone", "The stone", typed.Mass, span(0, 5000), span(0, 300), func(s *Setup) *q.Opt[q.Kilogram] { return &s.Stone }),
		in("wood", "The wood", typed.Mass, span(0, 2000), span(0, 100), func(s *Setup) *q.Opt[q.Kilogram] { return &s.Wood }),
		in("light_hours", "The light period", typed.Plain("h"), span(0, 24), span(4, 12), func(s *Setup) *q.Opt[q.Hours] { return &s.Light.Hours }),
		in("light_percent", "The light's power", typed.Percent, span(0, 100), span(1, 100), func(s *Setup) *q.Opt[float64] { return &s.Light.Percent }),
		in("filter_clean", "The clean filter's flow", typed.FlowRate, span(1, 50000), span(50, 6000), func(s *Setup) *q.Opt[q.LitrePerHour] { return &s.Filter.Clean }),
		in("filter_volume", "The filter's water", typed.Volume, span(0, 2000), span(0, 60), func(s *Setup) *q.Opt[q.Litre] { return &s.Filter.Volume }),
		in("heater_power", "The heater's power", typed.Plain("W"), span(1, 10000), span(10, 1000), func(s *Setup) *q.Opt[q.Watt] { return &s.Heater.Power }),
		in("target", "The set temperature", typed.Warmth, span(4, 40), span(18, 31), func(s *Setup) *q.Opt[q.Celsius] { return &s.Heater.Target }),
		in("co2_hours", "The CO2 period", typed.Plain("h"), span(0, 24), span(4, 12), func(s *Setup) *q.Opt[q.Hours] { return &s.CO2.Hours }),
		in("cylinder", "The cylinder's charge", typed.Mass, span(0.01, 100), span(0.3, 12), func(s *Setup) *q.Opt[q.Kilogram] { return &s.CO2.Cylinder }),
		in("tare", "The cylinder's tare", typed.Mass, span(0.01, 150), span(0.3, 25), func(s *Setup) *q.Opt[q.Kilogram] { return &s.CO2.Tare }),
		in("drain_litres", "What leaves down to the mark", typed.Volume, span(0.1, 50000), span(2, 2000), func(s *Setup) *q.Opt[q.Litre] { return &s.DrainLitres }),
		in("can", "The customer's can", typed.Volume, span(0.1, 200), span(1, 30), func(s *Setup) *q.Opt[q.Litre] { return &s.CanLitres }),
	}
}

// SetupMeasures are the numbers that the set-up form asks for.
func SetupMeasures() []typed.Measure { return measures(setupNumbers()) }

// Choices of the set-up form.
var (
	Substrates = []Group{{"rich_soil", "Rich soil"}, {"sand_gravel", "Sand or gravel"}, {"unknown", "Not known"}}
	Plantings  = []Group{{"new", "Just planted"}, {"sparse", "Sparse"}, {"medium", "Medium"}, {"dense", "Dense"}}
	Topoffs    = []Group{{"none", "Not topped off"}, {"tap", "From the source"}, {"ro", "Pure water"}}
)

// ParseSetup reads the set-up form and collects its faults in f. was is what the
// form was drawn with; what the form does not ask is not set.
func ParseSetup(f *typed.Form, was Setup) Setup {
	var s Setup
	readNumbers(f, setupNumbers(), &s, &was)
	s.Substrate = typed.Choice(f, "substrate", SubstrateUnknown, idsOf[Substrate](Substrates), "Choose the ground, or not known.")
	s.Light.Name = f.Line("light", MaxName)
	s.Light.On = f.Clock("light_on")
	s.Filter.Name = f.Line("filter", MaxName)
	s.Heater.Name = f.Line("heater", MaxName)
	s.CO2.Injected = f.Tick("co2")
	s.CO2.On = f.Clock("co2_on")
	s.Topoff = typed.Choice(f, "topoff", TopoffNone, idsOf[Topoff](Topoffs), "Choose how evaporation is replaced.")
	s.Planting = typed.Choice(f, "planting", PlantingMedium, idsOf[Planting](Plantings), "Choose how densely it is planted.")
	s.DrainLine = f.Line("drain_line", MaxName)
	s.Note = f.Text("note", MaxNote)
	if s.Level.OK && s.Height.OK && s.Level.V > s.Height.V {
		f.Faults.Add("level", "impossible", "The water cannot stand higher than the tank's inner height.")
	}
	if s.SubstrateDepth.OK && s.Level.OK && s.SubstrateDepth.V >= s.Level.V {
		f.Faults.Add("substrate_depth", "impossible", "The substrate cannot reach up to the water level.")
	}
	return s
}

// Show writes the set-up as its form is drawn.
func (s Setup) Show(f Shown) Shown {
	showNumbers(f, setupNumbers(), &s)
	t := f.Text
	t["substrate"], t["topoff"], t["planting"] = string(s.Substrate), string(s.Topoff), string(s.Planting)
	t["light"], t["filter"], t["heater"] = s.Light.Name, s.Filter.Name, s.Heater.Name
	t["drain_line"], t["note"] = s.DrainLine, s.Note
	f.clock("light_on", s.Light.On)
	f.clock("co2_on", s.CO2.On)
	f.tick("co2", s.CO2.Injected)
	return f
}

// idsOf lists the ids of choices as the type that a record holds.
func idsOf[T ~string](choices []Group) []T {
	out := make([]T, len(choices))
	for i, c := range choices {
		out[i] = T(c.ID)
	}
	return out
}
