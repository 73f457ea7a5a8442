package care

import (
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// seeCO2 prefers a direct test, then an indicator with its own solution, then
// pH and KH.
func seeCO2(v *View) CO2View {
	temp := v.temp()
	if r, ok := v.Tank(q.CO2); ok {
		return v.timed(CO2View{OK: true, By: "direct", Temp: temp, Est: chem.CO2Estimate{
			Value: q.MgPerLitre(r.Value), Lo: q.MgPerLitre(r.Lo), Hi: q.MgPerLitre(r.Hi),
			Lo90: q.MgPerLitre(r.Lo), Hi90: q.MgPerLitre(r.Hi), Trusted: true}}, r)
	}
	if p, ok := v.Tank(q.IndicatorPH); ok {
		kh := q.Interval{Value: 4, Lo: 3.9, Hi: 4.1}
		if k, ok := v.Read(q.IndicatorKH, visit.Setting, visit.Before); ok {
			kh = q.Interval{Value: k.Value, Lo: k.Value * 0.97, Hi: k.Value * 1.03}
		}
		if e, err := chem.CO2Interval(p.Interval, kh, temp, chem.UsualIonic); err == nil {
			return v.timed(CO2View{OK: true, By: "indicator", Est: e, PH: p.Interval, KH: kh, Temp: temp}, p)
		}
	}
	p, ok := v.Tank(q.Acidity)
	if !ok || v.Doubtful(q.Acidity) {
		return CO2View{}
	}
	k, on, ok2 := v.khAsOf()
	ok2 = ok2 && !v.Doubtful(q.KH)
	upper := ok2 && v.notAllCarbonate(k, temp)
	// The drop from an aerated sample needs no KH; where KH can be trusted it
	// knows less, because nobody knows the room's air.
	if g, aerated := v.Read(q.Acidity, visit.Degassed); aerated && (!ok2 || upper) {
		if e, err := chem.CO2DropInterval(g.Interval, p.Interval, v.roomAir(), chem.Drop{Water: chem.Water{Temp: q.Celsius(temp.Value), Ionic: v.ionic()}}); err == nil && e.Trusted {
			return v.timed(CO2View{OK: true, By: "drop", Est: e, PH: p.Interval, Temp: temp}, p)
		}
	}
	if !ok2 {
		return CO2View{}
	}
	e, err := chem.CO2Interval(p.Interval, k, temp, v.ionic())
	if err != nil {
		return CO2View{}
	}
	return v.timed(CO2View{OK: true, By: "ph_kh", Est: e, PH: p.Interval, KH: k, Temp: temp, KHOn: on, Upper: upper}, p)
}

// softKH is the KH below which wood or soil may hold much of what a KH kit reads.
const softKH = 2.0

// notAllCarbonate reports whether KH may be more than carbonate, so that pH and
// KH give an upper bound of CO2: little KH over wood or soil, or an aerated
// sample whose pH is too low for it.
func (v *View) notAllCarbonate(kh, temp q.Interval) bool {
	if kh.Value < softKH && (v.Setup.Wood.OK && v.Setup.Wood.V > 0 || v.Setup.Substrate == tank.RichSoil || v.Has("water_tinted_yellow")) {
		return true
	}
	g, ok := v.Read(q.Acidity, visit.Degassed)
	if !ok || kh.Value < noTankKH {
		return false
	}
	gap, err := chem.CarbonateDoubt(q.PH(g.Value), q.DegreeKH(kh.Value), chem.Water{Temp: q.Celsius(temp.Value), Ionic: v.ionic()}, chem.Air{CO2: q.PartPerMillion(v.roomAir().Value), Altitude: v.Setup.Room.Altitude.V})
	return err == nil && gap.Doubt && gap.Gap < 0
}

// roomAir is the CO2 of the room's air in ppm: as read, else what rooms usually
// hold.
func (v *View) roomAir() q.Interval {
	if r, ok := v.Read(q.CO2Air, visit.InRoom); ok {
		return q.Interval{Value: r.Value, Lo: 0.9 * r.Value, Hi: 1.1 * r.Value}
	}
	return q.Interval{Value: 700, Lo: 425, Hi: 1200}
}

// khNow is this visit's KH, else the last one of eight weeks, a little wider.
func (v *View) khNow() (q.Interval, bool) {
	k, _, ok := v.khAsOf()
	return k, ok
}

// khAsOf is khNow with its day, where it is from an earlier visit.
func (v *View) khAsOf() (kh q.Interval, on q.Opt[q.Date], ok bool) {
	if r, ok := v.Tank(q.KH); ok {
		return r.Interval, on, true
	}
	for i := len(v.History) - 1; i >= 0; i-- {
		h := &v.History[i]
		if v.Now.Day-h.Day > 56 {
			break
		}
		if r, ok := readOf(h, q.KH, visit.Late, visit.Before, visit.Morning); ok {
			w := r.Interval
			w.Lo, w.Hi = max(0, w.Lo-0.5), w.Hi+0.5
			return w, q.Some(h.Day), true
		}
	}
	return q.Interval{}, on, false
}

// khLost reports whether KH was gone when it was last read, within eight weeks:
// that nobody read it again does not bring it back.
func (v *View) khLost() bool {
	kh, ok := v.khNow()
	return ok && kh.Value < 1
}

func (v *View) timed(c CO2View, r visit.Reading) CO2View {
	switch r.Phase {
	case visit.Late:
		// A sample said to be late and drawn in the dark was not late.
		c.Late = v.nearTop(r)
		c.Early = !c.Late
	case visit.Morning:
		c.Early = true
	default:
		if k := v.drawnAt(r); k.Known {
			c.Late, c.Early = k.Late(), k.Position < 2.0/3
		}
	}
	return c
}

// quietCO2 is what an aerated tank keeps at night (practice).
const quietCO2 q.MgPerLitre = 3

// seeNH3 judges at the day's highest pH. Where an injected tank's pH is known
// only by day, the pH without the CO2 stands for it.
func seeNH3(v *View) NH3View {
	tan, ok := v.Tank(q.TAN)
	if !ok {
		return NH3View{}
	}
	var top q.Interval
	found, restful := false, false
	for _, p := range []visit.Phase{visit.Night, visit.Morning, visit.Degassed, visit.Before, visit.Late, visit.After} {
		r, ok := v.Read(q.Acidity, p)
		if !ok {
			continue
		}
		if !found || r.Value > top.Value {
			top = r.Interval
		}
		found = true
		restful = restful || p == visit.Night || p == visit.Morning || p == visit.Degassed
	}
	if !found {
		return NH3View{}
	}
	out := NH3View{PH: top}
	if v.Injected && !restful {
		if kh, ok := v.khNow(); ok && kh.Value > 0 {
			t := v.temp()
			if ph, err := chem.PHForCO2(quietCO2, q.DegreeKH(kh.Value), chem.Water{Temp: q.Celsius(t.Value), Ionic: v.ionic()}); err == nil && float64(ph) > top.Value {
				h := (top.Hi - top.Lo) / 2
				out.PH = q.Interval{Value: float64(ph), Lo: float64(ph) - h, Hi: float64(ph) + h}
				out.Guessed = true
			}
		}
	}
	n, err := chem.NH3NInterval(tan.Interval, out.PH, v.temp())
	if err != nil {
		return NH3View{}
	}
	out.N, out.OK = n, true
	return out
}

// co2Leads reports whether the set-up has CO2 running an hour or more before the
// light: then nothing is gained by an earlier start.
func (v *View) co2Leads() bool {
	on, light := v.Setup.CO2.On, v.Setup.Light.On
	if !on.OK || !light.OK {
		return false
	}
	lead := (int(light.V) - int(on.V) + 1440) % 1440
	return lead >= 60 && lead <= 240
}
