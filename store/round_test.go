package store_test

import (
	"context"
	"slices"
	"sync"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/store"
	"scaperound/store/storetest"
)

// rounders is a shop with a site, a tank that is due and somebody to go there.
type rounders struct {
	*store.DB
	t           *testing.T
	owner, tech string
	site, tank  string
	now         *time.Time
	monday      q.Date
}

func newRounders(t *testing.T) rounders {
	t.Helper()
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	r := rounders{t: t, now: &now, monday: q.NewDate(2026, 11, 23)}
	r.DB = storetest.New(t, store.WithClock(func() time.Time { return *r.now }))
	ctx := t.Context()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(r.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		return tx.MakeShop(ctx, shop.Settings{Name: "Fernweir Aquascapes", Zone: "Europe/Dublin", Locale: "en-IE", Units: say.Metric, Paper: shop.A4})
	}))
	for _, d := range []staff.Draft{{Name: "Maren Tolland", Email: "maren@fernweir.example", Role: staff.Owner}, {Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Technician}} {
		made, err := r.AddPerson(ctx, "", d, "-")
		must(err)
		if d.Role == staff.Owner {
			r.owner = made.ID
		} else {
			r.tech = made.ID
		}
	}
	who, err := r.AddCustomer(ctx, r.owner, customer.Customer{Name: "Nora Quill", Kind: customer.Home, Language: "en", Phones: []string{"+353 1 555 0101"}})
	must(err)
	r.site, err = r.AddSite(ctx, r.owner, customer.Site{Customer: who, Name: "The mill", Address: "1 Weir Lane", Position: q.Some(customer.Position{Lat: 53.41, Lon: -6.33}),
		Card: customer.Card{ParkingMinutes: q.Some(4)}, Windows: []customer.Window{{Weekday: 4, From: 540, To: 720}}}, true)
	must(err)
	must(r.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		var err error
		if r.tank, err = store.CreateTank(ctx, tx, r.owner, tank.New{Name: "Long one", Site: r.site, State: tank.Running}, tx.Now.AddDate(0, -1, 0)); err != nil {
			return err
		}
		return store.SetAgreement(ctx, tx, r.owner, r.tank, tx.Now.AddDate(0, 0, -1), tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 3, Minutes: 40, Skill: "Ladder", Weekdays: 0b0001000})
	}))
	w := due.Working{Person: r.tech, Skills: []string{"ladder"}, Break: due.Break{Minutes: 30, From: 700, To: 800}}
	for day := 1; day <= 5; day++ {
		w.Hours = append(w.Hours, customer.Window{Weekday: day, From: 480, To: 960})
	}
	must(r.KeepWorking(ctx, r.owner, w))
	return r
}

func TestHoursVansAndLeaveAreKept(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	w, err := r.Working(ctx, r.tech)
	if err != nil || len(w.Hours) != 5 || w.Hours[4].Weekday != 5 || w.Break.Minutes != 30 || w.Version != 1 || w.Start.OK {
		t.Fatalf("%+v, %v", w, err)
	}
	van, err := r.AddVan(ctx, r.owner, due.Van{Name: "the white one", Water: q.Some[q.Litre](300)})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.AddVan(ctx, r.owner, due.Van{Name: "the white one"}); !fault.Is(err, fault.Invalid) {
		t.Errorf("two vans of one name: %v", err)
	}
	w.Van, w.End = van, q.Some(customer.Position{Lat: 53.5, Lon: -6.2})
	if err := r.KeepWorking(ctx, r.owner, w); err != nil {
		t.Fatal(err)
	}
	if err := r.KeepWorking(ctx, r.owner, w); !fault.Is(err, fault.Conflict) {
		t.Errorf("kept over a newer version: %v", err)
	}
	again, _ := r.Working(ctx, r.tech)
	if again.Van != van || again.End != w.End || again.Version != 2 {
		t.Errorf("%+v", again)
	}
	if who, err := r.Working(ctx, r.owner); err != nil || who.Version != 0 || who.Person != r.owner {
		t.Errorf("somebody who does not go on rounds: %+v, %v", who, err)
	}
	id, err := r.AddLeave(ctx, r.owner, due.Leave{Person: r.tech, From: r.monday.Add(2), To: r.monday.Add(3), Why: "ill"})
	if err != nil {
		t.Fatal(err)
	}
	facts, err := r.RoundFacts(ctx, r.monday, 7, r.monday)
	if err != nil || len(facts.Person(r.tech).Leave) != 1 {
		t.Fatalf("leave in the facts: %v", err)
	}
	if _, err := r.WithdrawLeave(ctx, r.owner, id, true); err != nil {
		t.Fatal(err)
	}
	if off, _ := r.Leaves(ctx, r.tech, r.monday); len(off) != 0 {
		t.Errorf("called off and still there: %+v", off)
	}
}

