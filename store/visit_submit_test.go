package store_test

import (
	"context"
	"crypto/sha256"
	"slices"
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/store"
)

// record makes a visit performed at the moment, with one nitrate reading.
func (w tankWorld) record(t *testing.T, at string, nitrate float64) visit.Record {
	t.Helper()
	when := moment(t, at)
	return visit.Record{
		Visit: store.NewID(), Revision: store.NewID(), Tank: w.tank, Staff: w.owner, Kind: visit.Routine,
		Performed: when, Day: q.DateOf(when), Received: when.Add(time.Hour), Looks: map[visit.Look]visit.Answer{visit.LookPlants: visit.Fine},
		Readings: []visit.Reading{{Kind: q.Nitrate, Phase: visit.Before, Drawn: when.Add(-10 * time.Minute), Interval: q.Interval{Value: nitrate, Lo: nitrate - 2, Hi: nitrate + 2}, Typed: "x", TypedUnit: q.MgL}},
	}
}

func body(text string) store.Body {
	sum := sha256.Sum256([]byte(text))
	return store.Body{Raw: []byte(text), SHA256: sum[:]}
}

// wishing is a judgement that wants exactly the named actions.
func wishing(actions ...string) store.Assess {
	return func(c care.Case) care.Assessment {
		a := care.Assessment{Visit: c.Now.Visit, Revision: c.Now.Revision, Tank: c.Now.Tank, Rules: care.RulesVersion, Day: c.Now.Day,
			Status: care.AllWell, Urgency: care.Routine, Top: say.S("top.all_well")}
		for _, action := range actions {
			a.Tasks = append(a.Tasks, care.Task{Action: action, When: care.WhenNextVisit, Who: care.Technician, Urgency: care.Routine})
		}
		return a
	}
}

func (w tankWorld) submit(t *testing.T, r visit.Record, text string, assess store.Assess) store.Submitted {
	t.Helper()
	got, err := w.db.SubmitVisit(t.Context(), r, body(text), assess)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func (w tankWorld) open(t *testing.T) map[string]care.Task {
	t.Helper()
	tasks, err := w.db.OpenTasks(t.Context(), w.tank)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]care.Task{}
	for _, x := range tasks {
		m[x.Action] = x
	}
	return m
}

func TestSameBodyAgainIsTheFirstAnswer(t *testing.T) {
	w := newTankWorld(t)
	r := w.record(t, "2026-04-01 10:00", 10)
	first := w.submit(t, r, "a", wishing("trim_old"))
	again := w.submit(t, r, "a", wishing("something else entirely"))
	if !again.Replay || again.Evaluation != first.Evaluation || again.Assessment.Tasks[0].Action != "trim_old" {
		t.Errorf("replay %+v", again)
	}
	all, err := store.VisitsOfTank(t.Context(), w.db.Pool(), w.tank, time.Time{}, moment(t, "2027-01-01 00:00"), 10)
	if err != nil || len(all) != 1 {
		t.Errorf("%d visits, %v", len(all), err)
	}
	_, err = w.db.SubmitVisit(t.Context(), r, body("b"), wishing())
	if f := fault.Of(err); f == nil || f.Kind != fault.Conflict || f.Code != store.OtherContent {
		t.Errorf("other content under the same number: %v", err)
	}
}

