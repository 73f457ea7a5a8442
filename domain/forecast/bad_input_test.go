package forecast

import (
	"encoding/binary"
	"math"
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// sound fails on a number that is none, or on an interval that is upside down, in
// the state or in any answer from it.
func sound(t *testing.T, s State, setup tank.Setup, plan tank.Plan) {
	t.Helper()
	s.each(func(v float64) float64 {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("the state holds %v: %+v", v, s)
		}
		return v
	})
	for i := range terms {
		if s.Cov[at(i, i)] < -1e-9 {
			t.Fatalf("term %d has the variance %v", i, s.Cov[at(i, i)])
		}
	}
	c := Course{Plan: plan, Share: 0.4, Every: 9}
	for _, e := range Ahead(s, setup, c, []q.Date{s.Day, s.Day.Add(7), s.Day.Add(40)}) {
		for _, v := range []float64{e.Value, e.Lo, e.Hi} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%+v", e)
			}
		}
		if e.Lo > e.Value || e.Value > e.Hi {
			t.Fatalf("%+v", e)
		}
	}
	limits := append(LimitsOf(setup, tank.Profile{Bands: []tank.Band{{Kind: q.Nitrate, Lo: q.Some(5.0), HardHi: q.Some(50.0)}}}), Limit{Kind: "nothing"}, Limit{Kind: q.Iron, At: math.NaN()})
	for i, k := range kinds {
		if r := Crossing(s, setup, c, k, Side(i%2 == 0), 1, 20); r.Days < 0 || r.Days > 20 {
			t.Fatalf("%+v", r)
		}
	}
	if r := LongestInterval(s, setup, plan, limits, 20); r.Days < 0 || r.Days > 20 {
		t.Fatalf("%+v", r)
	}
	for _, l := range WhichTestTeaches(s, setup, c, s.Day.Add(7), limits) {
		if !(l.Gain >= 0 && l.Gain <= 1) || !(l.Worth >= 0 && l.Worth <= 1) {
			t.Fatalf("%+v", l)
		}
	}
	for _, x := range Suspicions(s) {
		if !(x.Probability >= 0 && x.Probability <= 1.0001) {
			t.Fatalf("%+v", x)
		}
	}
}

func TestNothingKnown(t *testing.T) {
	var s State
	if got := Ahead(s, tank.Setup{}, Course{}, []q.Date{0, 7}); len(got) != 0 {
		t.Errorf("without a visit: %+v", got)
	}
	if r := Crossing(s, tank.Setup{}, Course{}, q.Nitrate, Below, 2, 60); r.Verdict != NotEnough {
		t.Errorf("without a visit: %+v", r)
	}
	if r := Crossing(Fold(nil), tank.Setup{}, Course{}, q.Nitrate, Below, 2, 60); r.Verdict != NotEnough {
		t.Errorf("without a visit: %+v", r)
	}
	if Suspicions(s) != nil || WhichTestTeaches(s, tank.Setup{}, Course{}, 3, nil) != nil {
		t.Error("something is suspected of a tank that nobody has seen")
	}
	s = Update(s, tank.Setup{}, tank.Plan{}, visit.Record{Kind: visit.Routine, Day: 20000})
	sound(t, s, tank.Setup{}, tank.Plan{})
	for _, k := range []q.Kind{q.Flow, q.CylinderGross} {
		if r := Crossing(s, tank.Setup{}, Course{}, k, Below, 2, 60); r.Verdict != NotEnough {
			t.Errorf("%s of a tank without gear on record: %+v", k, r)
		}
	}
	if r := Crossing(s, tank.Setup{}, Course{}, "mood", Below, 2, 60); r.Verdict != NotEnough {
		t.Errorf("of a kind that nobody follows: %+v", r)
	}
}

