package care

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// colourKinds are read by colour or drops, whose reagents age.
var colourKinds = []q.Kind{q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.KH, q.GH}

// doubts finds readings that must be taken again before anything follows from
// them. TAN and nitrite are taken again too, and never set aside meanwhile: what
// they warn of does not wait.
func doubts(v *View) []Doubt {
	var out []Doubt
	add := func(k q.Kind, why string) {
		for _, d := range out {
			if d.Kind == k {
				return
			}
		}
		out = append(out, Doubt{k, why})
	}
	for _, r := range v.Aside {
		add(r.Kind, "slip")
	}
	if v.gasContradicts() {
		add(q.Acidity, "gas")
	}
	for _, r := range v.Now.Readings {
		if r.Phase != visit.Before && r.Phase != visit.Late || r.Lot == "" {
			continue
		}
		for _, kit := range v.Setup.Kits {
			if kit.Lot == r.Lot && kit.Expired(v.Now.Day) {
				add(r.Kind, "expired")
			}
		}
	}
	if v.ecContradicts() {
		add(q.Nitrate, "contradiction")
	}
	if v.Has("kit_expired") {
		for _, k := range colourKinds {
			if r, ok := v.Tank(k); ok && v.jumped(k, r.Value) {
				add(k, "expired")
			}
		}
	}
	if v.Has("meter_not_calibrated") {
		if r, ok := v.Tank(q.Acidity); ok && v.jumped(q.Acidity, r.Value) {
			add(q.Acidity, "uncalibrated")
		}
	}
	return out
}

// gasContradicts reports a pH that with this KH would mean several times the CO2
// that an indicator or a direct test shows, or more than water can hold beside
// animals that are well: the electrode, not the tank.
func (v *View) gasContradicts() bool {
	p, ok := v.Tank(q.Acidity)
	k, okKH := v.khNow()
	if !ok || !okKH || k.Value < noTankKH {
		return false
	}
	byPH := v.co2Of(p.Value, k.Value)
	if byPH > 300 && (v.Has("animals_normal") || v.Now.Looks[visit.LookAnimals] == visit.Fine) {
		return true
	}
	other := 0.0
	if r, ok := v.Tank(q.CO2); ok {
		other = r.Value
	} else if i, ok := v.Tank(q.IndicatorPH); ok {
		kh := 4.0
		if s, ok := v.Read(q.IndicatorKH, visit.Setting, visit.Before); ok {
			kh = s.Value
		}
		other = v.co2Of(i.Value, kh)
	}
	return other > 3 && byPH > 50 && byPH > 5*other
}

// ecPerNitrate is what a rise of NO3 adds to the conductivity at the least:
// 71.4 S cm²/eq over 62 g/mol (CRC), with nothing for its counter-ion.
const ecPerNitrate = 71.4 / 62.0 // µS/cm per mg/L

// ecContradicts reports whether nitrate rose by more than the conductivity can
// have followed, both read at this visit and before.
func (v *View) ecContradicts() bool {
	n, ok1 := v.Tank(q.Nitrate)
	e, ok2 := v.Tank(q.EC)
	if !ok1 || !ok2 {
		return false
	}
	olds, ecs := v.Before(q.Nitrate, 1), v.Before(q.EC, 1)
	if len(olds) == 0 || len(ecs) == 0 {
		return false
	}
	rise := n.Value - olds[0].Value
	if rise < 25 {
		return false
	}
	return e.Value-ecs[0].Value < 0.5*ecPerNitrate*rise
}

// jumped reports whether a reading lies far from the last ones, or cannot be
// checked against any.
func (v *View) jumped(k q.Kind, x float64) bool {
	olds := v.valuesBefore(k, make([]float64, 0, 4))
	if len(olds) == 0 {
		return true
	}
	sum := 0.0
	for _, x := range olds {
		sum += x
	}
	mean := sum / float64(len(olds))
	return math.Abs(x-mean) > 3*usualHalf(k, mean)
}