func TestVisitComesBackAsItWent(t *testing.T) {
	w := newTankWorld(t)
	r := w.record(t, "2026-04-01 10:00", 10)
	r.Signs = []visit.Sign{{ID: "green_dust_on_glass", Place: "front"}}
	r.Since = []visit.Since{{What: "power_cut", Note: "two hours"}}
	r.EyeMark = visit.EyeLittle
	r.Buckets = []visit.BucketRun{{Phase: visit.Before, Litres: 10, Seconds: 40}, {Phase: visit.After, Litres: 10, Seconds: 30}}
	r.PPFD = []visit.PPFDPoint{{X: q.Some(q.Centimetre(10)), PPFD: 60}, {PPFD: 40}}
	r.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(60))}, {Kind: visit.FilterClean}, {Kind: visit.Dose, Solute: "no3", Grams: q.Some(q.Gram(1.4))}}
	r.Doses = visit.DosesBetween{How: "some_missed", Missed: q.Some(3)}
	r.Movements = []visit.Movement{{Living: "animal", Group: "tetras", N: -2, Reason: "died"}}
	r.Leave = []visit.Leave{{Item: "key", State: "checked"}}
	r.NoteInside = "valve weeps"
	w.submit(t, r, "a", wishing())
	got, err := w.db.VisitByID(t.Context(), r.Visit)
	if err != nil {
		t.Fatal(err)
	}
	if got.Day != q.NewDate(2026, 4, 1) || got.Minute != 23*60 { // 10:00 UTC in Auckland's daylight time
		t.Errorf("day %s minute %d", got.Day, got.Minute)
	}
	if len(got.Readings) != 1 || got.Readings[0] != r.Readings[0] {
		t.Errorf("readings %+v", got.Readings)
	}
	if !slices.Equal(got.Signs, r.Signs) || !slices.Equal(got.Since, r.Since) || got.EyeMark != r.EyeMark || got.Looks[visit.LookPlants] != visit.Fine || got.Looks[visit.LookAlgae] != visit.NotLooked {
		t.Errorf("seen %+v %+v %s %v", got.Signs, got.Since, got.EyeMark, got.Looks)
	}
	if !slices.Equal(got.Buckets, r.Buckets) || !slices.Equal(got.PPFD, r.PPFD) || !slices.Equal(got.Work, r.Work) || got.Doses != r.Doses {
		t.Errorf("did %+v %+v %+v %+v", got.Buckets, got.PPFD, got.Work, got.Doses)
	}
	if !slices.Equal(got.Movements, r.Movements) || !slices.Equal(got.Leave, r.Leave) || got.NoteInside != r.NoteInside {
		t.Errorf("moved %+v left %+v", got.Movements, got.Leave)
	}
	setup, _, _ := w.at(t, "2026-04-02 00:00")
	if !setup.Filter.Cleaned.OK || !setup.Filter.Cleaned.V.Equal(r.Performed) {
		t.Errorf("the cleaning is not in the gear's life: %+v", setup.Filter)
	}
}

// The list that a form showed is kept with its visit, as posted, and an older
// revision's is not taken for the newest's.
func TestListOfAFormIsKeptWithItsVisit(t *testing.T) {
	w := newTankWorld(t)
	r := w.record(t, "2026-04-01 10:00", 10)
	w.submit(t, r, "acted.by=tablet&acted.lines=list%0Anow%09air%3A%09Air+%26+light+%3Con%3E.&acted.record=2026-03-31T09%3A00%3A00Z", wishing())
	acted := func() visit.ActedOn {
		t.Helper()
		fields, err := w.db.VisitFields(t.Context(), r.Visit)
		if err != nil {
			t.Fatal(err)
		}
		return visit.ActedOnIn(fields)
	}
	want := []visit.ListLine{{Part: "now", ID: "air:", Text: "Air & light <on>."}}
	if got := acted(); !got.Given || !got.Here || !slices.Equal(got.Lines, want) || !got.Record.V.Equal(moment(t, "2026-03-31 09:00")) {
		t.Errorf("the list came back as %+v", got)
	}
	r.Base, r.Revision = r.Revision, store.NewID()
	w.submit(t, r, "note.inside=changed", wishing())
	if got := acted(); got.Given {
		t.Errorf("a change that told of no list has %+v", got)
	}
}

