package calc

import (
	"strings"

	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/typed"
)

// ByWord is the kind of an input whose mg/L are of whatever the word "of" names.
const ByWord quantity.Kind = "(of)"

// Units that only the bench's forms know.
const (
	kelvinF  quantity.Unit = "dF" // a difference of 1 °F
	cm2      quantity.Unit = "cm2"
	foot2    quantity.Unit = "ft2"
	galUSDay quantity.Unit = "galUS/d"
)

// dimensions are the units in which an input may be typed, by its canonical one.
// What is not here has no other unit.
var dimensions = map[quantity.Unit]typed.Dimension{
	quantity.DegC:    typed.Warmth,
	quantity.DKH:     typed.OfKind(quantity.KH),
	quantity.DGH:     typed.OfKind(quantity.GH),
	quantity.USCm:    typed.OfKind(quantity.EC),
	quantity.L:       typed.Volume,
	quantity.ML:      typed.SmallDose,
	quantity.Gr:      typed.SmallMass,
	quantity.Kg:      typed.Mass,
	quantity.LH:      typed.FlowRate,
	quantity.CM:      typed.Length,
	quantity.MM:      typed.OfKind(quantity.LevelDrop),
	quantity.Percent: typed.Percent,
	quantity.Umol:    typed.Brightness,
	quantity.M:       {Scales: scales(quantity.M, times(quantity.CM, 0.01), times(quantity.Foot, quantity.MPerFoot)), US: quantity.Foot},
	quantity.M3:      {Scales: scales(quantity.M3, times(quantity.L, 1e-3), times(quantity.Foot3, quantity.M3PerFoot3)), US: quantity.Foot3},
	quantity.Day:     {Scales: scales(quantity.Day, times(week, 7))},
	m2:               {Scales: scales(m2, times(cm2, 1e-4), times(foot2, quantity.MPerFoot*quantity.MPerFoot)), US: foot2},
	hour:             {Scales: scales(hour, times(quantity.Minute, 1.0/60))},
	second:           {Scales: scales(second, times(quantity.Minute, 60))},
	kelvin:           {Scales: scales(kelvin, times(kelvinF, 5.0/9)), US: kelvinF},
	lDay:             {Scales: scales(lDay, times(quantity.LWeek, 1.0/7), times(galUSDay, quantity.LitrePerGalUS)), US: galUSDay},
	mgNL:             {Scales: scales(quantity.AsN, times(quantity.AsNH4, quantity.NPerNH4), times(quantity.AsNH3, quantity.NPerNH3))},
}

// scales lists a canonical unit and others.
func scales(canonical quantity.Unit, others ...typed.Scale) []typed.Scale {
	return append([]typed.Scale{{Unit: canonical, Factor: 1}}, others...)
}

// times is a unit that is so many canonical ones.
func times(u quantity.Unit, factor float64) typed.Scale {
	return typed.Scale{Unit: u, Factor: factor}
}

// Dimension is in which units the input may be typed, the canonical one first. of
// is what the word "of" says, for inputs whose mg/L are of that.
func (in *Input) Dimension(of string) typed.Dimension {
	kind := in.Kind
	if kind == ByWord {
		kind = ""
		if s, err := soluteOf(of); err == nil {
			kind = kindOf[s]
		}
	}
	switch {
	case in.Share:
		return typed.PercentOfOne
	case kind != "":
		return typed.OfKind(kind)
	}
	if k, ok := kindOfKey(in.Key); ok && in.Unit == quantity.MgL {
		return typed.OfKind(k)
	}
	if d, ok := dimensions[in.Unit]; ok {
		return d
	}
	return typed.Plain(in.Unit)
}

// kindOf are the solutes that kits report in more than one way.
var kindOf = map[salt.Solute]quantity.Kind{salt.NO3: quantity.Nitrate, salt.PO4: quantity.Phosphate, salt.K: quantity.Potassium}

// kindOfKey is the kind that a key such as NO3_mg_L or dNO3 names.
func kindOfKey(key string) (quantity.Kind, bool) {
	name := strings.TrimSuffix(strings.TrimSuffix(key, "_mg_L"), "_max")
	switch strings.TrimPrefix(name, "d") {
	case "NO3":
		return quantity.Nitrate, true
	case "NO2":
		return quantity.Nitrite, true
	case "PO4":
		return quantity.Phosphate, true
	case "K":
		return quantity.Potassium, true
	}
	return "", false
}
