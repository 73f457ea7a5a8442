package forecast

import (
	"scaperound/domain/feed"
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/domain/volume"
)

// NetVolume is the metered filling, else the sum of the sizes; nothing where
// neither is known. Metered reports which it is.
func NetVolume(s tank.Setup) (net q.Opt[q.Litre], metered bool) {
	if s.Metered.OK && s.Metered.V > 0 {
		return s.Metered, true
	}
	if !s.Length.OK || !s.Width.OK || !(s.Level.OK || s.Height.OK) {
		return q.Opt[q.Litre]{}, false
	}
	v, err := volume.Of(volume.Setup{
		Length: s.Length.V, Width: s.Width.V, Level: s.Level.Or(s.Height.V),
		Substrate: s.SubstrateDepth.V, Porosity: s.Porosity.Or(volume.UsualPorosity),
		Stone: s.Stone.V, Wood: s.Wood.V, Filter: s.Filter.Volume.V,
	})
	if err != nil || !(v.Net > 0) {
		return q.Opt[q.Litre]{}, false
	}
	return q.Some(v.Net), false
}

// usualNet stands in where a tank's sizes are not known. Shares changed and
// amounts dosed then mean little, and its given term is widened.
const usualNet q.Litre = 150

// supply is what comes in: mg/L, hardness in °d; by the day, or at once.
type supply [moves]float64

// co-ions: what dosing with potassium salts brings beside the ion that counts.
var potassiumWith = func() (with [nutrient]float64) {
	for i, id := range [...]string{"KNO3", "KH2PO4"} {
		if s, err := salt.Find(id); err == nil {
			with[i] = s.Gives[salt.K] / s.Gives[[...]salt.Solute{salt.NO3, salt.PO4}[i]]
		}
	}
	return with
}()

// add counts an ion, in mg per litre of the tank, with its usual co-ion.
func (u *supply) add(k q.Kind, mgL float64) {
	if !(mgL > 0) || mgL > 1e5 {
		return
	}
	switch k {
	case q.Nitrate, q.Phosphate:
		i := lnNO3
		if k == q.Phosphate {
			i = lnPO4
		}
		u[i] += mgL
		u[lnK] += float64(mgL * potassiumWith[i])
	case q.NitrateN:
		u.add(q.Nitrate, mgL*4.4266)
	case q.Potassium:
		u[lnK] += mgL
	case q.Iron:
		u[lnFe] += mgL
	case q.KH: // an amount of alkalinity cannot be told in mg
	default:
		var a salt.Amounts
		if of, ok := salt.FromKind(k); ok {
			a[of] = mgL
			h, _ := a.Hardness()
			u[gh] += float64(h)
		}
	}
}

// dailyOf is what the plan gives in a day. What the shop itself doses is counted
// from the visits' work.
func dailyOf(p tank.Plan, net float64) (u supply) {
	if p.By == tank.DosedByNobody {
		return u
	}
	for i := range p.Lines {
		l := &p.Lines[i]
		if l.ByWhom == "shop" {
			continue
		}
		u.add(l.Solute, float64(l.PerDose)*float64(l.DosesPerWeek())/7/net)
	}
	return u
}

// atOnce is what was dosed at the visit, by ion or by salt.
func atOnce(v *visit.Record, net float64) (u supply) {
	for i := range v.Work {
		w := &v.Work[i]
		if w.Kind != visit.Dose || !w.Grams.OK || !(w.Grams.V > 0) {
			continue
		}
		if s, err := salt.Find(w.Solute); err == nil {
			d, err := salt.Brings(salt.Weighed{Salt: s, Mass: w.Grams.V}, q.Litre(net))
			if err != nil {
				continue
			}
			u[lnNO3] += d.Adds[salt.NO3]
			u[lnPO4] += d.Adds[salt.PO4]
			u[lnK] += d.Adds[salt.K]
			u[lnFe] += d.Adds[salt.Fe]
			u[gh] += float64(d.GH)
			u[kh] += float64(d.KH)
			continue
		}
		u.add(q.Kind(w.Solute), float64(w.Grams.V)*1000/net)
	}
	return u
}

// fedUnknown is what is fed where nobody wrote it down, in g a litre and day: with
// animals, and without any, where old leaves and soil still give something.
const (
	fedUnknown  = 0.003
	fedNoAnimal = 0.0004
)

// feedKnown reports whether it is on record what is fed.
func feedKnown(s *tank.Setup) bool {
	return s.Share.FeedPerDay.OK && s.Share.FeedPerDay.V > 0 || s.State == tank.Starting && !s.HasAnimals()
}

// fedDaily is what the feed is expected to bring in a day, mg/L of NO3, PO4, K.
func fedDaily(s *tank.Setup, net float64) (u [3]float64) {
	g := s.Share.FeedPerDay
	switch {
	case s.State == tank.Starting && !s.HasAnimals():
		return u
	case g.OK && g.V > 0:
	case s.HasAnimals():
		g.V = q.Gram(fedUnknown * net)
	default:
		g.V = q.Gram(fedNoAnimal * net)
	}
	r, err := feed.PerDay(g.V, feed.UsualFood, q.Litre(net))
	if err != nil {
		return u
	}
	return [3]float64{float64(r.NO3), float64(g.V) * feedMgPO4 / net, float64(g.V) * feedMgK / net}
}
