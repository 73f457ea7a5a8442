package visit

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// habit is how far a reading of a kind may lie from the truth when nobody
// said which kit it was taken with: the larger of a fixed half-width and a
// share of the value. Practice with the usual kits and hand meters.
type habit struct{ fixed, share float64 }

var habits = map[q.Kind]habit{
	q.Temperature: {0.5, 0}, q.TempMax: {0.5, 0}, q.TempMin: {0.5, 0},
	q.Acidity: {0.1, 0}, q.IndicatorPH: {0.2, 0}, q.IndicatorKH: {0.1, 0.02},
	q.KH: {0.5, 0}, q.GH: {0.5, 0},
	q.TAN: {0.1, 0.25}, q.Nitrite: {0.03, 0.25}, q.Nitrate: {2.5, 0.25}, q.NitrateN: {0.6, 0.25}, q.Phosphate: {0.1, 0.25},
	q.Potassium: {2, 0.2}, q.Iron: {0.05, 0.25}, q.Calcium: {5, 0.1}, q.Magnesium: {3, 0.2},
	q.Sodium: {3, 0.1}, q.Chloride: {5, 0.1}, q.Sulfate: {10, 0.15}, q.Silicate: {0.2, 0.25},
	q.Copper: {0.03, 0.25}, q.Zinc: {0.05, 0.25}, q.FreeChlorine: {0.02, 0.2}, q.TotalChlorine: {0.02, 0.2},
	q.EC: {5, 0.03}, q.TDS: {5, 0.05}, q.CO2: {3, 0.15}, q.CO2Bubbles: {2, 0.05}, q.CO2Use: {0.5, 0.1}, q.CO2Air: {50, 0.05},
	q.CylinderGross: {0.02, 0}, q.CylinderLoss: {0.02, 0}, q.Gauge: {3, 0}, q.WorkPressure: {0.2, 0},
	q.Oxygen: {0.4, 0.03}, q.OxygenShare: {4, 0.03}, q.GasTotal: {2, 0},
	q.PPFD: {3, 0.1}, q.PPFDMax: {3, 0.1}, q.PPFDMin: {3, 0.1},
	q.Flow: {5, 0.05}, q.FlowShare: {5, 0}, q.LevelDrop: {1, 0}, q.Evaporation: {0.3, 0.1}, q.Feed: {0.05, 0.3},
	q.ChangeDaysAgo: {0.5, 0}, q.ChangeFraction: {0.03, 0}, q.StrayVoltage: {1, 0.05},
}

// MeaningOf is what a canonical value can mean when its instrument is not
// known: the value and hard bounds, clipped to what is possible.
func MeaningOf(k q.Kind, v float64) q.Interval {
	h, ok := habits[k]
	if !ok {
		h = habit{0, 0.1}
	}
	half := math.Max(h.fixed, h.share*v)
	return clipped(k, q.Interval{Value: v, Lo: v - half, Hi: v + half})
}

func clipped(k q.Kind, i q.Interval) q.Interval {
	if m, ok := q.MeasureOf(k); ok {
		i.Lo, i.Hi = math.Max(i.Lo, m.Lo), math.Max(i.Hi, m.Lo)
	}
	return i
}

// meaning is what a typed reading can mean with its instrument; why is a
// sentence for the person where it cannot mean anything.
func (t TypedReading) meaning(kits []tank.Instrument) (meant q.Interval, why string) {
	var kit *tank.Instrument
	for i := range kits {
		if kits[i].Lot == t.Lot && t.Lot != "" || t.Lot == "" && kits[i].Measures == t.Kind && fitsForm(kits[i].Type, t.Unit) {
			kit = &kits[i]
			break
		}
	}
	switch t.Unit {
	case CountedDrops:
		if kit == nil || kit.Type != tank.Drops || !kit.Step.OK {
			return q.Interval{}, "Say which kit the drops were counted with: what a drop means depends on it."
		}
		return drops(t.Kind, t.Number.Value, *kit)
	case KitClass:
		if kit == nil || kit.Type != tank.Classes {
			return q.Interval{}, "Say which kit the colour was compared with."
		}
		return colour(t, *kit)
	}
	v, _ := q.ToCanonical(t.Kind, t.Number.Value, t.Unit)
	out := MeaningOf(t.Kind, v)
	if kit != nil && t.Lot != "" && kit.Type != tank.Drops && kit.Type != tank.Classes {
		out = metered(t.Kind, v, *kit)
	}
	if t.Wide.OK {
		other, _ := q.ToCanonical(t.Kind, t.Wide.V, t.Unit)
		out.Lo, out.Hi = math.Min(out.Lo, other), math.Max(out.Hi, other)
	}
	return out, ""
}

func fitsForm(it tank.InstrumentType, u q.Unit) bool {
	return u == CountedDrops && it == tank.Drops || u == KitClass && it == tank.Classes
}

// drops: the colour turned at the nth drop, so the truth lies in (n-1, n]
// steps. It is not n ± ½.
func drops(k q.Kind, n float64, kit tank.Instrument) (q.Interval, string) {
	step := kit.Step.V
	typed := q.Interval{Value: (n - 0.5) * step, Lo: (n - 1) * step, Hi: n * step}
	if n == 0 {
		typed = q.Interval{}
	}
	return inCanonical(k, typed, kit.Unit)
}

// colour: what the printed class, or the gap between two, can mean.
func colour(t TypedReading, kit tank.Instrument) (q.Interval, string) {
	lower, ok := classOf(kit, t.Number.Value)
	if !ok {
		return q.Interval{}, "This colour is not printed on the kit."
	}
	if !t.Upper.OK {
		hi := math.Inf(1)
		if lower.Hi.OK {
			hi = lower.Hi.V
		}
		return inCanonical(t.Kind, q.Interval{Value: lower.Label, Lo: lower.Lo, Hi: hi}, kit.Unit)
	}
	upper, ok := classOf(kit, t.Upper.V)
	if !ok {
		return q.Interval{}, "This colour is not printed on the kit."
	}
	return inCanonical(t.Kind, q.Interval{Value: (lower.Label + upper.Label) / 2, Lo: lower.Label, Hi: upper.Label}, kit.Unit)
}

func classOf(kit tank.Instrument, label float64) (tank.Class, bool) {
	for _, c := range kit.Classes {
		if c.Label == label {
			return c, true
		}
	}
	return tank.Class{}, false
}

func inCanonical(k q.Kind, i q.Interval, u q.Unit) (q.Interval, string) {
	v, ok := q.ToCanonical(k, i.Value, u)
	if !ok {
		return q.Interval{}, "The kit does not measure this."
	}
	lo, _ := q.ToCanonical(k, i.Lo, u)
	hi := i.Hi
	if !math.IsInf(hi, 1) {
		hi, _ = q.ToCanonical(k, hi, u)
	}
	return clipped(k, q.Interval{Value: v, Lo: lo, Hi: hi}), ""
}

// metered: a meter may be off by two standard deviations, and by half of its
// last digit at the least.
func metered(k q.Kind, v float64, kit tank.Instrument) q.Interval {
	if !kit.SD.OK && !kit.Step.OK {
		return MeaningOf(k, v)
	}
	half := math.Max(2*kit.SD.Or(0), kit.Step.Or(0)/2)
	at, ok1 := q.ToCanonical(k, 0, kit.Unit)
	far, ok2 := q.ToCanonical(k, half, kit.Unit)
	if !ok1 || !ok2 {
		return MeaningOf(k, v)
	}
	half = math.Abs(far - at)
	return clipped(k, q.Interval{Value: v, Lo: v - half, Hi: v + half})
}