func TestRevisionStandsOnTheNewest(t *testing.T) {
	w := newTankWorld(t)
	first := w.record(t, "2026-04-01 10:00", 10)
	first.Movements = []visit.Movement{{Living: "animal", Group: "tetras", N: 8, Reason: "we_added"}}
	w.submit(t, first, "a", wishing("trim_old"))
	second := first
	second.Revision, second.Base, second.Reason = store.NewID(), first.Revision, "counted wrong"
	second.Movements = []visit.Movement{{Living: "animal", Group: "tetras", N: 6, Reason: "we_added"}}
	w.submit(t, second, "b", wishing("feed_less"))
	if open := w.open(t); len(open) != 1 || open["feed_less"].Action == "" {
		t.Errorf("open tasks %v: the amended visit calls for feed_less alone", open)
	}
	if s, _, _ := w.at(t, "2026-04-03 00:00"); len(s.Animals) != 1 || s.Animals[0].Count != 6 {
		t.Errorf("stock %+v, want six", s.Animals)
	}
	late := first
	late.Revision, late.Base = store.NewID(), first.Revision
	_, err := w.db.SubmitVisit(t.Context(), late, body("c"), wishing())
	if f := fault.Of(err); f == nil || f.Code != store.EditedMeanwhile {
		t.Errorf("a revision of an old revision: %v", err)
	}
	fresh := first
	fresh.Revision = store.NewID()
	_, err = w.db.SubmitVisit(t.Context(), fresh, body("d"), wishing())
	if f := fault.Of(err); f == nil || f.Code != store.EditedMeanwhile {
		t.Errorf("a second beginning of a visit: %v", err)
	}
}

// A visit that arrives late is judged with what was known before it, the later
// ones anew, and what is to be done follows the newest by performed time.
func TestLateVisitDoesNotOverwriteANewerOne(t *testing.T) {
	w := newTankWorld(t)
	seen := map[string][]int{} // visit -> number of earlier visits at each judgement
	assess := func(c care.Case) care.Assessment {
		seen[c.Now.Visit] = append(seen[c.Now.Visit], len(c.History))
		if c.Now.Readings[0].Value > 20 {
			return wishing("wc_30_50")(c)
		}
		return wishing("trim_old")(c)
	}
	newer, older := w.record(t, "2026-04-15 10:00", 10), w.record(t, "2026-04-01 10:00", 40)
	w.submit(t, newer, "new", assess)
	w.submit(t, older, "old", assess)
	if !slices.Equal(seen[newer.Visit], []int{0, 1}) || !slices.Equal(seen[older.Visit], []int{0}) {
		t.Errorf("judged with %v earlier visits", seen)
	}
	if open := w.open(t); len(open) != 1 || open["trim_old"].Action == "" {
		t.Errorf("open tasks %v, want those of the newer visit", open)
	}
	a, id, ok, err := w.db.NewestAssessment(t.Context(), w.tank)
	if err != nil || !ok || id != newer.Visit || a.Tasks[0].Action != "trim_old" {
		t.Errorf("newest is %s %v %v", id, ok, err)
	}
}

// What was learnt of a tank is carried from visit to visit; a late visit takes its
// place by the time at which it was performed.
func TestWhatWasLearntIsCarriedOn(t *testing.T) {
	w := newTankWorld(t)
	var seen []int
	assess := func(c care.Case) care.Assessment {
		seen = append(seen, c.Memory.Visits)
		return care.Assess(c)
	}
	w.submit(t, w.record(t, "2026-04-01 10:00", 10), "one", assess)
	last := w.record(t, "2026-04-29 10:00", 14)
	w.submit(t, last, "three", assess)
	w.submit(t, w.record(t, "2026-04-15 10:00", 12), "two, sent late", assess)
	if want := []int{0, 1, 1, 2}; !slices.Equal(seen, want) {
		t.Errorf("judged after %v visits, want %v", seen, want)
	}
	c, err := w.db.CaseFor(t.Context(), w.record(t, "2026-05-13 10:00", 11))
	if err != nil || c.Memory.Visits != 3 || c.Memory.Day != last.Day {
		t.Errorf("a visit being typed sees %d visits up to %s, %v", c.Memory.Visits, c.Memory.Day, err)
	}
}

