package visit

import (
	"strings"
	"testing"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

const (
	visitID    = "01939d5e-7c11-7a00-8000-000000000001"
	revisionID = "01939d5e-7c11-7a00-8000-000000000002"
	lotKH      = "01939d5e-7c11-7a00-8000-000000000011"
	lotNO3     = "01939d5e-7c11-7a00-8000-000000000012"
	lotPH      = "01939d5e-7c11-7a00-8000-000000000013"
)

var received = time.Date(2026, 11, 24, 11, 0, 0, 0, time.UTC)

var kits = []tank.Instrument{
	{Lot: lotKH, Measures: q.KH, Type: tank.Drops, Unit: q.DKH, Step: q.Some(1.0)},
	{Lot: lotNO3, Measures: q.Nitrate, Type: tank.Classes, Unit: q.MgL, Classes: []tank.Class{
		{Label: 0, Lo: 0, Hi: q.Some(2.5)}, {Label: 5, Lo: 2.5, Hi: q.Some(7.5)}, {Label: 10, Lo: 7.5, Hi: q.Some(17.5)},
		{Label: 25, Lo: 17.5, Hi: q.Some(37.5)}, {Label: 50, Lo: 37.5},
	}},
	{Lot: lotPH, Measures: q.Acidity, Type: tank.Meter, Unit: q.PHUnit, Step: q.Some(0.01), SD: q.Some(0.02)},
}

func context(decimal byte) Context {
	wall, local := WallUTC()
	return Context{Tank: visitID, Locale: q.Locale{Decimal: decimal}, Wall: wall, Local: local, Kits: kits, Can: q.Some(q.Litre(20))}
}

// post makes the fields of a visit; each pair is NAME, VALUE.
func post(pairs ...string) []Field {
	fs := []Field{{"visit", visitID}, {"revision", revisionID}, {"wire", Wire}, {"performed", "2026-11-24T10:30:00Z"}}
	for i := 0; i < len(pairs); i += 2 {
		fs = append(fs, Field{pairs[i], pairs[i+1]})
	}
	return fs
}

func record(t *testing.T, decimal byte, pairs ...string) (Record, fault.Fields) {
	t.Helper()
	c := context(decimal)
	s, faults := Parse(post(pairs...), c)
	if len(faults) > 0 {
		return Record{}, faults
	}
	rec, err := New(s, tank.Setup{Kits: kits}, received, c)
	if err != nil {
		return Record{}, fault.Of(err).Fields
	}
	return rec, nil
}

func TestReadingIsUnderstood(t *testing.T) {
	for _, c := range []struct {
		name          string
		pairs         []string
		kind          q.Kind
		value, lo, hi float64
	}{
		{"decimal comma where the shop writes points", []string{"reading.kh.before", "4,5"}, q.KH, 4.5, 4, 5},
		{"a unit pasted with the number", []string{"reading.kh.before", "4,5 °dH"}, q.KH, 4.5, 4, 5},
		{"another known unit pasted", []string{"reading.temp.before", "77 °F"}, q.Temperature, 25, 24.5, 25.5},
		{"a unit chosen beside the field", []string{"reading.temp.before", "77", "unit.temp.before", "F"}, q.Temperature, 25, 24.5, 25.5},
		// 1 °d is 17.848 mg/L CaCO3.
		{"ppm of calcium carbonate", []string{"reading.kh.before", "71.39 ppm"}, q.KH, 4, 3.5, 4.5},
		// Four drops of 1 °d: the colour had not turned at three.
		{"counted drops", []string{"reading.kh.before", "4", "unit.kh.before", "drops", "kit.kh.before", lotKH}, q.KH, 3.5, 3, 4},
		{"a printed class", []string{"reading.no3.before", "10", "unit.no3.before", "class", "kit.no3.before", lotNO3}, q.Nitrate, 10, 7.5, 17.5},
		{"between two classes", []string{"reading.no3.before", "10..25", "unit.no3.before", "class", "kit.no3.before", lotNO3}, q.Nitrate, 17.5, 10, 25},
		{"a meter with its own spread", []string{"reading.ph.late", "6.15", "kit.ph.late", lotPH}, q.Acidity, 6.15, 6.11, 6.19},
		{"zero is a reading", []string{"reading.no2.before", "0"}, q.Nitrite, 0, 0, 0.03},
		{"a minus sign from a word processor", []string{"reading.temp.room", "−2", "offline", "1"}, q.Temperature, -2, -2.5, -1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			rec, faults := record(t, '.', c.pairs...)
			if len(faults) > 0 {
				t.Fatalf("refused: %v", faults)
			}
			got := rec.Readings[0]
			if got.Kind != c.kind || !near(got.Value, c.value) || !near(got.Lo, c.lo) || !near(got.Hi, c.hi) {
				t.Errorf("got %s %g (%g to %g), want %g (%g to %g)", got.Kind, got.Value, got.Lo, got.Hi, c.value, c.lo, c.hi)
			}
		})
	}
}

