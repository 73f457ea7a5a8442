package due

import (
	"strconv"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// Roads is what driving is reckoned with where no routing service answers.
type Roads struct {
	Shop q.Opt[customer.Position]
	// Factor is how long a road is beside the straight line; 1 to 5.
	Factor float64
	// Pace is how long a way takes in each hour of the day, from midnight on, in
	// percent of what it takes in a quiet hour.
	Pace    [24]int
	Version int
}

// UsualRoads are those of a town: a road factor of 1.35 and the pace of
// round.DefaultPace.
func UsualRoads() Roads { return Roads{Factor: UsualFactor, Pace: round.DefaultPace()} }

// UsualFactor is the road factor that round.GreatCircle reckons with.
const UsualFactor = 1.35

// PaceParts are the parts of the day for which a pace is typed: their first hour
// and the one after their last.
var PaceParts = []struct{ From, To int }{{0, 7}, {7, 8}, {8, 9}, {9, 10}, {10, 15}, {15, 16}, {16, 17}, {17, 18}, {18, 19}, {19, 24}}

// PaceField is the name of the form's field for one of PaceParts.
func PaceField(part int) string { return "pace." + strconv.Itoa(part) }

var (
	roadFactor = typed.Measure{Name: "factor", What: "The road factor", Dim: typed.Plain("1"), Possible: q.Range{Lo: 1, Hi: 5}, Likely: q.Range{Lo: 1.1, Hi: 2}}
	pace       = typed.Measure{What: "The pace", Dim: typed.Plain(q.Percent), Possible: q.Range{Lo: 20, Hi: 900}, Likely: q.Range{Lo: 60, Hi: 300}}
)

// ParseRoads reads the form of the round's settings.
func ParseRoads(get typed.Fields, units say.Units, was Roads) (Roads, fault.Fields) {
	f := typed.Form{Get: get, Units: units}
	r := Roads{Version: was.Version}
	r.Shop = parsePlace(&f, "shop", was.Shop)
	factor := f.Number(roadFactor, q.Some(was.Factor))
	if !factor.OK && len(f.Faults.On("factor")) == 0 {
		f.Faults.Add("factor", fault.Missing, "How long is a road beside the straight line? Mostly 1.3 to 1.4.")
	}
	r.Factor = factor.V
	for i, part := range PaceParts {
		m := pace
		m.Name = PaceField(i)
		v := f.Whole(m, q.Some(was.Pace[part.From]))
		if !v.OK && len(f.Faults.On(m.Name)) == 0 {
			f.Faults.Add(m.Name, fault.Missing, "How long does a way take then, in percent of a quiet hour?")
		}
		for h := part.From; h < part.To; h++ {
			r.Pace[h] = v.V
		}
	}
	return r, f.Faults
}

// Typed is what ParseRoads reads.
func (r Roads) Typed(units say.Units) map[string]string {
	out := map[string]string{"factor": roadFactor.Dim.Show(q.Some(r.Factor), units)}
	if r.Shop.OK {
		out["shop"] = r.Shop.V.String()
	}
	for i, part := range PaceParts {
		out[PaceField(i)] = strconv.Itoa(r.Pace[part.From])
	}
	return out
}

// Travel is driving between places by these roads.
func (r Roads) Travel(places []round.Place) round.Travel {
	t := round.GreatCircle(places)
	t.Pace = r.Pace
	if r.Factor != UsualFactor && r.Factor > 0 {
		for i := range t.Drive {
			t.Drive[i] = round.Seconds(float64(t.Drive[i])*r.Factor/UsualFactor + 0.5)
			t.Metres[i] = int32(float64(t.Metres[i])*r.Factor/UsualFactor + 0.5)
		}
	}
	return t
}