// After a year of silence the past says little: the intervals are as wide as for
// a tank just met. A rebuilt tank begins anew.
func TestGapAndRebuilding(t *testing.T) {
	l := newMadeUp(4).live(10, false)
	s := Fold(l.steps)
	end := l.steps[9]
	late := end.Visit
	late.Day = s.Day.Add(365)
	late.Readings = nil
	after := Update(s, end.Setup, end.Plan, late)
	sound(t, after, end.Setup, end.Plan)
	if after.Cov[at(eatNO3, eatNO3)] < 0.9*Start(end.Setup).Cov[at(eatNO3, eatNO3)] {
		t.Error("after a year the plants' uptake is as sure as before")
	}
	built := end
	built.Setup.SetUpOn = q.Some(s.Day.Add(5))
	built.Visit.Day = s.Day.Add(10)
	built.Visit.Readings, built.Visit.Work = nil, nil
	anew := Update(s, built.Setup, built.Plan, built.Visit)
	if anew.Visits != 1 || anew.Mean[eatNO3] != Start(built.Setup).Mean[eatNO3] {
		t.Errorf("a rebuilt tank remembers %d visits", anew.Visits)
	}
	sound(t, anew, built.Setup, built.Plan)
}

// Whatever was typed, the answers stay numbers.
func FuzzUpdate(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6, 7, 8, 9}, uint8(7))
	nan := binary.LittleEndian.AppendUint64(nil, math.Float64bits(math.NaN()))
	inf := binary.LittleEndian.AppendUint64(nil, math.Float64bits(math.Inf(1)))
	big := binary.LittleEndian.AppendUint64(nil, math.Float64bits(1e300))
	low := binary.LittleEndian.AppendUint64(nil, math.Float64bits(-3))
	for _, b := range [][]byte{nan, inf, big, low, append(append(append([]byte{}, nan...), big...), low...), make([]byte, 400)} {
		f.Add(b, uint8(200))
	}
	f.Fuzz(func(t *testing.T, b []byte, every uint8) {
		next := func() float64 {
			if len(b) >= 8 && b[0]%2 == 0 {
				v := math.Float64frombits(binary.LittleEndian.Uint64(b))
				b = b[8:]
				return v
			}
			if len(b) == 0 {
				return 3
			}
			v := float64(b[0]) / 4
			b = b[1:]
			return v
		}
		l := newMadeUp(uint64(every)).live(4, true)
		s := Fold(l.steps)
		setup, plan := l.steps[3].Setup, l.steps[3].Plan
		for range 3 {
			setup.Metered = q.Some(q.Litre(next()))
			setup.Share.FeedPerDay = q.Some(q.Gram(next()))
			setup.CO2.Tare, setup.CO2.SwapMass = q.Some(q.Kilogram(next())), q.Some(q.Kilogram(next()))
			setup.Filter.Clean = q.Some(q.LitrePerHour(next()))
			setup.ROShare = q.Share(next())
			setup.Topoff = [...]tank.Topoff{tank.TopoffNone, tank.TopoffTap, tank.TopoffRO, ""}[every%4]
			if len(plan.Lines) > 0 {
				plan.Lines[0].PerDose = q.Milligram(next())
			}
			rec := visit.Record{Kind: visit.Routine, Day: s.Day.Add(int(every)), Doses: visit.DosesBetween{How: "some_missed", Missed: q.Some(int(every))}}
			for _, k := range append(Kinds(), q.NitrateN, q.CO2Bubbles) {
				for _, p := range []visit.Phase{visit.Before, visit.After, visit.FromSource} {
					if v := next(); p != visit.After || every%3 == 0 {
						rec.Readings = append(rec.Readings, visit.Reading{Kind: k, Phase: p, Interval: q.Interval{Value: v, Lo: v - next(), Hi: v + next()}})
					}
				}
			}
			rec.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(next()))}, {Kind: visit.Dose, Solute: "no3", Grams: q.Some(q.Gram(next()))}, {Kind: visit.Dose, Solute: "K2SO4", Grams: q.Some(q.Gram(next()))}, {Kind: visit.FilterClean}, {Kind: visit.CylinderSwap}}
			s = Update(s, setup, plan, rec)
			sound(t, s, setup, plan)
		}
	})
}
