package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// CylinderState is a CO2 cylinder: its content in kg and ln of its loss in kg a
// day.
type CylinderState struct {
	Known bool    // the content is known
	Gross float64 // kg, as last weighed or set at the swap
	Mean  [2]float64
	Cov   [3]float64
}

func (c *CylinderState) begin(content, sd float64) {
	n := &usual
	if !c.Known && c.Mean[1] == 0 {
		c.Mean[1] = num.Log(n.CylRateMedian)
		c.Cov[2] = float64(n.CylRate * n.CylRate)
	}
	c.Known = true
	c.Mean[0] = content
	c.Cov[0], c.Cov[1] = float64(sd*sd), 0
}

func (c *CylinderState) forget() {
	c.Known = false
	c.Cov[2] = math.Max(c.Cov[2], 0.3)
}

func (c *CylinderState) carry(days float64) {
	if !c.Known || !(days > 0) {
		return
	}
	lost := num.Exp(clamp(c.Mean[1], -12, 1)) * days
	c.Mean[0] -= lost
	c.Cov[0] = plus(plus(c.Cov[0], -2*lost, c.Cov[1]), float64(lost*lost), c.Cov[2])
	c.Cov[1] = plus(c.Cov[1], -lost, c.Cov[2])
	c.Cov[2] += float64(usual.CylWalk*usual.CylWalk) * days
}

// read conditions the content on a weighing.
func (c *CylinderState) read(content, sd float64) (wrong float64) {
	v := c.Cov[0] + float64(sd*sd)
	d := content - c.Mean[0]
	z := d / math.Sqrt(v)
	if math.Abs(z) > 5 { // another cylinder, another fitting, a slip
		return 1
	}
	k0, k1 := c.Cov[0]/v, c.Cov[1]/v
	c.Mean[0] = plus(c.Mean[0], k0, d)
	c.Mean[1] = plus(c.Mean[1], k1, clamp(d, -3*math.Sqrt(v), 3*math.Sqrt(v)))
	c.Mean[1] = clamp(c.Mean[1], -12, 0)
	a, b := c.Cov[0], c.Cov[1]
	c.Cov[0] = plus(a, -k0, a)
	c.Cov[1] = plus(b, -k0, b)
	c.Cov[2] = plus(c.Cov[2], -k1, b)
	return math.Max(0, (math.Abs(z)-3)/2)
}

// weigh reads the cylinder's weight. Without a tare its content follows from
// what it has lost since the swap.
func (s *State) weigh(setup *tank.Setup, v *visit.Record) {
	n := &usual
	c := &s.Cylinder
	content := func(gross float64) (float64, float64, bool) {
		co2 := &setup.CO2
		switch {
		case co2.Tare.OK && gross > float64(co2.Tare.V)-0.05:
			return gross - float64(co2.Tare.V), n.CylScale, true
		case co2.SwapMass.OK && co2.Cylinder.OK && gross <= float64(co2.SwapMass.V)+0.05:
			return float64(co2.Cylinder.V) - (float64(co2.SwapMass.V) - gross), 2 * n.CylScale, true
		}
		return 0, 0, false
	}
	if r, ok := v.Reading(q.CylinderGross, visit.Before); ok && finite(r.Value) && r.Value > 0 {
		if m, sd, ok := content(r.Value); ok && finite(m) {
			wrong := 0.0
			guess := r.Value
			if c.Known {
				guess = r.Value - m + c.Mean[0]
				wrong = c.read(m, sd)
				if wrong == 1 {
					c.begin(m, sd)
				}
			} else {
				c.begin(m, sd)
			}
			c.Gross = r.Value
			s.Seen[7] = Sight{Count: s.Seen[7].Count + 1, Last: v.Day, Value: r.Value, Guess: guess, Wrong: wrong}
		}
	}
	if ratio, ok := bubbles(v); ok && c.Mean[1] != 0 {
		c.Mean[1] = clamp(c.Mean[1]+num.Log(ratio), -12, 0)
		c.Cov[2] += float64(n.CylTurn * n.CylTurn)
	} else if _, set := v.Did(visit.CO2Set); set && c.Mean[1] != 0 {
		c.Cov[2] += 0.06
	}
	if _, swapped := v.Did(visit.CylinderSwap); swapped {
		if r, ok := v.Reading(q.CylinderGross, visit.After); ok && finite(r.Value) {
			if m, sd, ok := content(r.Value); ok && finite(m) {
				c.begin(m, sd)
				c.Gross = r.Value
				return
			}
		}
		if full := setup.CO2.Cylinder; full.OK && full.V > 0 && full.V < 1000 {
			c.begin(float64(full.V), 0.05*float64(full.V))
		} else {
			c.forget()
		}
	}
}

// bubbles is by how much the CO2 was set higher or lower, where the bubbles were
// counted before and after.
func bubbles(v *visit.Record) (float64, bool) {
	a, ok1 := v.Reading(q.CO2Bubbles, visit.Before)
	b, ok2 := v.Reading(q.CO2Bubbles, visit.After)
	if !ok2 {
		b, ok2 = v.Reading(q.CO2Bubbles, visit.Setting)
	}
	if !ok1 || !ok2 || !(a.Value > 0) || !(b.Value > 0) {
		return 0, false
	}
	return clamp(b.Value/a.Value, 0.05, 20), true
}