// A task ends by the customer's word with who said it and how; what was typed for
// another ending is not kept with it, and without a signal nothing is refused.
func TestWhatIsSaidOfATask(t *testing.T) {
	task := "task." + visitID
	both := []string{task + ".who", "the manager", task + ".words", "no tests on Sundays", task + ".why", "ladder is away", task + ".reason", "no_part"}
	for state, want := range map[string]TaskAnswer{
		"declined":   {Who: "the manager", Words: "no tests on Sundays"},
		"skipped":    {Reason: "no_part", Words: "ladder is away"},
		"done":       {},
		"not_needed": {},
	} {
		want.Task, want.State = visitID, state
		rec, faults := record(t, '.', append([]string{task, state}, both...)...)
		if len(faults) > 0 || len(rec.Tasks) != 1 || rec.Tasks[0] != want {
			t.Errorf("%s: %+v, %v", state, rec.Tasks, faults)
		}
	}
	if rec, faults := record(t, '.', task, "skipped", task+".reason", "no_part", task+".words", "ladder is away"); len(faults) > 0 || rec.Tasks[0].Words != "ladder is away" {
		t.Errorf("a form of before: %+v, %v", rec.Tasks, faults)
	}
	if rec, faults := record(t, '.', task, "declined", "offline", "1"); len(faults) > 0 || len(rec.Tasks) != 1 || rec.Tasks[0].State != "declined" {
		t.Errorf("without a signal: %+v, %v", rec.Tasks, faults)
	}
	if _, faults := record(t, '.', task, "declined", task+".who", strings.Repeat("x", maxShort+1), task+".words", strings.Repeat("x", maxNote+1)); len(faults.On(task+".who")) != 1 || len(faults.On(task+".words")) != 1 {
		t.Errorf("too long: %v", faults)
	}
}

func near(a, b float64) bool { d := a - b; return d < 1e-3 && d > -1e-3 }

func TestBadInputIsSaidBesideItsField(t *testing.T) {
	for _, c := range []struct {
		name, field, kind string
		pairs             []string
	}{
		{"pH 45", "reading.ph.before", fault.Impossible, []string{"reading.ph.before", "45"}},
		{"negative volume", "work.water_change.litres", fault.Impossible, []string{"work.water_change.litres", "-40"}},
		{"letters", "reading.kh.before", fault.NotNumber, []string{"reading.kh.before", "vier"}},
		{"a unit that does not fit", "reading.ph.before", fault.NotUnit, []string{"reading.ph.before", "6.8 kg"}},
		{"a unit nobody knows", "reading.kh.before", fault.NotUnit, []string{"reading.kh.before", "4 blubs"}},
		{"drops without a kit for them", "reading.gh.before", fault.NotUnit, []string{"reading.gh.before", "4", "unit.gh.before", "drops"}},
		{"a colour that is not printed", "reading.no3.before", fault.NotUnit, []string{"reading.no3.before", "30", "unit.no3.before", "class"}},
		{"unusual nitrate", "reading.no3.before", fault.Unlikely, []string{"reading.no3.before", "350"}},
		{"two readings of one text", "reading.ec.before", fault.Ambiguous, []string{"reading.ec.before", "1,250"}},
		{"a field nobody knows", "reading.gold.before", fault.Unknown, []string{"reading.gold.before", "1"}},
		{"one field sent twice", "performed", fault.NotChoice, []string{"performed", "2026-11-25T10:30:00Z"}},
		{"seconds forgotten", "bucket.before.1.seconds", fault.Missing, []string{"bucket.before.1.litres", "10"}},
		{"a skipped task without why", "task." + visitID + ".reason", fault.Missing, []string{"task." + visitID, "skipped"}},
		{"a declined task without who", "task." + visitID + ".who", fault.Missing, []string{"task." + visitID, "declined", "task." + visitID + ".words", "too dear"}},
		{"a declined task without words", "task." + visitID + ".words", fault.Missing, []string{"task." + visitID, "declined", "task." + visitID + ".who", "the manager"}},
		{"the leave list left blank", "leave.key", fault.Missing, []string{"leave.asked", "1"}},
		{"a death without what was seen", "since.died.note", fault.Missing, []string{"leave.asked", "1", "leave.all", "checked", "since", "died"}},
		{"nothing new and something new", "since", fault.NotChoice, []string{"since", "nothing_new", "since", "power_cut"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := record(t, '.', c.pairs...)
			on := faults.On(c.field)
			if len(on) == 0 || on[0].Kind != c.kind {
				t.Fatalf("want a %s fault on %s, got %v", c.kind, c.field, faults)
			}
			if !strings.HasSuffix(on[0].Text, ".") && !strings.HasSuffix(on[0].Text, "?") {
				t.Errorf("%q is not a sentence", on[0].Text)
			}
		})
	}
}

