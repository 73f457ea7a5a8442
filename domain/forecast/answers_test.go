package forecast

import (
	"math"
	"math/rand/v2"
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func expectedOf(t *testing.T, s State, setup tank.Setup, c Course, days int, k q.Kind) Expected {
	t.Helper()
	for _, e := range Ahead(s, setup, c, []q.Date{s.Day.Add(days)}) {
		if e.Kind == k {
			return e
		}
	}
	t.Fatalf("nothing is said of %s", k)
	return Expected{}
}

func scaled(p tank.Plan, by float64) tank.Plan {
	out := tank.Plan{By: p.By}
	for _, l := range p.Lines {
		l.PerDose *= q.Milligram(by)
		out.Lines = append(out.Lines, l)
	}
	return out
}

// Dose more and there is more; change more of a nutrient-rich tank with poor
// water and there is less; wait longer and a run-out is nearer.
func TestAnswersAreMonotonic(t *testing.T) {
	for seed := range uint64(6) {
		l := newMadeUp(seed).live(12, seed%2 == 0)
		s := Fold(l.steps)
		end := l.steps[len(l.steps)-1]
		for i, k := range kinds[:nutrient] {
			last := -1.0
			for by := 0.0; by <= 3; by++ {
				e := expectedOf(t, s, end.Setup, Course{Plan: scaled(end.Plan, by)}, 10, k)
				if e.Value < last-1e-9 {
					t.Errorf("tank %d: %s falls to %v as the dose rises to %v", seed, k, e.Value, by)
				}
				last = e.Value
				if !(e.Lo <= e.Value && e.Value <= e.Hi) {
					t.Errorf("tank %d: %s %+v", seed, k, e)
				}
			}
			none := Course{Plan: tank.Plan{By: tank.DosedByNobody}}
			before := math.MaxInt
			for _, limit := range []float64{0.2, 0.5, 1, 2} {
				r := Crossing(s, end.Setup, none, k, Below, limit*[...]float64{5, 0.2, 5, 0.03}[i], 40)
				d := r.Days
				if r.Verdict == NotWithin {
					d = 41
				}
				if d > before {
					t.Errorf("tank %d: %s passes a higher limit later, on day %d after %d", seed, k, d, before)
				}
				before = d
				if r.Verdict == Around && (r.Lo > r.Days || r.Hi.OK && r.Hi.V < r.Days) {
					t.Errorf("tank %d: %+v", seed, r)
				}
			}
		}
		last := math.Inf(1)
		for share := 0.1; share < 0.9; share += 0.2 {
			e := expectedOf(t, s, end.Setup, Course{Share: q.Share(share), Every: 7}, 30, q.GH)
			d := math.Abs(e.Value - s.Mean[inGH])
			if d > last+0.02+0.02*e.Value {
				t.Errorf("tank %d: a larger change brings GH away from the source: %v, was %v", seed, d, last)
			}
			last = d
		}
	}
}

// A visit that comes in late is put in by the time when it was performed.
func TestOrderOfArrivalIsNothing(t *testing.T) {
	l := newMadeUp(6).live(14, true)
	want := Fold(l.steps)
	r := rand.New(rand.NewPCG(3, 3))
	for range 10 {
		mixed := append([]Step(nil), l.steps...)
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		if Fold(mixed) != want {
			t.Fatal("the order in which visits come in changes the state")
		}
	}
	// Handed to Update out of its turn, it changes nothing.
	st := l.steps[3]
	if Update(want, st.Setup, st.Plan, st.Visit) != want {
		t.Error("a visit of the past was folded in on top")
	}
}

// One visit at a time or all at once is the same.
func TestFoldIsUpdates(t *testing.T) {
	l := newMadeUp(3).live(10, false)
	var s State
	for _, st := range l.steps {
		s = Update(s, st.Setup, st.Plan, st.Visit)
	}
	if s != Fold(l.steps) {
		t.Error("the fold differs from its steps")
	}
}

// Doses that stop, a slip of the pen and a new light are noticed, not averaged
// away.
func TestWhatHappenedIsSaid(t *testing.T) {
	said := func(s State, what Suspect) (Suspicion, bool) {
		for _, x := range Suspicions(s) {
			if x.Suspect == what {
				return x, true
			}
		}
		return Suspicion{}, false
	}
	noticed, slips, held, tries := 0, 0, 0, 0
	for seed := uint64(2); seed < 42; seed += 2 { // those with a doser
		m := newMadeUp(seed)
		m.makes = [2]float64{} // nothing but the doser brings anything
		m.broken = 80
		l := m.live(13, false)
		tries++
		var s State
		found := false
		for v, st := range l.steps {
			s = Update(s, st.Setup, st.Plan, st.Visit)
			if _, ok := said(s, DosesMissed); ok && v >= 11 {
				found = true
			}
		}
		if found {
			noticed++
		}

		l = newMadeUp(seed).live(10, false)
		good := Fold(l.steps)
		end := &l.steps[9]
		for i := range end.Visit.Readings {
			if r := &end.Visit.Readings[i]; r.Kind == q.GH {
				r.Value, r.Lo, r.Hi = r.Value*10, r.Lo*10, r.Hi*10 // a point was lost
			}
		}
		s = Fold(l.steps)
		if x, ok := said(s, WrongReading); ok && x.Kind == q.GH && x.Check == RepeatTest {
			slips++
		}
		a := expectedOf(t, good, end.Setup, Course{Plan: end.Plan}, 7, q.GH).Value
		b := expectedOf(t, s, end.Setup, Course{Plan: end.Plan}, 7, q.GH).Value
		if math.Abs(a-b) < 1.5 {
			held++
		}
	}
	if noticed < tries/2 {
		t.Errorf("a doser that stood still was noticed in %d of %d tanks", noticed, tries)
	}
	if slips < tries*9/10 || held < tries*9/10 {
		t.Errorf("a lost decimal point was said in %d and kept out in %d of %d tanks", slips, held, tries)
	}
}

func TestExpiredKit(t *testing.T) {
	l := newMadeUp(4).live(8, false)
	end := &l.steps[7]
	end.Setup.Kits = []tank.Instrument{{Lot: "kit", Measures: q.Nitrate, Type: tank.Classes, Expires: q.Some(end.Visit.Day - 100)}}
	for i := range end.Visit.Readings {
		if r := &end.Visit.Readings[i]; r.Kind == q.Nitrate {
			r.Interval = q.Interval{Value: 0, Lo: 0, Hi: 2.5}
		}
	}
	for _, x := range Suspicions(Fold(l.steps)) {
		if x.Suspect == ExpiredKit && x.Kind == q.Nitrate && x.Check == FreshKit {
			return
		}
	}
	t.Error("nothing is said of an expired kit that found nothing where much was expected")
}

func TestLongestInterval(t *testing.T) {
	l := newMadeUp(2).live(12, false)
	s := Fold(l.steps)
	end := l.steps[11]
	p := tank.Profile{Bands: []tank.Band{{Kind: q.Nitrate, Hi: q.Some(200.0)}, {Kind: q.KH, HardLo: q.Some(0.01)}}}
	limits := LimitsOf(end.Setup, p)
	r := LongestInterval(s, end.Setup, end.Plan, limits, 200)
	if r.Verdict != Around || r.By.Kind != q.Flow && r.By.Kind != q.CylinderGross {
		t.Errorf("%+v, want the filter or the cylinder to end it", r)
	}
	// A tighter limit can only shorten it.
	tight := append(limits, Limit{Kind: q.Nitrate, Side: Above, At: expectedOf(t, s, end.Setup, Course{Plan: end.Plan}, 3, q.Nitrate).Value})
	if x := LongestInterval(s, end.Setup, end.Plan, tight, 200); x.Days > r.Days {
		t.Errorf("with one limit more it is %d days, was %d", x.Days, r.Days)
	}
	if x := LongestInterval(s, end.Setup, end.Plan, nil, 60); x.Verdict != NotEnough {
		t.Errorf("without limits: %+v", x)
	}
	if x := LongestInterval(s, end.Setup, end.Plan, []Limit{{Kind: q.Nitrate, Side: Above, At: 1e5}}, 60); x.Verdict != NotWithin || x.Days != 60 {
		t.Errorf("a limit far away: %+v", x)
	}
}

// What was not read for long teaches more than the same read at each visit.
func TestWhichTestTeaches(t *testing.T) {
	gain := func(l lived) float64 {
		s := Fold(l.steps)
		end := l.steps[11]
		all := WhichTestTeaches(s, end.Setup, Course{Plan: end.Plan}, s.Day.Add(7), nil)
		if len(all) != Tracked {
			t.Fatalf("%d kinds are judged", len(all))
		}
		var out float64
		for i, x := range all {
			if !(x.Gain >= 0 && x.Gain <= 1 && x.Worth >= 0 && x.Worth <= 1) || i > 0 && x.Worth > all[i-1].Worth {
				t.Errorf("%+v", x)
			}
			if x.Kind == q.Potassium {
				out = x.Gain
			}
		}
		return out
	}
	l := newMadeUp(8).live(12, false)
	often := gain(l)
	for v := range l.steps {
		rs := l.steps[v].Visit.Readings[:0]
		for _, r := range l.steps[v].Visit.Readings {
			if r.Kind != q.Potassium {
				rs = append(rs, r)
			}
		}
		l.steps[v].Visit.Readings = rs
	}
	if never := gain(l); never < 1.3*often {
		t.Errorf("potassium teaches %.3f unread and %.3f read each time", never, often)
	}
}

// A limit that is in question makes its test worth more than one that is far.
func TestATestIsWorthWhatHangsOnIt(t *testing.T) {
	l := newMadeUp(8).live(12, false)
	s := Fold(l.steps)
	end := l.steps[11]
	c := Course{Plan: end.Plan}
	worth := func(at float64) float64 {
		for _, x := range WhichTestTeaches(s, end.Setup, c, s.Day.Add(7), []Limit{{Kind: q.Nitrate, Side: Above, At: at}}) {
			if x.Kind == q.Nitrate {
				return x.Worth
			}
		}
		return 0
	}
	mid := expectedOf(t, s, end.Setup, c, 7, q.Nitrate).Value
	if near, far := worth(mid), worth(50*mid+500); near < 2*far {
		t.Errorf("worth %.3f with a limit at hand, %.3f with one far away", near, far)
	}
}

// Where nobody wrote down what is fed, nitrate that rises all the same is
// believed; and readings that were disbelieved once are not for ever.
func TestReadingsWinInTheEnd(t *testing.T) {
	setup := tank.Setup{State: tank.Running, SetUpOn: q.Some(q.Date(9000))}
	setup.Metered = q.Some(q.Litre(100))
	rec := func(v int, k q.Kind, x float64) visit.Record {
		return visit.Record{Kind: visit.Routine, Day: q.Date(10000 + 14*v), Readings: []visit.Reading{{Kind: k, Phase: visit.Before, Interval: visit.MeaningOf(k, x)}}}
	}
	for name, animals := range map[string][]tank.Living{"with animals": {{Group: "tetras", Count: 9}}, "without animals on record": nil} {
		setup.Animals = animals
		var s State
		for v, x := range []float64{2, 8, 14, 20, 26} {
			s = Update(s, setup, tank.Plan{}, rec(v, q.Nitrate, x))
		}
		if e := expectedOf(t, s, setup, Course{}, 0, q.Nitrate); e.Value < 20 || e.Value > 32 {
			t.Errorf("%s: read at 26 after 2, 8, 14 and 20: %+v", name, e)
		}
		if e := expectedOf(t, s, setup, Course{}, 14, q.Nitrate); animals != nil && e.Hi < 30 {
			t.Errorf("%s: a fortnight on: %+v", name, e)
		}
		s = State{}
		for v, x := range []float64{12, 12, 12, 12, 3, 3, 3} {
			s = Update(s, setup, tank.Plan{}, rec(v, q.KH, x))
		}
		if e := expectedOf(t, s, setup, Course{}, 0, q.KH); math.Abs(e.Value-3) > 1 {
			t.Errorf("%s: KH read at 3 three times: %+v", name, e)
		}
	}
}
