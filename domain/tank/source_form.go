package tank

import (
	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// SourceValues are the values that a source water's form asks for, in its order.
var SourceValues = []q.Kind{q.Acidity, q.KH, q.GH, q.EC, q.Nitrate, q.Phosphate, q.Potassium, q.Calcium, q.Magnesium, q.Sodium, q.Chloride, q.Sulfate, q.Iron}

// Choices of the source's form.
var (
	SourceKinds   = []Group{{"tap", "Tap"}, {"softened_tap", "Softened tap"}, {"well", "Well"}, {"ro", "Pure water"}}
	Disinfectants = []Group{{"none", "None"}, {"chlorine", "Chlorine"}, {"chloramine", "Chloramine"}, {"not_known", "Not known"}}
)

// SourceMeasure is the measure of one value of a source water.
func SourceMeasure(k q.Kind) typed.Measure {
	m, _ := q.MeasureOf(k)
	return typed.Measure{Name: "source_" + string(k), What: m.Title, Dim: typed.OfKind(k), Possible: m.Range, Likely: m.Likely}
}

var (
	winterMin = typed.Measure{Name: "winter", What: "The coldest in winter", Dim: typed.Warmth, Possible: span(-5, 60), Likely: span(1, 25)}
	roShare   = typed.Measure{Name: "ro_share", What: "The share of pure water", Dim: typed.PercentOfOne, Possible: span(0, 1), Likely: span(0, 1)}
)

// SourceMeasures are all numbers that the form asks for.
func SourceMeasures() []typed.Measure {
	out := []typed.Measure{winterMin, SourceMeasure(q.TotalChlorine)}
	for _, k := range SourceValues {
		out = append(out, SourceMeasure(k))
	}
	return out
}

// ParseSource reads the values of a source water. Blank is not known. ID, Name
// and Kind are those of was.
func ParseSource(f *typed.Form, was Source) Source {
	s := Source{ID: was.ID, Name: was.Name, Kind: was.Kind}
	for _, k := range append(append([]q.Kind{}, SourceValues...), q.TotalChlorine) {
		if v := f.Number(SourceMeasure(k), was.Get(k)); v.OK {
			s.Values = append(s.Values, Known{k, v.V})
		}
	}
	s.WinterMin = typed.As[q.Celsius](f.Number(winterMin, typed.Float(was.WinterMin)))
	s.Disinfectant = typed.Choice(f, "disinfectant", DisinfectantNotKnown, idsOf[Disinfectant](Disinfectants), "Choose what is in the supply, or not known.")
	s.Softener = f.Tick("softener")
	s.Note = f.Text("note", MaxNote)
	if gh, ca, mg := s.Get(q.GH), s.Get(q.Calcium), s.Get(q.Magnesium); gh.OK && ca.OK && mg.OK {
		// GH = (Ca/40.078 + Mg/24.305)/0.178326, in mg/L and °d.
		sum := (ca.V/40.078 + mg.V/24.305) / 0.178326
		if d := sum - gh.V; (d > 3 || d < -3) && !f.Confirmed("source_gh", f.Get("source_gh")) {
			f.Faults = append(f.Faults, fault.Field{Name: "source_gh", Kind: fault.Unlikely, Confirm: "source_gh=" + f.Get("source_gh"),
				Text: "Calcium and magnesium make a GH of about " + typed.Plain(q.DGH).Show(q.Some(float64(int(sum*10+0.5))/10), f.Units) + " °dGH, not what stands here. Are all three right?"})
		}
	}
	return s
}

// Show writes the source water as its form is drawn.
func (s Source) Show(f Shown) Shown {
	for _, k := range append(append([]q.Kind{}, SourceValues...), q.TotalChlorine) {
		m := SourceMeasure(k)
		f.Text[m.Name] = m.Dim.Show(s.Get(k), f.Units)
		f.Text[m.Name+".unit"] = string(m.Dim.Units(f.Units.System)[0])
	}
	f.Text[winterMin.Name] = winterMin.Dim.Show(typed.Float(s.WinterMin), f.Units)
	f.Text[winterMin.Name+".unit"] = string(winterMin.Dim.Units(f.Units.System)[0])
	f.Text["disinfectant"], f.Text["note"] = string(s.Disinfectant), s.Note
	f.tick("softener", s.Softener)
	return f
}

// SourceUse is which source water a tank gets, and with how much pure water.
type SourceUse struct {
	Source  string // id
	ROShare q.Share
}

// ParseSourceUse reads the form of what water a tank gets.
func ParseSourceUse(f *typed.Form, was SourceUse) SourceUse {
	return SourceUse{
		Source:  f.Name("source", MaxName, "Choose the source water, or make a new one first."),
		ROShare: q.Share(f.Number(roShare, q.Some(float64(was.ROShare))).Or(0)),
	}
}

// Show writes the use as its form is drawn.
func (u SourceUse) Show(f Shown) Shown {
	f.Text["source"] = u.Source
	f.Text[roShare.Name] = roShare.Dim.Show(q.Some(float64(u.ROShare)), f.Units)
	f.Text[roShare.Name+".unit"] = string(q.Percent)
	return f
}

// NewSource is a source water that is about to be made.
type NewSource struct {
	Site string // id; empty: the shop's own
	Name string
	Kind SourceKind
}

// ParseNewSource reads what is said once of a source water.
func ParseNewSource(f *typed.Form) NewSource {
	return NewSource{
		Site: f.Line("site", MaxName),
		Name: f.Name("name", MaxName, "Type what you call this water: “kitchen tap”."),
		Kind: typed.Must(f, "kind", idsOf[SourceKind](SourceKinds), "Choose what kind of water it is."),
	}
}

// SourceVersion is what a source water was since a day.
type SourceVersion struct {
	Dated
	Source
}

// SourceRecord is a source water with what it was over time, newest first.
type SourceRecord struct {
	ID, Name       string
	Kind           SourceKind
	Site, SiteName string // empty: the shop's own
	Versions       []SourceVersion
	Tanks          []Summary // that get it now
}
