package demoshop

import (
	"math"
	"math/rand/v2"
	"strconv"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// bag is what a technician measures with: one lot for each kind.
type bag map[q.Kind]tank.Instrument

// read writes into the post what the instrument shows for a true value.
func (b bag) read(p *post, kind q.Kind, phase string, truth float64, r *rand.Rand) {
	name := string(kind) + "." + phase
	kit, ok := b[kind]
	if !ok {
		return
	}
	p.set("kit."+name, kit.Lot)
	switch kit.Type {
	case tank.Drops:
		// The colour turns at the first drop that passes the truth; the eye is
		// a drop late now and then.
		n := math.Ceil(truth/kit.Step.V - 0.02)
		if r.Float64() < 0.08 {
			n++
		}
		p.set("unit."+name, "drops")
		p.set("reading."+name, strconv.Itoa(int(math.Max(1, n))))
	case tank.Classes:
		p.set("unit."+name, "class")
		p.set("reading."+name, colour(kit.Classes, truth*(1+0.06*r.NormFloat64()), r))
	default:
		sd := kit.SD.Or(0)
		step := kit.Step.Or(0.01)
		v := math.Round((truth+sd*r.NormFloat64())/step) * step
		p.set("reading."+name, strconv.FormatFloat(math.Max(0, v), 'f', decimals(step), 64))
	}
}

// colour is the printed class that the value falls into, or "between" where it
// lies near the border of two.
func colour(classes []tank.Class, v float64, r *rand.Rand) string {
	for i, c := range classes {
		hi := c.Hi.Or(math.Inf(1))
		if v >= hi && i+1 < len(classes) {
			continue
		}
		if i+1 < len(classes) && hi-v < 0.12*(hi-c.Lo) && r.Float64() < 0.5 {
			return label(c.Label) + ".." + label(classes[i+1].Label)
		}
		return label(c.Label)
	}
	return label(classes[len(classes)-1].Label)
}

func label(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func decimals(step float64) int {
	for d := range 4 {
		if s := step * math.Pow10(d); math.Abs(s-math.Round(s)) < 1e-9 {
			return d
		}
	}
	return 4
}
