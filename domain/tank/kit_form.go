package tank

import (
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// InstrumentTypes in the order of the form.
var InstrumentTypes = []Group{{"drops", "Drops"}, {"classes", "Colours"}, {"meter", "Meter"}, {"bucket", "Bucket"}, {"scale", "Scale"}}

// KitKinds are the kinds that an instrument may measure, in the order of the form.
var KitKinds = []q.Kind{q.Temperature, q.Acidity, q.KH, q.GH, q.TAN, q.Nitrite, q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.Calcium, q.Magnesium, q.EC, q.CO2, q.PPFD, q.Flow, q.CylinderGross, q.Oxygen, q.Copper, q.FreeChlorine, q.TotalChlorine, q.Silicate, q.CO2Air}

// ParseKit reads the form of a kind of kit or meter. Numbers are in the unit in
// which it reads.
func ParseKit(f *typed.Form) Kit {
	var k Kit
	k.Name = f.Name("name", MaxName, "Type what you call this kit or meter.")
	k.Measures = typed.Must(f, "measures", KitKinds, "Choose what it measures.")
	k.Type = typed.Must(f, "type", idsOf[InstrumentType](InstrumentTypes), "Choose how it is read.")
	m, _ := q.MeasureOf(k.Measures)
	k.Unit = typed.Choice(f, "unit", m.Unit, q.UnitsFor(k.Measures), "Choose a unit that fits what it measures: "+unitList(k.Measures)+".")
	number := func(name, what string, most float64) q.Opt[float64] {
		return f.Number(typed.Measure{Name: name, What: what, Dim: typed.Plain(k.Unit), Possible: span(0, most), Likely: span(0, most)}, q.Opt[float64]{})
	}
	k.Step = number("step", "The step", 1000)
	k.SD = number("sd", "The spread", 1000)
	k.Floor = number("floor", "The smallest", 1000)
	k.SampleML = typed.As[q.Millilitre](f.Number(typed.Measure{Name: "sample", What: "The sample", Dim: typed.SmallDose, Possible: span(0.1, 1000), Likely: span(1, 100)}, q.Opt[float64]{}))
	k.Classes = readClasses(f)
	switch {
	case k.Type == Classes && len(k.Classes) < 2 && len(f.Faults.On("classes")) == 0:
		f.Faults.Add("classes", fault.Missing, "Type what is printed beside the colours, at least two: 0 5 10 25 50.")
	case k.Type != Classes && len(k.Classes) > 0:
		f.Faults.Add("classes", fault.Impossible, "Only a kit of colours has printed classes; leave this empty.")
	case k.Type == Drops && (!k.Step.OK || k.Step.V == 0) && len(f.Faults.On("step")) == 0:
		f.Faults.Add("step", fault.Missing, "Type what one drop means.")
	}
	return k
}

func unitList(k q.Kind) string {
	var out []string
	for _, u := range q.UnitsFor(k) {
		out = append(out, u.Sign())
	}
	return strings.Join(out, ", ")
}

// readClasses reads labels parted by spaces, semicolons or line ends. Between
// two labels the border lies in the middle, and the last class is open.
func readClasses(f *typed.Form) []Class {
	text := f.Text("classes", 400)
	var labels []float64
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\n' || r == '\t' || r == '|' }) {
		t, bad := q.ParseNumber(part, q.Locale{Decimal: f.Units.Decimal})
		switch {
		case bad != q.NoFault || t.Unit != "":
			f.Faults.Add("classes", fault.NotNumber, "“%s” is not a number. Type the printed numbers with spaces between: 0 5 10 25 50.", part)
			return nil
		case t.Value < 0, len(labels) > 0 && t.Value <= labels[len(labels)-1]:
			f.Faults.Add("classes", fault.Impossible, "The printed numbers go up; “%s” does not.", part)
			return nil
		}
		labels = append(labels, t.Value)
	}
	if len(labels) > 20 {
		f.Faults.Add("classes", fault.TooLong, "A card has at most 20 colours.")
		return nil
	}
	return classes(labels...)
}

// ParseLot reads the form of one box of a kit, or one meter.
func ParseLot(f *typed.Form, kit string) Lot {
	l := Lot{Kit: kit}
	l.Lot = f.Name("lot", MaxName, "Type the lot that is printed on the box, or the meter's own number.")
	l.Opened, l.Expires = f.Day("opened"), f.Day("expires")
	l.Keeper = f.Line("keeper", MaxName)
	if l.Opened.OK && l.Expires.OK && l.Expires.V < l.Opened.V {
		f.Faults.Add("expires", fault.Impossible, "It was opened after it had expired; one of the two dates is wrong.")
	}
	return l
}

// CheckField is the name of a field of a lot's check.
func CheckField(lot, name string) string { return "check_" + lot + "_" + name }

// ParseMeterCheck reads the form of a check against a known value, both in the
// kit's own unit.
func ParseMeterCheck(f *typed.Form, k Kit, lot string) MeterCheck {
	c := MeterCheck{Lot: lot}
	m, _ := q.MeasureOf(k.Measures)
	read := func(name, what string) float64 {
		measure := typed.Measure{Name: CheckField(lot, name), What: what, Dim: typed.Plain(k.Unit), Possible: span(-1e5, 1e6), Likely: span(-1e5, 1e6)}
		if lo, ok := q.FromCanonical(k.Measures, m.Lo, k.Unit); ok {
			hi, _ := q.FromCanonical(k.Measures, m.Hi, k.Unit)
			measure.Possible, measure.Likely = span(lo, hi), span(lo, hi)
		}
		v := f.Number(measure, q.Opt[float64]{})
		if !v.OK && len(f.Faults.On(measure.Name)) == 0 {
			f.Faults.Add(measure.Name, fault.Missing, "%s is needed to say how far it was off.", what)
		}
		return v.V
	}
	c.Against = read("against", "The known value")
	c.Read = read("read", "What it read")
	c.Calibrated = f.Tick(CheckField(lot, "calibrated"))
	return c
}