func TestFactsHoldWhatAPlanNeeds(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	if _, err := r.AddPromise(ctx, r.owner, due.Promise{Site: r.site, Day: r.monday.Add(3), From: 570, To: 600}); err != nil {
		t.Fatal(err)
	}
	f, err := r.RoundFacts(ctx, r.monday, 7, q.NewDate(2026, 11, 24))
	if err != nil {
		t.Fatal(err)
	}
	one, s := f.Tank(r.tank), f.Site(r.site)
	if one == nil || one.Agreement.Weekdays != 0b0001000 || one.Began != q.NewDate(2026, 11, 23) || one.Last.OK || s == nil || s.Parking != 4 || len(s.Windows) != 1 || len(f.Promises) != 1 {
		t.Fatalf("tank %+v, site %+v, promises %+v", one, s, f.Promises)
	}
	now := f.Match(due.Book{})
	p, _ := f.Problem(now.Jobs, nil)
	p.Travel = f.Roads.Travel(p.Places)
	plan := round.Solve(p, round.Options{Seed: 1, Iterations: 30, Threads: 1})
	if len(plan.Unplaced) != 0 {
		t.Fatalf("no place: %+v", plan.Unplaced)
	}
	b := f.Keep(due.Book{}, now, plan, nil, nil, say.Units{})
	if route, x, ok := b.Find(due.JobID(r.site, 1)); !ok || route.Day != r.monday.Add(3) || x.Begin < 570*60 || x.Begin > 600*60 {
		t.Errorf("Thursday between half past nine and ten was promised; planned %s at %s", route.Day, due.Clock(x.Begin))
	}
}

func (r rounders) book(base string) due.Book {
	return due.Book{Monday: r.monday, Base: base, What: "The week was planned", GaveUp: []string{"Nothing."},
		Routes: []due.Route{{Day: r.monday.Add(3), Person: r.tech, Leave: 30000, Back: 40000, Home: 600, Break: q.Some[round.Seconds](43200),
			Stops: []due.Placed{{Job: due.JobID(r.site, 1), Site: r.site, Tanks: []string{r.tank}, Drive: 600, Arrive: 30600, Begin: 32400, End: 34800, Kept: true}}}},
		Left: []due.Left{{Job: due.JobID(r.site, 2), Site: r.site, Tanks: []string{r.tank}, Reason: "No day has room for it.", Aside: true}}}
}

func TestAWeekIsDraftedHandedOutAndTakenBack(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	first, err := r.KeepBook(ctx, r.owner, r.book(""))
	if err != nil {
		t.Fatal(err)
	}
	w, err := r.RoundWeek(ctx, r.monday)
	if err != nil || !w.Planned || w.Handed.OK || len(w.Draft.Left) != 1 {
		t.Fatalf("%+v, %v", w, err)
	}
	route, x, ok := w.Draft.Find(due.JobID(r.site, 1))
	if !ok || route.Break != q.Some[round.Seconds](43200) || x.Begin != 32400 || !x.Kept || len(x.Tanks) != 1 {
		t.Errorf("read back %+v %+v", route, x)
	}
	if b, _ := r.HandedWeek(ctx, r.monday); b.ID != "" {
		t.Error("a draft is told to technicians")
	}
	if err := r.HandOut(ctx, r.owner, r.monday, first); err != nil {
		t.Fatal(err)
	}
	*r.now = r.now.Add(time.Minute)
	changed := r.book(first)
	changed.Routes = nil
	second, err := r.KeepBook(ctx, r.owner, changed)
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := r.HandedWeek(ctx, r.monday); b.ID != first || len(b.Routes) != 1 {
		t.Error("a change after handing out is told before it is handed out")
	}
	// Somebody else's page still shows the first draft.
	if _, err := r.KeepBook(ctx, r.owner, r.book(first)); !fault.Is(err, fault.Conflict) {
		t.Errorf("a change of an old draft: %v", err)
	}
	if err := r.HandOut(ctx, r.owner, r.monday, first); !fault.Is(err, fault.Conflict) {
		t.Errorf("an old draft handed out: %v", err)
	}
	if err := r.UndoWeek(ctx, r.owner, r.monday, second); err != nil {
		t.Fatal(err)
	}
	if w, _ = r.RoundWeek(ctx, r.monday); w.Draft.ID != first || w.Newer != second || !w.Out() {
		t.Errorf("taken back: draft %s, newer %s", w.Draft.ID, w.Newer)
	}
	if err := r.UndoWeek(ctx, r.owner, r.monday, first); !fault.Is(err, fault.Conflict) {
		t.Errorf("nothing before the first: %v", err)
	}
	if err := r.RedoWeek(ctx, r.owner, r.monday, first); err != nil {
		t.Fatal(err)
	}
	if w, _ = r.RoundWeek(ctx, r.monday); w.Draft.ID != second {
		t.Error("not done again")
	}
}

