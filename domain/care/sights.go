package care

import (
	"scaperound/domain/chem"
	"scaperound/domain/gear"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// co2State is where CO2 stands. Animals are judged by number only where the
// lower end of the 90 % interval passes the alarm; plants only late in the light.
func (v *View) co2State() State {
	c := v.CO2
	if !c.OK || !v.Injected || v.co2Meaningless() {
		return NotJudged
	}
	// The alarm is the animals', not the target of the profile.
	b := v.co2Band()
	hi := v.co2AlarmAt()
	switch {
	case float64(c.Est.Lo90) > hi && !c.Upper:
		return High
	case float64(c.Est.Value) > hi:
		return Borderline
	case c.Late && float64(c.Est.Hi90) < b.Lo.Or(0):
		return Low
	case c.Early:
		return NotJudged
	}
	return InBand
}

// co2AlarmAt is the CO2 in mg/L beyond which animals are in question: 30, or less
// where the profile's own hard end says so.
func (v *View) co2AlarmAt() float64 {
	if b, ok := v.Profile.Band(q.CO2); ok && b.HardHi.OK {
		return min(co2Alarm, b.HardHi.V)
	}
	return co2Alarm
}

// co2Meaningless reports whether pH and KH say nothing on CO2: too little KH, or
// a pH outside the method.
func (v *View) co2Meaningless() bool {
	return v.CO2.By == "ph_kh" && (v.CO2.KH.Value < noTankKH || !v.CO2.Est.Trusted)
}

// co2Of is CO2 by pH and KH in mg/L, 0 where it cannot be said.
func (v *View) co2Of(ph, kh float64) float64 {
	c, err := chem.CO2(q.PH(ph), q.DegreeKH(kh), chem.Water{Temp: q.Celsius(v.temp().Value), Ionic: v.ionic()})
	if err != nil {
		return 0
	}
	return float64(c)
}

// lightNeed is the PPFD below which this planting goes short: the profile's, else
// by the most demanding group (practice).
func (v *View) lightNeed() q.Opt[float64] {
	if n := v.Profile.LightNeed; n.OK {
		return q.Some(float64(n.V))
	}
	need := 0.0
	for _, p := range v.Setup.Plants {
		switch p.Group {
		case "red_stems", "demanding_stems":
			need = max(need, 80)
		case "carpet", "stems", "fast_stems", "soft_leaved_stems", "grasses", "lily_bulbs", "swords":
			need = max(need, 40)
		case "":
		default:
			need = max(need, 20)
		}
	}
	return q.Opt[float64]{V: need, OK: need > 0}
}

// Cylinder is what is known of the CO2 cylinder's content.
type Cylinder struct {
	OK    bool
	Share float64 // of its charge
	Left  q.Kilogram
	Lost  q.Opt[q.Kilogram] // since the swap
	Low   bool              // below a fifth, or only gas is left
	Fine  bool
	Gas   bool // the gauge stands below the pressure over the liquid
	Days  q.Opt[float64]
}

func (v *View) cylinder() Cylinder {
	var c Cylinder
	s := v.Setup.CO2
	if g, ok := v.Read(q.CylinderGross, visit.Before); ok && s.Cylinder.OK && s.Cylinder.V > 0 {
		switch {
		case s.SwapMass.OK:
			lost := max(0, s.SwapMass.V-q.Kilogram(g.Value))
			c.OK, c.Left, c.Lost = true, s.Cylinder.V-lost, q.Some(lost)
		case s.Tare.OK:
			if left, err := gear.Content(q.Kilogram(g.Value), s.Tare.V); err == nil {
				c.OK, c.Left = true, left
			}
		}
		if c.OK {
			c.Left = max(0, c.Left)
			c.Share = float64(c.Left / s.Cylinder.V)
			c.Low = c.Share < float64(gear.SwapShare)
			c.Fine = c.Share >= 0.3
			c.Days = v.cylinderDays(c)
		}
	}
	if g, ok := v.Read(q.Gauge, visit.Before); ok {
		room := 20.0
		if r, ok := v.Read(q.Temperature, visit.InRoom); ok {
			room = r.Value
		}
		// A room reading is good to a few degrees, a gauge to a few bar.
		if p, err := gear.SaturationPressure(q.Celsius(min(room-3, 30))); err == nil && g.Value+1 < 0.92*float64(p) {
			c.Gas, c.Low, c.Fine = true, true, false
		}
	}
	return c
}

// cylinderDays is how long the content lasts above a fifth at the use since the
// swap or the use that was weighed.
func (v *View) cylinderDays(c Cylinder) q.Opt[float64] {
	var use q.Gram
	if r, ok := v.Read(q.CO2Use, visit.Between); ok {
		use = q.Gram(r.Value)
	} else if c.Lost.OK && v.Setup.CO2.Swapped.OK {
		if days := v.Now.Performed.Sub(v.Setup.CO2.Swapped.V).Hours() / 24; days >= 5 {
			use = q.Gram(float64(c.Lost.V) * 1000 / days)
		}
	}
	d, ok := gear.DaysLeft(c.Left, v.Setup.CO2.Cylinder.V, use, gear.SwapShare)
	return q.Opt[float64]{V: float64(d), OK: ok}
}
