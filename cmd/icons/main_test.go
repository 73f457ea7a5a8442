package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// TestIconsAreAsDrawn keeps the committed files and what draws them together.
func TestIconsAreAsDrawn(t *testing.T) {
	for _, m := range masks {
		file, err := os.ReadFile(filepath.Join("..", "..", "static", m.name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		want := draw(m)
		if got.Bounds() != want.Bounds() {
			t.Fatalf("%s is %v, want %v", m.name, got.Bounds(), want.Bounds())
		}
		for y := range m.edge {
			for x := range m.edge {
				if got.At(x, y) != want.At(x, y) && !sameColour(got.At(x, y).RGBA())(want.At(x, y).RGBA()) {
					t.Fatalf("%s differs at %d, %d: run go run ./cmd/icons static", m.name, x, y)
				}
			}
		}
	}
}

func sameColour(r, g, b, a uint32) func(r2, g2, b2, a2 uint32) bool {
	return func(r2, g2, b2, a2 uint32) bool { return r == r2 && g == g2 && b == b2 && a == a2 }
}

// TestTheMarkSurvivesItsMask: within a circle of four fifths of the edge lies all
// that is drawn on a maskable icon, and its corners are filled.
func TestTheMarkSurvivesItsMask(t *testing.T) {
	m := masks[2]
	for _, p := range append(blade(), vein()...) {
		x, y := (p.x-12)/24*m.part, (p.y-12)/24*m.part
		if x*x+y*y > 0.4*0.4 {
			t.Errorf("%v lies outside the safe circle", p)
		}
	}
	if _, _, _, a := draw(m).At(0, 0).RGBA(); a != 0xffff {
		t.Error("its corner is clear")
	}
}