func TestTheFutureIsRefused(t *testing.T) {
	c := context('.')
	s, faults := Parse(post(), c)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for ahead, refused := range map[time.Duration]bool{4 * time.Minute: false, 6 * time.Minute: true} {
		s.Performed = received.Add(ahead)
		_, err := New(s, tank.Setup{}, received, c)
		if (err != nil) != refused {
			t.Errorf("%s ahead of the server: %v", ahead, err)
		}
	}
}

func TestEveryFaultIsToldAtOnce(t *testing.T) {
	_, faults := record(t, '.', "reading.ph.before", "45", "reading.kh.before", "vier", "work.water_change.litres", "-1")
	for _, field := range []string{"reading.ph.before", "reading.kh.before", "work.water_change.litres"} {
		if len(faults.On(field)) == 0 {
			t.Errorf("nothing is said about %s in %v", field, faults)
		}
	}
}

func TestQuestionsAreAskedOnce(t *testing.T) {
	for _, c := range []struct {
		pairs   []string
		confirm string
		value   float64
	}{
		{[]string{"reading.no3.before", "350"}, "reading.no3.before=350", 350},
		{[]string{"reading.ec.before", "1,250"}, "reading.ec.before=1250", 1250},
	} {
		_, faults := record(t, '.', c.pairs...)
		if !faults.OnlyQuestions() {
			t.Fatalf("%v: want a question, got %v", c.pairs, faults)
		}
		rec, faults := record(t, '.', append(c.pairs, "confirm", c.confirm)...)
		if len(faults) > 0 || rec.Readings[0].Value != c.value || !rec.Readings[0].Confirmed {
			t.Errorf("%v with %s: %v, %v", c.pairs, c.confirm, rec.Readings, faults)
		}
	}
}

// A tablet in a cellar cannot be asked: what is only unlikely is kept and
// flagged, and what can be read in two ways keeps both as its ends.
func TestOutboxIsNeverRefusedForQuestions(t *testing.T) {
	rec, faults := record(t, '.', "offline", "1", "reading.no3.before", "350", "reading.ec.before", "1,250")
	if len(faults) > 0 {
		t.Fatalf("refused: %v", faults)
	}
	want := "unlikely:reading.no3.before ambiguous:reading.ec.before"
	if got := strings.Join(rec.Flags, " "); got != want {
		t.Errorf("flags %q, want %q", got, want)
	}
	ec, _ := rec.Reading(q.EC, Before)
	if ec.Lo > 1.25 || ec.Hi < 1250 {
		t.Errorf("EC %g to %g does not hold both 1.25 and 1250", ec.Lo, ec.Hi)
	}
	if _, faults := record(t, '.', "offline", "1", "reading.ph.before", "45"); len(faults) == 0 {
		t.Error("pH 45 was taken from an outbox")
	}
}

// 1,250 where the shop writes commas: 1.25 mg/L phosphate is possible and so
// is 1250 µS/cm; which of both is plausible decides, and where both are, it asks.
func TestAmbiguityFollowsWhatIsPossible(t *testing.T) {
	rec, faults := record(t, ',', "reading.po4.before", "1,250")
	if len(faults) > 0 || rec.Readings[0].Value != 1.25 {
		t.Errorf("PO4 1,250: %v %v; 1250 mg/L is impossible, so it is 1.25", rec.Readings, faults)
	}
}

