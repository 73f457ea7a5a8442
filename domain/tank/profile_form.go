package tank

import (
	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// BandKinds are the kinds that a profile's form asks for, in its order.
var BandKinds = []q.Kind{q.Temperature, q.Acidity, q.KH, q.GH, q.TAN, q.Nitrite, q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.Calcium, q.Magnesium, q.EC, q.CO2, q.PPFD, q.Oxygen, q.Copper, q.FreeChlorine}

// BandEnd is one of the four ends of a band.
type BandEnd string

// Ends of a band, from low to high.
const (
	EndHardLo BandEnd = "hard_lo"
	EndLo     BandEnd = "lo"
	EndHi     BandEnd = "hi"
	EndHardHi BandEnd = "hard_hi"
)

// BandEnds from low to high.
var BandEnds = []BandEnd{EndHardLo, EndLo, EndHi, EndHardHi}

// endWords are the ends as the columns of the form are headed.
var endWords = map[BandEnd]string{EndHardLo: "“Harm under”", EndLo: "“From”", EndHi: "“To”", EndHardHi: "“Harm over”"}

func (b *Band) end(e BandEnd) *q.Opt[float64] {
	switch e {
	case EndHardLo:
		return &b.HardLo
	case EndLo:
		return &b.Lo
	case EndHi:
		return &b.Hi
	}
	return &b.HardHi
}

// At is one end of the band.
func (b Band) At(e BandEnd) q.Opt[float64] { return *b.end(e) }

// BandMeasure is the measure of one end of a kind's band.
func BandMeasure(k q.Kind, e BandEnd) typed.Measure {
	m, _ := q.MeasureOf(k)
	// A band may end anywhere that can be measured; nothing is unlikely.
	return typed.Measure{Name: string(k) + "." + string(e), What: m.Title + ", " + endWords[e] + ",", Dim: typed.OfKind(k), Possible: m.Range, Likely: m.Range}
}

var lightNeed = typed.Measure{Name: "light_need", What: "The light need", Dim: typed.Brightness, Possible: span(0, 3000), Likely: span(5, 250)}

// NewProfile is what is said of a profile once, and its first bands.
type NewProfile struct {
	Name, About string
	Profile     Profile
}

// ParseProfile reads the bands and the light need of a profile. ID and Name are
// those of was, which the form was drawn with.
func ParseProfile(f *typed.Form, was Profile) Profile {
	p := Profile{ID: was.ID, Name: was.Name}
	p.LightNeed = typed.As[q.Micromol](f.Number(lightNeed, typed.Float(was.LightNeed)))
	for _, k := range BandKinds {
		old, _ := was.Band(k)
		b := Band{Kind: k}
		any := false
		last, lastEnd := q.Opt[float64]{}, BandEnd("")
		for _, e := range BandEnds {
			m := BandMeasure(k, e)
			v := f.Number(m, old.At(e))
			*b.end(e) = v
			if !v.OK {
				continue
			}
			any = true
			if last.OK && v.V < last.V {
				f.Faults.Add(m.Name, fault.Impossible, "%s lies below %s.", endWords[e], endWords[lastEnd])
			}
			last, lastEnd = v, e
		}
		if any {
			p.Bands = append(p.Bands, b)
		}
	}
	if len(p.Bands) == 0 && len(f.Faults) == 0 {
		f.Faults.Add("", fault.Missing, "A target profile has at least one band.")
	}
	return p
}

// ParseNewProfile reads the form of a new profile.
func ParseNewProfile(f *typed.Form) NewProfile {
	n := NewProfile{Name: f.Name("name", MaxName, "Type what you call this target profile.")}
	n.About = f.Text("about", MaxNote)
	n.Profile = ParseProfile(f, Profile{Name: n.Name})
	return n
}

// Show writes the profile's bands as their form is drawn.
func (p Profile) Show(f Shown) Shown {
	f.Text[lightNeed.Name] = lightNeed.Dim.Show(typed.Float(p.LightNeed), f.Units)
	for _, k := range BandKinds {
		b, _ := p.Band(k)
		for _, e := range BandEnds {
			m := BandMeasure(k, e)
			f.Text[m.Name] = m.Dim.Show(b.At(e), f.Units)
			// The unit stands at the head of the line and is the same for all.
			f.Text[m.Name+".unit"] = string(m.Dim.Units(f.Units.System)[0])
		}
	}
	return f
}

// ProfileVersion is what a profile was since a moment.
type ProfileVersion struct {
	Dated
	ID string
	Profile
}

// ProfileRecord is a profile with its versions, newest first, and who uses it.
type ProfileRecord struct {
	ID, Name, About string
	Archived        bool
	Versions        []ProfileVersion
	Tanks           []Summary // held to it now
}

// ProfileLine is one line of the list of profiles.
type ProfileLine struct {
	ID, Name, About string
	Archived        bool
	Dated
	Tanks int // held to it now
}
