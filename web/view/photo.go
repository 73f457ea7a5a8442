package view

import "strconv"

// Print is a photograph as it is shown, with its date.
type Print struct {
	ID, Purpose   string
	Href, Small   string // addresses of the large and the small print
	Width, Height int    // of the large one, pixels
	SmallWidth    int    // of the small one
	Day, Clock    string // when it was taken
	What          string // what it was taken for, in words
	By            string
	Alt           string
	Visit         string // address of its visit; empty where it has none
	Gone          bool   // taken back since it was put on the sheet
	Remove        *Post  // nil where the reader may not
}

// PrintPair is two dated prints side by side and the choice of others.
type PrintPair struct {
	Choices     []Option
	Left, Right string // chosen values
	Prints      []Print
}

// Photos is the page of a tank's photographs.
type Photos struct {
	Form     Form
	Action   string
	TankName string
	Pair     PrintPair
	Hidden   []Pair
	OfVisit  bool // what is added goes with a visit
	Purposes []Option
	All      []Print
}

// sources lets a browser take the print that fits its screen.
func (p Print) sources() string {
	if p.SmallWidth == p.Width {
		return ""
	}
	return p.Small + " " + strconv.Itoa(p.SmallWidth) + "w, " + p.Href + " " + strconv.Itoa(p.Width) + "w"
}

func (p Print) width() string  { return strconv.Itoa(p.Width) }
func (p Print) height() string { return strconv.Itoa(p.Height) }

// choices are the photographs that may stand on a sheet, none first.
func (p SheetAhead) choices() []Option {
	return append([]Option{{Value: "", Label: "None"}}, p.Choices...)
}

func (p SheetAhead) chosen(name string) string {
	for _, x := range p.Chosen {
		if x.Name == name {
			return x.Value
		}
	}
	return ""
}
