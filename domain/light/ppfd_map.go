package light

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// EnoughPoints is how many points a map needs to speak for a tank: three by
// three at the height of the leaves.
const EnoughPoints = 9

// Map is what the points of a PPFD map say together.
type Map struct {
	Points     int
	Mean       quantity.Micromol
	Min, Max   quantity.Micromol
	Uniformity quantity.Share               // min over mean; 0 in the dark
	CV         quantity.Share               // standard deviation of the points over their mean
	Below      quantity.Opt[quantity.Share] // share of points below their need; not known without needs
	Enough     bool                         // at least EnoughPoints
}

// Measure sums up a map. need holds the PPFD that the plant at each point wants:
// one value for all points, one for each, or none.
//
// A mean hides the shaded corner, so it never stands alone. The points must be
// 0 to 3000 µmol/m²/s, at least one and at most 10000.
//
// Source: definitions; uniformity as in EN 12464-1, minimum over mean.
func Measure(points []quantity.Micromol, need ...quantity.Micromol) (Map, error) {
	if len(points) == 0 || len(points) > 10000 {
		return Map{}, fault.New(fault.Invalid, "A light map needs at least one point.")
	}
	if n := len(need); n > 1 && n != len(points) {
		return Map{}, fault.New(fault.Invalid, "There are %d needs for %d points; give one for all or one for each.", n, len(points))
	}
	m := Map{Points: len(points), Min: points[0], Max: points[0], Enough: len(points) >= EnoughPoints}
	sum := 0.0
	for _, p := range points {
		if err := checkPPFD(p); err != nil {
			return Map{}, err
		}
		sum += float64(p)
		m.Min, m.Max = min(m.Min, p), max(m.Max, p)
	}
	n := float64(len(points))
	mean := sum / n
	m.Mean = quantity.Micromol(mean)
	if mean > 0 {
		m.Uniformity = quantity.Share(float64(m.Min) / mean)
		if n > 1 {
			sq := 0.0
			for _, p := range points {
				d := float64(p) - mean
				sq += float64(d * d)
			}
			m.CV = quantity.Share(math.Sqrt(sq/(n-1)) / mean)
		}
	}
	if len(need) > 0 {
		below := 0
		for i, p := range points {
			want := need[0]
			if len(need) > 1 {
				want = need[i]
			}
			if err := checkPPFD(want); err != nil {
				return Map{}, err
			}
			if p < want {
				below++
			}
		}
		m.Below = quantity.Some(quantity.Share(float64(below) / n))
	}
	return m, nil
}

// Band is a range of PPFD at the height of the leaves.
type Band struct {
	Name   string
	Lo, Hi quantity.Micromol // Hi is +Inf for the last
}

// Bands are the light demands that the trade speaks of. They are practice, and
// agree with the light compensation (10 to 25 µmol/m²/s) and half saturation (30
// to 120) of submerged leaves.
//
// Source: T. V. Madsen and K. Sand-Jensen (1994), Aquatic Botany 48, for the
// physiology; practice for the limits.
func Bands() []Band {
	return []Band{
		{"low demand", 15, 40},
		{"medium demand", 40, 80},
		{"high demand", 80, 150},
		{"only with steady CO2 and close care", 150, quantity.Micromol(math.Inf(1))},
	}
}

// AtDepth returns the PPFD under a depth of water (0 to 3 m) by attenuation
// alone, with Kd of 0 to 10 per metre: 0.1 to 0.3 clear, 0.5 to 1 slightly tinted,
// 1 to 3 with tannins. In a tank the spread of the beam, reflections and plants
// outweigh it: measure a map rather than extrapolate one reading.
//
//	E(z) = E0 exp(-Kd z)
//
// Source: J. T. O. Kirk, Light and Photosynthesis in Aquatic Ecosystems.
func AtDepth(surface quantity.Micromol, kdPerMetre float64, depth quantity.Metre) (quantity.Micromol, error) {
	if err := checkPPFD(surface); err != nil {
		return 0, err
	}
	if err := num.Within("The attenuation of the water", kdPerMetre, 0, 10, "1/m"); err != nil {
		return 0, err
	}
	if err := num.Within("Depth", float64(depth), 0, 3, "m"); err != nil {
		return 0, err
	}
	return quantity.Micromol(float64(surface) * num.Exp(-kdPerMetre*float64(depth))), nil
}
