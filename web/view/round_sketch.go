package view

import (
	"math"
	"strconv"
	"strings"
)

// RoundMap is a sketch of a day: where its stops lie, and who drives between
// them. Coordinates are those of the drawing.
type RoundMap struct {
	Width, Height int
	Shop          *RoundPoint
	Routes        []RoundMapRoute
	Others        []RoundPoint // sites that are not in the day
	Scale         *RoundScale
	Open          RoundMapOpen
}

// RoundMapOpen is what a script needs to draw the sketch as a map to move about
// in: the library's files, and where pictures of the ground come from, if from
// anywhere.
type RoundMapOpen struct {
	Script, Style string
	Tiles, Credit string
}

// RoundPoint is a place of the sketch.
type RoundPoint struct {
	X, Y     float64
	Lat, Lon float64 // degrees, WGS 84
	Label    string
	Name     string
	When     string // of a stop
	Beside   int    // how many stops are drawn at the same place already

	MarkX, MarkY float64 // where a stop's mark is drawn, or the shop's word, clear of others
}

// aside says whether a mark no longer covers its place, so that a line must lead
// there.
func (p RoundPoint) aside() bool { return math.Hypot(p.MarkX-p.X, p.MarkY-p.Y) > 12 }

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

// at is a position as the script reads it.
func (p RoundPoint) at() string {
	return strconv.FormatFloat(p.Lat, 'f', 6, 64) + "," + strconv.FormatFloat(p.Lon, 'f', 6, 64)
}

func (r RoundMapRoute) positions() string {
	var out []string
	for _, p := range r.Path {
		out = append(out, p.at())
	}
	return strings.Join(out, " ")
}

func (m RoundMap) viewBox() string { return "0 0 " + itoa(m.Width) + " " + itoa(m.Height) }

func (r RoundMapRoute) class() string { return "way way-" + itoa(r.Kind%4) }