func TestOnlyOneRunAtATimeWhateverServer(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	var mu sync.Mutex
	var won []string
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if id, err := r.BeginRun(ctx, r.owner, r.monday, "", 0); err == nil {
				mu.Lock()
				won = append(won, id)
				mu.Unlock()
			} else if !fault.Is(err, fault.Conflict) {
				t.Errorf("refused with %v", err)
			}
		})
	}
	all.Wait()
	if len(won) != 1 {
		t.Fatalf("%d runs at once", len(won))
	}
	if _, err := r.KeepBook(ctx, r.owner, r.book("")); !fault.Is(err, fault.Conflict) {
		t.Errorf("a change by hand while the planner is at work: %v", err)
	}
	if err := r.StopRun(ctx); err != nil {
		t.Fatal(err)
	}
	if stop, err := r.BeatRun(ctx, won[0], 100, 3, 4); err != nil || !stop {
		t.Errorf("asked to stop, and heard %v, %v", stop, err)
	}
	if run, _ := r.LastRun(ctx); !run.Running || run.Tries != 100 || run.Placed != 3 || run.Wanted != 4 || !run.Stopped {
		t.Errorf("%+v", run)
	}
	// Its server dies; after a while the place falls free, and the dead run's
	// plan comes too late.
	*r.now = r.now.Add(time.Minute)
	if run, _ := r.LastRun(ctx); run.Running || !run.Failed || run.Says == "" {
		t.Errorf("a dead run: %+v", run)
	}
	second, err := r.BeginRun(ctx, r.owner, r.monday, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.EndRun(ctx, r.owner, won[0], r.book("")); !fault.Is(err, fault.Conflict) {
		t.Errorf("the dead run kept its plan: %v", err)
	}
	if stop, _ := r.BeatRun(ctx, won[0], 1, 1, 1); !stop {
		t.Error("the dead run goes on")
	}
	if err := r.EndRun(ctx, r.owner, second, r.book("")); err != nil {
		t.Fatal(err)
	}
	if w, _ := r.RoundWeek(ctx, r.monday); !w.Planned {
		t.Error("the plan was not kept")
	}
	if _, err := r.BeginRun(ctx, r.owner, r.monday, "", 0); err != nil {
		t.Errorf("after a run the place is free: %v", err)
	}
}

