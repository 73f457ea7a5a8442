package view

// RoundMap is a sketch of a day: where its stops lie, and who drives between
// them. Coordinates are those of the drawing.
type RoundMap struct {
	Width, Height int
	Shop          *RoundPoint
	Routes        []RoundMapRoute
	Others        []RoundPoint // sites that are not in the day
	Scale         *RoundScale
}

// RoundPoint is a place of the sketch.
type RoundPoint struct {
	X, Y  float64
	Label string
	Name  string
}

// RoundMapRoute is one person's way.
type RoundMapRoute struct {
	Person string
	Kind   int // which way of drawing
	Path   []RoundPoint
	Stops  []RoundPoint
}

// RoundScale is the bar that says how long a distance is.
type RoundScale struct {
	Length float64
	Text   string
}

func (r RoundMapRoute) points() string {
	out := ""
	for _, p := range r.Path {
		out += coordinate(p.X) + "," + coordinate(p.Y) + " "
	}
	return out
}

func (m RoundMap) viewBox() string { return "0 0 " + itoa(m.Width) + " " + itoa(m.Height) }

func (r RoundMapRoute) class() string { return "way way-" + itoa(r.Kind%4) }