func TestTaskIsRenewedTickedSkippedAndWithdrawn(t *testing.T) {
	w := newTankWorld(t)
	w.submit(t, w.record(t, "2026-04-01 10:00", 10), "1", wishing("trim_old", "improve_flow", "feed_less"))
	before := w.open(t)
	second := w.record(t, "2026-04-08 10:00", 10)
	second.Tasks = []visit.TaskAnswer{{Task: before["trim_old"].ID, State: "done"}, {Task: before["improve_flow"].ID, State: "skipped", Reason: "no_part"}}
	var open []string
	w.submit(t, second, "2", func(c care.Case) care.Assessment {
		for _, x := range c.Open {
			open = append(open, x.Action)
		}
		return wishing("improve_flow")(c)
	})
	after := w.open(t)
	if len(after) != 1 || after["improve_flow"].ID != before["improve_flow"].ID || after["improve_flow"].Skips != 1 {
		t.Errorf("after the second visit: %+v", after)
	}
	if slices.Sort(open); !slices.Equal(open, []string{"feed_less", "improve_flow", "trim_old"}) {
		t.Errorf("the judgement saw %v open before the visit", open)
	}
	// The second visit is amended: the tick was a slip.
	amended := second
	amended.Revision, amended.Base = store.NewID(), second.Revision
	amended.Tasks = nil
	w.submit(t, amended, "3", wishing("improve_flow", "trim_old"))
	if again := w.open(t); len(again) != 2 || again["trim_old"].ID != before["trim_old"].ID || again["improve_flow"].Skips != 0 {
		t.Errorf("after the amendment: %+v", again)
	}
	// A tablet that was away ticks what was withdrawn meanwhile.
	third := w.record(t, "2026-04-15 10:00", 10)
	third.Tasks = []visit.TaskAnswer{{Task: before["feed_less"].ID, State: "done"}}
	w.submit(t, third, "4", wishing())
	var state string
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		return tx.QueryRow(ctx, `SELECT state FROM task WHERE id = $1`, before["feed_less"].ID).Scan(&state)
	})
	if state != "done" {
		t.Errorf("a tick on a withdrawn task left it %s", state)
	}
}

func TestOneOfManyPostersWins(t *testing.T) {
	w := newTankWorld(t)
	r := w.record(t, "2026-04-01 10:00", 10)
	done := make(chan error, 6)
	for range cap(done) {
		go func() {
			_, err := w.db.SubmitVisit(context.Background(), r, body("a"), wishing("trim_old"))
			done <- err
		}()
	}
	for range cap(done) {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	if open := w.open(t); len(open) != 1 {
		t.Errorf("%d tasks, want one", len(open))
	}
}

// Of two visits that were written down for the same minute, the one that came
// later looks back on the other, whatever their numbers are.
func TestVisitsOfOneMinuteStandInOrderOfArrival(t *testing.T) {
	w := newTankWorld(t)
	seen := map[string][]string{}
	watch := func(c care.Case) care.Assessment {
		seen[c.Now.Visit] = nil
		for _, h := range c.History {
			seen[c.Now.Visit] = append(seen[c.Now.Visit], h.Visit)
		}
		return wishing()(c)
	}
	var want []string
	for i, text := range []string{"a", "b", "c", "d"} {
		r := w.record(t, "2026-04-01 10:00", float64(10+i))
		before, err := w.db.CaseFor(t.Context(), r)
		if err != nil || len(before.History) != i {
			t.Fatalf("while it is typed, visit %d looks back on %d, %v", i+1, len(before.History), err)
		}
		w.submit(t, r, text, watch)
		if !slices.Equal(seen[r.Visit], want) {
			t.Errorf("visit %d looked back on %v, want %v", i+1, seen[r.Visit], want)
		}
		want = append(want, r.Visit)
	}
}