func TestACalendarTellsWhatIsHandedOutAndEnds(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	if err := r.MakeCalendar(ctx, r.tech); err != nil {
		t.Fatal(err)
	}
	link, err := r.CalendarLink(ctx, r.tech)
	if err != nil || link.ID == "" {
		t.Fatal(link, err)
	}
	id, _ := r.KeepBook(ctx, r.owner, r.book(""))
	if stops, _ := r.HandedOf(ctx, r.tech, r.monday); len(stops) != 0 {
		t.Error("a draft stands in the calendar")
	}
	if err := r.HandOut(ctx, r.owner, r.monday, id); err != nil {
		t.Fatal(err)
	}
	stops, err := r.HandedOf(ctx, r.tech, r.monday)
	if err != nil || len(stops) != 1 || stops[0].Site != "The mill" || stops[0].Begin != 32400 || len(stops[0].Tanks) != 1 {
		t.Fatalf("%+v, %v", stops, err)
	}
	if stops, _ = r.HandedOf(ctx, r.owner, r.monday); len(stops) != 0 {
		t.Error("somebody else's stop")
	}
	if err := r.MakeCalendar(ctx, r.tech); err != nil {
		t.Fatal(err)
	}
	if _, err := r.CalendarByID(ctx, link.ID); !fault.Is(err, fault.NotFound) {
		t.Errorf("the old address: %v", err)
	}
	newer, _ := r.CalendarLink(ctx, r.tech)
	if err := r.RevokeCalendar(ctx, r.tech); err != nil {
		t.Fatal(err)
	}
	if _, err := r.CalendarByID(ctx, newer.ID); !fault.Is(err, fault.NotFound) {
		t.Errorf("an ended address: %v", err)
	}
}

func TestTheCounterAsksForTheWeek(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	weeks := func(day q.Date) int {
		c, err := r.Counter(ctx, day)
		if err != nil {
			t.Fatal(err)
		}
		return len(c.Weeks)
	}
	if weeks(r.monday) != 1 || weeks(r.monday.Add(4)) != 2 {
		t.Errorf("on Monday %d weeks, on Friday %d", weeks(r.monday), weeks(r.monday.Add(4)))
	}
	id, _ := r.KeepBook(ctx, r.owner, r.book(""))
	if err := r.HandOut(ctx, r.owner, r.monday, id); err != nil {
		t.Fatal(err)
	}
	if weeks(r.monday) != 0 {
		t.Error("handed out, and still asked for")
	}
	// Thursday's stop, seen from Friday: nobody was there.
	c, err := r.Counter(ctx, r.monday.Add(4))
	if err != nil || len(c.Skipped) != 1 || c.Skipped[0].Person != "Ilo Vance" || c.Skipped[0].Day != r.monday.Add(3) {
		t.Errorf("%+v, %v", c.Skipped, err)
	}
	if c, _ = r.Counter(ctx, r.monday.Add(3)); len(c.Skipped) != 0 {
		t.Error("a day that is not over is reproached")
	}
}

func TestFactsKnowTheTimeAndWhoHasReachedWhat(t *testing.T) {
	r := newRounders(t)
	ctx := t.Context()
	today := q.NewDate(2026, 11, 24)
	b := r.book("")
	b.Routes[0].Day = today
	id, err := r.KeepBook(ctx, r.owner, b)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.HandOut(ctx, r.owner, r.monday, id); err != nil {
		t.Fatal(err)
	}
	stop, err := r.Arrive(ctx, r.tech, r.site)
	if err != nil {
		t.Fatal(err)
	}
	*r.now = r.now.Add(50 * time.Minute)
	f, err := r.RoundFacts(ctx, r.monday, 7, today)
	if err != nil || f.Now != q.Some[q.MinuteOfDay](9*60+50) || len(f.Reached) != 1 {
		t.Fatalf("%v: it is %+v, reached %+v", err, f.Now, f.Reached)
	}
	if x := f.Reached[0]; x.Site != r.site || x.Arrived != 540 || x.Left.OK || x.Outcome != visit.UnderWay || !slices.Equal(x.People, []string{r.tech}) || !slices.Equal(x.Tanks, []string{r.tank}) {
		t.Errorf("reached %+v", x)
	}
	if f.Tank(r.tank).Planned != q.Some(today) {
		t.Error("a tank at which somebody stands still wants a visit")
	}
	if err := r.LeaveStop(ctx, r.tech, stop, visit.StopPartly, "no time"); err != nil {
		t.Fatal(err)
	}
	if f, err = r.RoundFacts(ctx, r.monday, 7, today); err != nil || f.Reached[0].Left != q.Some[q.MinuteOfDay](9*60+50) || f.Tank(r.tank).Planned.OK {
		t.Errorf("left: %v, %+v", err, f.Reached)
	}
	// Told of another day than the clock's, nothing is said of the time.
	if f, err = r.RoundFacts(ctx, r.monday, 7, today.Add(1)); err != nil || f.Now.OK || len(f.Reached) != 0 {
		t.Errorf("of tomorrow: %v, %+v", err, f.Now)
	}
}
