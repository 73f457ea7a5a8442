package forecast

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// change is a visit's water change and what is dosed after it.
type change struct {
	share    float64 // drained, of the full tank
	since    float64 // days since full
	refilled bool
	sd       float64 // ln, of the share
	at       supply
	sdDose   float64
	source   [3]float64
	topoff   tank.Topoff
}

// parts are the moving terms with what they feel of the change.
func (c *change) parts(buf *[moves]part) []part {
	for i := range moves {
		p := part{partName(i), setOf(i), setOf(i), 0}
		if c.share > 0 {
			p.chances |= setOf(chNO3)
		}
		if c.at[i] > 0 {
			p.chances |= setOf(chDose)
		}
		if c.refilled {
			switch i {
			case lnNO3:
				p.in |= setOf(inNO3)
			case gh:
				p.in |= setOf(inGH)
			case kh:
				p.in |= setOf(inKH)
			}
			if c.topoff != tank.TopoffRO && c.topoff != tank.TopoffTap {
				p.in |= setOf(evap)
			}
		}
		buf[i] = p
	}
	return buf[:]
}

// pass carries one part of the water through the change.
func (c *change) pass(p partName, z *[terms]float64, e *[mostChances]float64, out *[moves]float64) {
	old := 1.0 // of the water afterwards, old stays and the rest is new
	if c.refilled {
		if c.topoff != tank.TopoffRO && c.topoff != tank.TopoffTap {
			old -= min(0.8, float64(num.Exp(clamp(z[evap], -9, -3))*c.since))
		}
		if c.share > 0 {
			old = max(0, old-clamp(c.share*num.Exp(float64(c.sd*e[chNO3])), 0, 1))
		}
	}
	i := int(p)
	added := c.at[i]
	if added > 0 {
		added *= num.Exp(float64(c.sdDose * e[chDose]))
	}
	mixed := func(was, in float64) float64 { return float64(old*was) + float64((1-old)*in) + added }
	switch p {
	case partNO3:
		out[i] = term(i, mixed(concentration(i, z[i]), max(0, z[inNO3])))
	case partPO4, partK, partFe:
		out[i] = term(i, mixed(concentration(i, z[i]), c.source[i-lnPO4]))
	case partGH:
		out[i] = mixed(z[gh], max(0, z[inGH]))
	case partKH:
		out[i] = mixed(z[kh], max(0, z[inKH]))
	}
}

// work is what the visit changed.
func (s *State) work(setup *tank.Setup, plan *tank.Plan, v *visit.Record, net float64) {
	n := &usual
	c := change{since: s.SinceFull, sd: n.Change, topoff: setup.Topoff, source: sourceOf(setup), at: atOnce(v, net), sdDose: 0.05}
	drained, filled := 0.0, false
	for i := range v.Work {
		w := &v.Work[i]
		switch w.Kind {
		case visit.WaterChange:
			l := w.Litres
			if !l.OK {
				l = setup.DrainLitres
			}
			if l.OK && l.V > 0 {
				drained += float64(l.V) / net
			} else {
				drained += s.usualShare()
				c.sd = 0.3
			}
			filled = true
		case visit.TopOff:
			filled = true
		case visit.Trim:
			for j := range nutrient {
				s.Mean[eatNO3+j] -= 0.08
				s.Cov[at(eatNO3+j, eatNO3+j)] += 0.01
				for k := range j {
					s.Cov[at(eatNO3+j, eatNO3+k)] += 0.008
				}
			}
		case visit.LightSet, visit.PlantsIn, visit.PlantsOut:
			s.stir(0.25)
		case visit.CO2Set:
			s.stir(0.1)
		}
	}
	c.share = math.Min(drained, 0.98)
	c.refilled = filled
	if filled || c.at != (supply{}) {
		s.push(water{work: &c})
		s.bound()
	}
	if filled {
		s.SinceFull = 0
	}
	if c.share > 0 {
		s.Share = usualOf(s.Share, c.share)
	}
}

// stir says that the plants' appetite may have changed, all alike.
func (s *State) stir(sd float64) {
	for j := range nutrient {
		for k := range j + 1 {
			s.Cov[at(eatNO3+j, eatNO3+k)] += float64(sd * sd)
		}
	}
}

// usualShare is what is usually changed at a visit of this tank.
func (s *State) usualShare() float64 {
	if s.Share > 0 {
		return s.Share
	}
	return 0.4
}