func TestClockOfTheTablet(t *testing.T) {
	// The tablet says 13:00 at the server's 11:00; its 12:30 was 10:30.
	rec, faults := record(t, '.', "sent", "2026-11-24T13:00:00Z")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if want := time.Date(2026, 11, 24, 8, 30, 0, 0, time.UTC); !rec.Performed.Equal(want) || rec.Skew != 2*time.Hour {
		t.Errorf("performed %s skew %s, want %s and 2h", rec.Performed, rec.Skew, want)
	}
	rec, _ = record(t, '.', "sent", "2026-11-24T11:01:30Z")
	if rec.Skew != 0 {
		t.Errorf("a minute and a half was corrected by %s; a slow answer explains it", rec.Skew)
	}
}

func TestSamplesDrawnBeforeTheChange(t *testing.T) {
	rec, faults := record(t, '.', "drawn", "10:05", "reading.no3.before", "10", "reading.temp.after", "24", "drawn.kh.before", "10:10", "reading.kh.before", "4")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	at := func(k q.Kind, p Phase) string { r, _ := rec.Reading(k, p); return r.Drawn.Format("15:04") }
	if at(q.Nitrate, Before) != "10:05" || at(q.KH, Before) != "10:10" || at(q.Temperature, After) != "10:30" {
		t.Errorf("drawn at %s, %s, %s", at(q.Nitrate, Before), at(q.KH, Before), at(q.Temperature, After))
	}
}

func TestWorkMovementsAndCans(t *testing.T) {
	rec, faults := record(t, '.',
		"work.water_change.cans", "3", "work.trim", "on", "work.dose.1.solute", "no3", "work.dose.1.grams", "1,4",
		"moved.1.group", "tetras", "moved.1.n", "2", "moved.1.reason", "died",
		"bucket.before.2.litres", "10", "bucket.before.2.seconds", "62", "bucket.before.10.litres", "10", "bucket.before.10.seconds", "60",
		"ppfd.1.umol", "55", "ppfd.1.x", "10", "look.animals", "fine", "look.algae", "trouble", "sign.green_dust_on_glass", "seen")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if change, _ := rec.Did(WaterChange); change.Litres.V != 60 {
		t.Errorf("three cans of 20 L are %v L", change.Litres)
	}
	if dose, _ := rec.Did(Dose); dose.Grams.V != 1.4 {
		t.Errorf("dosed %v g", dose.Grams)
	}
	if len(rec.Movements) != 1 || rec.Movements[0].N != -2 || rec.Movements[0].Living != "animal" {
		t.Errorf("movements %+v", rec.Movements)
	}
	if len(rec.Buckets) != 2 || rec.Buckets[0].Seconds != 62 {
		t.Errorf("bucket runs out of order: %+v", rec.Buckets)
	}
	if rec.Looks[LookAnimals] != Fine || rec.Looks[LookPlants] != NotLooked || !rec.Has("green_dust_on_glass") {
		t.Errorf("looks %v signs %v", rec.Looks, rec.Signs)
	}
}

func TestCanonicalIsAboutTheVisitOnly(t *testing.T) {
	a := Canonical(post("reading.kh.before", "4", "sent", "2026-11-24T11:00:00Z"))
	b := Canonical(append([]Field{{"reading.kh.before", "4"}}, post("sent", "2026-11-24T19:00:00Z", "offline", "1", "reading.gh.before", "")...))
	if string(a) != string(b) {
		t.Errorf("the same visit sent later is another body:\n%s\n%s", a, b)
	}
	if c := Canonical(post("reading.kh.before", "4.0")); string(c) == string(a) {
		t.Error("another value as typed is the same body")
	}
}

func FuzzParse(f *testing.F) {
	f.Add("reading.kh.before", "4,5 °dH", byte('.'))
	f.Add("reading.ec.before", "1,250", byte(','))
	f.Add("work.water_change.litres", "-3", byte('.'))
	f.Add("moved.1.n", "٣", byte('.'))
	f.Fuzz(func(t *testing.T, name, value string, decimal byte) {
		c := context(decimal)
		s, faults := Parse(post(name, value), c)
		if len(faults) > 0 {
			return
		}
		rec, err := New(s, tank.Setup{Kits: kits}, received, c)
		if err != nil {
			return
		}
		for _, r := range rec.Readings {
			m, _ := q.MeasureOf(r.Kind)
			if !m.Holds(r.Value) || !(r.Lo <= r.Value && r.Value <= r.Hi) {
				t.Errorf("%q=%q became %g (%g to %g)", name, value, r.Value, r.Lo, r.Hi)
			}
		}
	})
}
