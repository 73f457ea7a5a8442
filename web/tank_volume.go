package web

import (
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/volume"
	"scaperound/web/view"
)

// volumesOf computes gross and net volume from the sizes, the inner height
// standing in for a level that nobody measured. ok is false where too little is
// known; why says so in words, or what cannot be.
func volumesOf(s tank.Setup) (v volume.Volumes, why string, ok bool) {
	level := s.Level
	if !level.OK {
		level = s.Height
	}
	if !s.Length.OK || !s.Width.OK || !level.OK {
		return v, "Length, width and water level are needed for it.", false
	}
	v, err := volume.Of(volume.Setup{
		Length: s.Length.V, Width: s.Width.V, Level: level.V, Substrate: s.SubstrateDepth.V, Porosity: s.Porosity.Or(volume.UsualPorosity),
		Stone: s.Stone.V, Wood: s.Wood.V, Filter: s.Filter.Volume.V,
	})
	if err != nil {
		return v, fault.Of(err).Msg, false
	}
	return v, "", true
}

// netOf is the water that doses and changes refer to: the metered fill, else
// the sum of the sizes.
func netOf(s tank.Setup) q.Opt[q.Litre] {
	if s.Metered.OK {
		return s.Metered
	}
	v, _, ok := volumesOf(s)
	return q.Opt[q.Litre]{V: v.Net, OK: ok}
}

// volumeLines says gross and net volume and what they rest on.
func volumeLines(s tank.Setup, units say.Units) view.TankVolume {
	v, why, ok := volumesOf(s)
	out := view.TankVolume{Why: why}
	if ok {
		out.Gross = say.Amount(float64(v.Gross), q.L, 0, units)
		out.Net = say.Amount(float64(v.Net), q.L, 0, units)
		out.Share = say.Amount(float64(v.Ratio)*100, q.Percent, 0, units)
		if v.Unusual {
			out.Why = "Net is seldom this far from gross: please look at the sizes once more."
		}
		if s.SubstrateDepth.OK && !s.Porosity.OK {
			out.Basis = "reckoned with 40 % of the substrate being water"
		}
	}
	if s.Metered.OK {
		out.Net = say.Amount(float64(s.Metered.V), q.L, 0, units)
		out.Basis = "metered at the first fill, which beats the sum"
		if ok {
			out.Share = say.Amount(100*float64(s.Metered.V/v.Gross), q.Percent, 0, units)
		}
	}
	return out
}
