// Command icons draws the house's own mark, a blade of grass bent by the
// current, as the PNG files that a tablet's home screen wants:
//
//	go run ./cmd/icons static
//
// The shapes are those of static/icon.svg, in its 24 units.
package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
)

var (
	paper = color.RGBA{0xf8, 0xf3, 0xe6, 0xff}
	ink   = color.RGBA{0x14, 0x23, 0x1b, 0xff}
)

// A mask names a file, its edge in pixels and how it is cut.
type mask struct {
	name string
	edge int
	// part is how much of the edge the mark's 24 units take. A maskable icon may
	// be cut to a circle of four fifths of its edge, so its mark is smaller.
	part  float64
	round float64 // radius of the corners, in units; 0 for a full square
}

var masks = []mask{
	{"icon-192.png", 192, 1, 4},
	{"icon-512.png", 512, 1, 4},
	{"icon-maskable-512.png", 512, 0.68, 0},
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: icons DIR")
		os.Exit(2)
	}
	for _, m := range masks {
		var b bytes.Buffer
		err := png.Encode(&b, draw(m))
		if err == nil {
			err = os.WriteFile(filepath.Join(os.Args[1], m.name), b.Bytes(), 0o644)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

type point struct{ x, y float64 }

// cubic adds a Bézier curve to a polygon.
func cubic(p []point, a, b, c point) []point {
	const steps = 20
	o := p[len(p)-1]
	for i := 1; i <= steps; i++ {
		t := float64(i) / steps
		u := 1 - t
		mix := func(o, a, b, c float64) float64 { return u*u*u*o + 3*u*u*t*a + 3*u*t*t*b + t*t*t*c }
		p = append(p, point{mix(o.x, a.x, b.x, c.x), mix(o.y, a.y, b.y, c.y)})
	}
	return p
}

// blade is the outline, M4 21C5 12 9 6 20 3c-3 4-4 6-4 9 0 5-5 9-12 9z.
func blade() []point {
	p := cubic([]point{{4, 21}}, point{5, 12}, point{9, 6}, point{20, 3})
	p = cubic(p, point{17, 7}, point{16, 9}, point{16, 12})
	return cubic(p, point{16, 17}, point{11, 21}, point{4, 21})
}

// vein is the line within, M4 21C8 15 11 11 16 8.
func vein() []point { return cubic([]point{{4, 21}}, point{8, 15}, point{11, 11}, point{16, 8}) }

const veinHalf = 1.25 / 2

// draw asks points of each pixel what lies there: few, or more where they differ.
func draw(m mask) *image.NRGBA {
	out := image.NewNRGBA(image.Rect(0, 0, m.edge, m.edge))
	blade, vein := blade(), vein()
	for y := range m.edge {
		for x := range m.edge {
			sub := 2
			sum, alike := sample(x, y, sub, m, blade, vein)
			if !alike {
				sub = 5
				sum, _ = sample(x, y, sub, m, blade, vein)
			}
			if sum[3] > 0 {
				n := sum[3]
				out.SetNRGBA(x, y, color.NRGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), uint8(n * 255 / (sub * sub))})
			}
		}
	}
	return out
}

// sample adds up the colours of sub × sub points of a pixel, and how many of
// them are not clear.
func sample(x, y, sub int, m mask, blade, vein []point) (sum [4]int, alike bool) {
	at := func(px, s int) float64 {
		return ((float64(px)+(float64(s)+0.5)/float64(sub))/float64(m.edge)-0.5)*24/m.part + 12
	}
	alike = true
	var first color.RGBA
	for i := range sub * sub {
		c, solid := colourAt(point{at(x, i%sub), at(y, i/sub)}, m.round, blade, vein)
		if solid {
			sum[0], sum[1], sum[2], sum[3] = sum[0]+int(c.R), sum[1]+int(c.G), sum[2]+int(c.B), sum[3]+1
		}
		if i == 0 {
			first = c
		}
		alike = alike && c == first
	}
	return sum, alike
}

func colourAt(p point, round float64, blade, vein []point) (color.RGBA, bool) {
	if round > 0 {
		dx, dy := math.Max(math.Abs(p.x-12)-(12-round), 0), math.Max(math.Abs(p.y-12)-(12-round), 0)
		if math.Hypot(dx, dy) > round {
			return color.RGBA{}, false
		}
	}
	if inside(p, blade) && distance(p, vein) > veinHalf {
		return ink, true
	}
	return paper, true
}

// inside counts how often a ray to the right meets the outline.
func inside(p point, outline []point) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			in = !in
		}
	}
	return in
}

func distance(p point, line []point) float64 {
	least := math.Inf(1)
	for i := range len(line) - 1 {
		a, b := line[i], line[i+1]
		dx, dy := b.x-a.x, b.y-a.y
		t := math.Min(math.Max(((p.x-a.x)*dx+(p.y-a.y)*dy)/(dx*dx+dy*dy), 0), 1)
		least = math.Min(least, math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy))
	}
	return least
}
