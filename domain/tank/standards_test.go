package tank

import (
	"testing"

	q "scaperound/domain/quantity"
)

// A band that cannot be kept, or that its own hard ends forbid, would colour
// every reading of every tank.
func TestStandardsAreInOrder(t *testing.T) {
	names := map[string]bool{}
	for _, s := range Standards() {
		if names[s.Name] || s.Name == "" || s.About == "" || !s.LightNeed.OK {
			t.Errorf("%q: a name of its own, a word about it and a light need", s.Name)
		}
		names[s.Name] = true
		seen := map[q.Kind]bool{}
		for _, b := range s.Bands {
			m, known := q.MeasureOf(b.Kind)
			if !known || seen[b.Kind] {
				t.Errorf("%s: %s is unknown or there twice", s.Name, b.Kind)
			}
			seen[b.Kind] = true
			last, have := 0.0, false
			for _, end := range []q.Opt[float64]{b.HardLo, b.Lo, b.Hi, b.HardHi} {
				if !end.OK {
					continue
				}
				if have && end.V < last {
					t.Errorf("%s: the ends of %s are not in order: %+v", s.Name, b.Kind, b)
				}
				if !m.Holds(end.V) {
					t.Errorf("%s: %v of %s cannot be measured", s.Name, end.V, b.Kind)
				}
				last, have = end.V, true
			}
		}
		for _, must := range []q.Kind{q.Temperature, q.Acidity, q.KH, q.GH, q.TAN, q.Nitrite, q.Nitrate, q.PPFD} {
			if !seen[must] {
				t.Errorf("%s says nothing of %s", s.Name, must)
			}
		}
	}
}

func TestStandardKitsLeaveNoGapBetweenColours(t *testing.T) {
	for _, k := range StandardKits() {
		if _, ok := q.ToCanonical(k.Measures, 1, k.Unit); !ok {
			t.Errorf("%s: %s does not measure %s", k.Name, k.Unit, k.Measures)
		}
		switch k.Type {
		case Classes:
			for i, c := range k.Classes {
				last := i == len(k.Classes)-1
				if c.Hi.OK == last || c.Label < c.Lo || c.Hi.OK && c.Label > c.Hi.V {
					t.Errorf("%s: the class %v is %v to %+v", k.Name, c.Label, c.Lo, c.Hi)
				}
				if !last && k.Classes[i+1].Lo != c.Hi.V {
					t.Errorf("%s: a gap behind %v", k.Name, c.Label)
				}
			}
		case Drops:
			if !k.Step.OK || k.Step.V <= 0 || !k.SampleML.OK {
				t.Errorf("%s: drops need a step and a sample", k.Name)
			}
		case Meter, Scale, Bucket:
			if !k.SD.OK {
				t.Errorf("%s: nobody knows how sure it is", k.Name)
			}
		}
	}
	no3 := classes(0, 5, 10, 25, 50)
	if no3[2].Lo != 7.5 || no3[2].Hi != q.Some(17.5) || no3[4].Lo != 37.5 || no3[4].Hi.OK {
		t.Errorf("between 10 and 25 the border is 17.5, and above 37.5 it is open: %+v", no3)
	}
}
