package web_test

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
	"scaperound/web"
	"scaperound/web/webtest"
)

// roundWeek is the week of the tests, whose day is Tuesday 24 November 2026.
const roundWeek = "/round-book/weeks/2026-11-23"

// newRound is the pond with two tanks that fall due, hours for the technician
// and for the owner, and a planner that looks for half a second.
func newRound(t *testing.T, more ...func(*web.Config)) pond {
	t.Helper()
	return newRoundAt(t, theNow, more...)
}

func newRoundAt(t *testing.T, now time.Time, more ...func(*web.Config)) pond {
	t.Helper()
	clock := func() time.Time { return now }
	db := storetest.New(t, store.WithClock(clock))
	people := webtest.Prepare(t, db)
	p := pond{Site: webtest.Serve(t, db, func(c *web.Config) {
		c.Now, c.LinkKey, c.PlanFor = clock, share.Key{7}, 300*time.Millisecond
		for _, set := range more {
			set(c)
		}
	})}
	p.Owner, p.Technician = people.Owner, people.Technician
	ctx := t.Context()
	for i, name := range []string{"By the weir", "The mill"} {
		who, err := db.AddCustomer(ctx, p.Owner.ID, customer.Customer{Name: "Nora Quill " + name, Kind: customer.Home, Language: "en", Phones: []string{"+353 1 555 0101"}})
		if err != nil {
			t.Fatal(err)
		}
		s := customer.Site{Customer: who, Name: name, Address: "1 Weir Lane", Position: q.Some(customer.Position{Lat: 53.41 + float64(i)/100, Lon: -6.33})}
		site, err := db.AddSite(ctx, p.Owner.ID, s, true)
		if err != nil {
			t.Fatal(err)
		}
		if err := db.EditAccessNote(ctx, p.Owner.ID, customer.AccessNote{Site: site, Note: "Key under the third stone", AlarmCode: "4471"}); err != nil {
			t.Fatal(err)
		}
		err = db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
			id, err := store.CreateTank(ctx, tx, p.Owner.ID, tank.New{Name: "Tank at " + name, Site: site, State: tank.Running}, theNow.AddDate(0, -1, 0))
			if err != nil {
				return err
			}
			if i == 0 {
				p.site, p.tank = site, id
			} else {
				p.other = id
			}
			return store.SetAgreement(ctx, tx, p.Owner.ID, id, theNow.AddDate(0, 0, -1), tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 4, Minutes: 40, Preferred: p.Technician.ID})
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, who := range []string{p.Owner.ID, p.Technician.ID} {
		w := due.Working{Person: who}
		for day := 1; day <= 5; day++ {
			w.Hours = append(w.Hours, customer.Window{Weekday: day, From: 480, To: 960})
		}
		if err := db.KeepWorking(ctx, p.Owner.ID, w); err != nil {
			t.Fatal(err)
		}
	}
	return p
}

// planned plans the week and waits until the planner is done.
func (p pond) planned(t *testing.T, v *webtest.Visitor) {
	t.Helper()
	v.Post(roundWeek + "/plan").Wants(http.StatusSeeOther)
	p.rests(t, v)
}

func (p pond) rests(t *testing.T, v *webtest.Visitor) {
	t.Helper()
	for range 300 {
		var now struct{ Running bool }
		v.Script("GET", "/round-book/run").Wants(http.StatusOK).JSON(&now)
		if !now.Running {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the planner does not rest: %.800s", p.Log)
}

// jobOf is the job of the first site.
func (p pond) jobOf() string { return p.site + ".1" }

func (p pond) draft(t *testing.T) due.Week {
	t.Helper()
	w, err := p.DB.RoundWeek(t.Context(), q.NewDate(2026, 11, 23))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func TestAWeekIsPlannedHandedOutAndReadByWhoeverGoes(t *testing.T) {
	p := newRound(t)
	owner, tech := p.SignIn(t, p.Owner), p.SignIn(t, p.Technician)
	if text := owner.Get(roundWeek).Wants(http.StatusOK).Text("main"); !strings.Contains(text, "Not planned yet. 2 stops fall due") {
		t.Errorf("before: %.400s", text)
	}
	p.planned(t, owner)
	week := owner.Get(roundWeek).Wants(http.StatusOK)
	if text := week.Text("main"); !strings.Contains(text, "The week was planned") || !strings.Contains(text, "Not handed out yet") {
		t.Fatalf("after: %.800s", text)
	}
	if text := tech.Get("/").Text("main"); strings.Contains(text, "Leave at") {
		t.Error("a technician is told a draft")
	}
	w := p.draft(t)
	route, at, ok := w.Draft.Find(p.jobOf())
	if !ok || route.Person != p.Technician.ID {
		t.Fatalf("not with the preferred person: %+v", w.Draft)
	}
	owner.Post(roundWeek+"/hand-out", "draft", w.Draft.ID).Wants(http.StatusSeeOther)

	day := "/?day=" + route.Day.String()
	if route.Day == q.NewDate(2026, 11, 24) {
		day = "/"
	}
	mine := tech.Get(day).Wants(http.StatusOK)
	if text := mine.Text("main"); !strings.Contains(text, "By the weir") || !strings.Contains(text, due.Clock(at.Begin)) || !strings.Contains(text, "Load list") {
		t.Errorf("my round: %.800s", text)
	}
	if maps := mine.Find(`a[href^="geo:53.4"]`); len(maps) == 0 {
		t.Error("no stop leads to a map")
	}
	if text := owner.Get(day).Text("main"); strings.Contains(text, "Leave at") {
		t.Error("the owner is told the technician's stops as her own")
	}
	sheets := owner.Get("/round-book/days/" + route.Day.String() + "/print").Wants(http.StatusOK).Text("main")
	if !strings.Contains(sheets, "Ilo Vance") || !strings.Contains(sheets, "Tank at By the weir") || strings.Contains(sheets, "third stone") || strings.Contains(sheets, "4471") {
		t.Errorf("day sheets: %.800s", sheets)
	}
}

func TestAMoveIsPricedDoneAndUndone(t *testing.T) {
	p := newRound(t)
	v := p.SignIn(t, p.Owner)
	p.planned(t, v)
	before := p.draft(t)
	route, _, _ := before.Draft.Find(p.jobOf())
	path := roundWeek + "/jobs/" + p.jobOf() + "/move"
	page := v.Get(path + "?day=2026-11-27").Wants(http.StatusOK)
	if text := page.Text("main"); !strings.Contains(text, "Maren Tolland") || !strings.Contains(text, "first of the day") {
		t.Fatalf("places: %.900s", text)
	}
	v.Post(path, "draft", before.Draft.ID, "day", "2026-11-27").Wants(http.StatusUnprocessableEntity)
	done := v.Post(path, "draft", before.Draft.ID, "day", "2026-11-27", "place", p.Owner.ID+"  ").Wants(http.StatusSeeOther)
	moved := p.draft(t)
	if r, x, ok := moved.Draft.Find(p.jobOf()); !ok || r.Person != p.Owner.ID || r.Day != q.NewDate(2026, 11, 27) || !x.Kept {
		t.Fatalf("moved to %+v", r)
	}
	day := v.Follow(done).Wants(http.StatusOK)
	if text := day.Text(".notice"); !strings.Contains(text, "is agreed with the customer") {
		t.Errorf("what it cost is not said: %q", text)
	}
	if text := day.Text(".line-stops"); !strings.Contains(text, "kept here") || !strings.Contains(text, "Let go") {
		t.Errorf("the day: %q", text)
	}
	// Another page still shows the old draft.
	v.Post(path, "draft", before.Draft.ID, "day", "2026-11-27", "place", p.Technician.ID+"  ").Wants(http.StatusConflict)
	// Planned again, it stays where it was put.
	p.planned(t, v)
	if r, _, _ := p.draft(t).Draft.Find(p.jobOf()); r.Person != p.Owner.ID || r.Day != q.NewDate(2026, 11, 27) {
		t.Errorf("planned around it, and it is on %s", r.Day)
	}
	for range 2 {
		v.Post(roundWeek+"/undo", "draft", p.draft(t).Draft.ID).Wants(http.StatusSeeOther)
	}
	if r, x, _ := p.draft(t).Draft.Find(p.jobOf()); r.Day != route.Day || r.Person != route.Person || x.Kept {
		t.Errorf("taken back, it is on %s with %s", r.Day, r.Person)
	}
	v.Post(roundWeek+"/redo", "draft", p.draft(t).Draft.ID).Wants(http.StatusSeeOther)
	if r, _, _ := p.draft(t).Draft.Find(p.jobOf()); r.Person != p.Owner.ID {
		t.Error("not done again")
	}
}

func TestWhatIsTakenOutWaitsInTheMargin(t *testing.T) {
	p := newRound(t)
	v := p.SignIn(t, p.Owner)
	p.planned(t, v)
	w := p.draft(t)
	route, _, _ := w.Draft.Find(p.jobOf())
	v.Post(roundWeek+"/jobs/"+p.jobOf()+"/take-out", "draft", w.Draft.ID, "day", route.Day.String()).Wants(http.StatusSeeOther)
	margin := v.Get("/round-book/days/" + route.Day.String()).Wants(http.StatusOK)
	if text := margin.Text(".day-margin"); !strings.Contains(text, "By the weir") || !strings.Contains(text, "Taken out by hand") || !strings.Contains(text, "Put it there") {
		t.Errorf("the margin: %q", text)
	}
	p.planned(t, v)
	if _, _, ok := p.draft(t).Draft.Find(p.jobOf()); ok {
		t.Error("the planner put it back")
	}
	page := v.Get("/round-book/days/" + route.Day.String())
	action := webtest.AttrOf(page.Find(".day-margin .price form")[0], "action")
	var pairs []string
	for _, in := range page.Find(".day-margin .price form input")[:4] {
		pairs = append(pairs, webtest.AttrOf(in, "name"), webtest.AttrOf(in, "value"))
	}
	v.Post(action, pairs...).Wants(http.StatusSeeOther)
	if _, _, ok := p.draft(t).Draft.Find(p.jobOf()); !ok {
		t.Error("placed from the margin, and not in the plan")
	}
}

func TestSomebodyIllIsPlannedWithoutAndCustomersArePhoned(t *testing.T) {
	p := newRound(t)
	v := p.SignIn(t, p.Owner)
	p.planned(t, v)
	w := p.draft(t)
	route, _, _ := w.Draft.Find(p.jobOf())
	v.Post(roundWeek+"/hand-out", "draft", w.Draft.ID).Wants(http.StatusSeeOther)
	v.Post("/round-book/days/"+route.Day.String()+"/ill", "person", p.Technician.ID).Wants(http.StatusSeeOther)
	p.rests(t, v)
	now := p.draft(t)
	if r, _, ok := now.Draft.Find(p.jobOf()); ok && r.Person == p.Technician.ID && r.Day == route.Day {
		t.Fatal("still with whoever is ill")
	}
	week := v.Get(roundWeek).Wants(http.StatusOK)
	if text := week.Text("main"); !strings.Contains(text, "To phone") || !strings.Contains(text, "By the weir") || !strings.Contains(text, "+353 1 555 0101") || !strings.Contains(text, "Ilo Vance is off") {
		t.Errorf("the week: %.1200s", text)
	}
	if w := p.draft(t); w.Handed.V.Route(p.Technician.ID, route.Day) == nil {
		t.Error("what is handed out changed before it was handed out anew")
	}
}

func TestACalendarHoldsTheRoundAndNoWayIn(t *testing.T) {
	p := newRound(t)
	owner, tech := p.SignIn(t, p.Owner), p.SignIn(t, p.Technician)
	p.planned(t, owner)
	owner.Post(roundWeek+"/hand-out", "draft", p.draft(t).Draft.ID).Wants(http.StatusSeeOther)
	tech.Post("/me/calendar").Wants(http.StatusSeeOther)
	address := tech.Get("/me").Text(".one-time")
	u, err := url.Parse(address)
	if err != nil || !strings.HasSuffix(u.Path, ".ics") {
		t.Fatalf("the address is %q", address)
	}
	program := p.Visitor(t)
	feed := program.Get(u.Path).Wants(http.StatusOK)
	if got := feed.Header.Get("Content-Type"); !strings.HasPrefix(got, "text/calendar") {
		t.Errorf("it is %q", got)
	}
	text := string(feed.Body)
	for _, want := range []string{"BEGIN:VCALENDAR", "SUMMARY:By the weir", "SUMMARY:The mill", "DTSTART:202611", "GEO:53.41", "Tank at By the weir"} {
		if !strings.Contains(text, want) {
			t.Errorf("the feed lacks %q:\n%s", want, text)
		}
	}
	for _, secret := range []string{"third stone", "4471", "555"} {
		if strings.Contains(text, secret) {
			t.Errorf("the feed tells %q", secret)
		}
	}
	if strings.Contains(p.Log.String(), strings.TrimSuffix(strings.TrimPrefix(u.Path, "/calendar/"), ".ics")) {
		t.Error("the token stands in the log")
	}
	tech.Post("/me/calendar/revoke").Wants(http.StatusSeeOther)
	program.Get(u.Path).Wants(http.StatusNotFound)
}

func TestRunningLateSaysWhatSlips(t *testing.T) {
	p := newRound(t)
	owner, tech := p.SignIn(t, p.Owner), p.SignIn(t, p.Technician)
	p.planned(t, owner)
	// Both stops onto today, the technician's.
	for _, site := range []string{p.site} {
		w := p.draft(t)
		owner.Post(roundWeek+"/jobs/"+site+".1/move", "draft", w.Draft.ID, "day", "2026-11-24", "place", p.Technician.ID+"  ").Wants(http.StatusSeeOther)
	}
	owner.Post(roundWeek+"/hand-out", "draft", p.draft(t).Draft.ID).Wants(http.StatusSeeOther)
	ask := tech.Get("/late").Wants(http.StatusOK)
	if text := ask.Text("#f-stop"); !strings.Contains(text, "By the weir") {
		t.Fatalf("stops to be late to: %q", text)
	}
	for query, field := range map[string]string{
		"stop=" + p.jobOf(): "minutes", "stop=" + p.jobOf() + "&minutes=": "minutes", "stop=" + p.jobOf() + "&minutes=a+while": "minutes",
		"minutes=45": "stop", "stop=&minutes=45": "stop", "stop=nowhere&minutes=45": "stop",
	} {
		asked := tech.Get("/late?" + query).Wants(http.StatusUnprocessableEntity)
		if text := asked.Text("#f-" + field + "-fault"); text == "" {
			t.Errorf("%s: nothing is said beside it", query)
		}
		if kept := len(asked.Find(`[name=minutes][value="45"][checked]`)) > 0; kept != strings.Contains(query, "minutes=45") {
			t.Errorf("%s: the minutes that were chosen: %v", query, kept)
		}
	}
	// Promised for half an hour from when it is to begin: 20 minutes late keeps
	// the promise, 45 do not.
	_, at, _ := p.draft(t).Draft.Find(p.jobOf())
	begin := q.MinuteOfDay(at.Begin / 60)
	if _, err := p.DB.AddPromise(t.Context(), p.Owner.ID, due.Promise{Site: p.site, Day: q.NewDate(2026, 11, 24), From: begin, To: begin + 30}); err != nil {
		t.Fatal(err)
	}
	for minutes, call := range map[string]bool{"20": false, "45": true} {
		said := tech.Get("/late?stop=" + p.jobOf() + "&minutes=" + minutes).Wants(http.StatusOK).Text("main")
		if !strings.Contains(said, "By the weir") || !strings.Contains(said, "instead of "+begin.String()) || !strings.Contains(said, "+353 1 555 0101") {
			t.Errorf("%s minutes late: %.600s", minutes, said)
		}
		if strings.Contains(said, "To phone") != call || strings.Contains(said, "it was promised by "+(begin+30).String()) != call || strings.Contains(said, "Nobody has to be phoned") == call {
			t.Errorf("%s minutes late, to phone is %v: %.600s", minutes, call, said)
		}
	}
}

func TestHoursVansRoadsAndPromisesAreTyped(t *testing.T) {
	p := newRound(t)
	v := p.SignIn(t, p.Owner)
	hours := "/people/" + p.Technician.ID + "/hours"
	version := v.Get(hours).Wants(http.StatusOK).Attr(`input[name=version]`, "value")
	wrong := v.Post(hours, "version", version, "hours.1", "whenever", "skills", "ladder").Wants(http.StatusUnprocessableEntity)
	if wrong.Attr(`#f-hours\.1`, "value") != "whenever" || wrong.Attr(`#f-skills`, "value") != "ladder" || wrong.Text(`#f-hours\.1-fault`) == "" {
		t.Error("what was typed is lost, or nothing stands beside it")
	}
	v.Post(hours, "version", version, "hours.1", "9-15", "skills", "ladder").Wants(http.StatusSeeOther)
	v.Post(hours, "version", version, "hours.1", "9-14").Wants(http.StatusConflict)
	v.Post("/people/"+p.Technician.ID+"/leave", "from", "2026-12-01").Wants(http.StatusSeeOther)
	if text := v.Get(hours).Text("main"); !strings.Contains(text, "Tue 1 Dec 2026") {
		t.Errorf("the leave is not listed: %.400s", text)
	}
	v.Post("/vans", "name", "the white one", "water", "300", "water.unit", "L").Wants(http.StatusSeeOther)
	if text := v.Get("/vans").Text("main"); !strings.Contains(text, "the white one") || !strings.Contains(text, "300 L of water") {
		t.Errorf("vans: %q", text)
	}
	v.Post("/round-book/roads", "version", "0", "shop", "53.41, -6.33", "factor", "1.4").Wants(http.StatusUnprocessableEntity)
	promise := "/sites/" + p.site + "/promises"
	v.Post(promise, "day", "2026-11-20", "time", "9-11").Wants(http.StatusUnprocessableEntity)
	tech := p.SignIn(t, p.Technician)
	tech.Post(promise, "day", "2026-11-26", "time", "9-11", "to_whom", "the cook").Wants(http.StatusSeeOther)
	if text := v.Get("/sites/" + p.site).Text("main"); !strings.Contains(text, "Thu 26 Nov 2026, 09:00 to 11:00") {
		t.Error("the site's page lacks the promise")
	}
	p.planned(t, v)
	if r, x, ok := p.draft(t).Draft.Find(p.jobOf()); !ok || r.Day != q.NewDate(2026, 11, 26) || x.Begin < 9*3600 || x.Begin > 11*3600 {
		t.Errorf("promised for Thursday from 9 to 11, planned on %s at %s", r.Day, due.Clock(x.Begin))
	}
}

// Two people cannot be out in one van: the places say so, and a post that asks
// for one all the same does nothing.
func TestAMoveCannotPutOneVanOnTwoRounds(t *testing.T) {
	p := newRound(t)
	ctx := t.Context()
	van, err := p.DB.AddVan(ctx, p.Owner.ID, due.Van{Name: "the white one"})
	if err != nil {
		t.Fatal(err)
	}
	for _, who := range []string{p.Owner.ID, p.Technician.ID} {
		w, err := p.DB.Working(ctx, who)
		if err != nil {
			t.Fatal(err)
		}
		w.Van = van
		if err := p.DB.KeepWorking(ctx, p.Owner.ID, w); err != nil {
			t.Fatal(err)
		}
	}
	v := p.SignIn(t, p.Owner)
	p.planned(t, v)
	// The first site with the technician on Friday; the other, with the owner, would begin before he is back.
	move := func(job, who string) *webtest.Answer {
		return v.Post(roundWeek+"/jobs/"+job+"/move", "draft", p.draft(t).Draft.ID, "day", "2026-11-27", "place", who+"  ")
	}
	move(p.jobOf(), p.Technician.ID).Wants(http.StatusSeeOther)
	before := p.draft(t).Draft
	var other string
	for _, r := range before.Routes {
		for _, s := range r.Stops {
			if s.Job != p.jobOf() {
				other = s.Job
			}
		}
	}
	const says = "are out in the same van (the white one)"
	if text := v.Get(roundWeek + "/jobs/" + other + "/move?day=2026-11-27").Wants(http.StatusOK).Text("main"); !strings.Contains(text, says) {
		t.Errorf("the places: %.900s", text)
	}
	if text := move(other, p.Owner.ID).Wants(http.StatusUnprocessableEntity).Text("main"); !strings.Contains(text, says) {
		t.Errorf("the answer: %.900s", text)
	}
	if p.draft(t).Draft.ID != before.ID {
		t.Error("it was done all the same")
	}
}

// Planned at nine in the morning, the stop at which the technician stands stays
// where it is, and nothing else of today lies before now.
func TestTheRestOfTodayIsPlannedAnew(t *testing.T) {
	p := newRoundAt(t, theNow.Add(-6*time.Hour))
	owner, tech := p.SignIn(t, p.Owner), p.SignIn(t, p.Technician)
	p.planned(t, owner)
	for _, site := range []string{p.otherSite(t), p.site} {
		owner.Post(roundWeek+"/jobs/"+site+".1/move", "draft", p.draft(t).Draft.ID, "day", "2026-11-24", "place", p.Technician.ID+"  ").Wants(http.StatusSeeOther)
	}
	owner.Post(roundWeek+"/hand-out", "draft", p.draft(t).Draft.ID).Wants(http.StatusSeeOther)
	was, at, _ := p.draft(t).Draft.Find(p.jobOf())
	tech.Post("/sites/" + p.site + "/stops").Wants(http.StatusSeeOther)
	day := "/round-book/days/2026-11-24"
	if text := owner.Get(day).Wants(http.StatusOK).Text(".line-stops"); !strings.Contains(text, "under way since 09:00") {
		t.Errorf("the day: %q", text)
	}
	p.planned(t, owner)
	w := p.draft(t)
	if r, x, ok := w.Draft.Find(p.jobOf()); !ok || r.Day != was.Day || r.Person != was.Person || x.Begin != at.Begin {
		t.Errorf("the stop under way is on %s at %s", r.Day, due.Clock(x.Begin))
	}
	if r, x, ok := w.Draft.Find(p.otherSite(t) + ".1"); !ok || r.Day == was.Day && x.Begin < 9*3600 {
		t.Errorf("the other is on %s at %s", r.Day, due.Clock(x.Begin))
	}
	if text := owner.Get(roundWeek).Wants(http.StatusOK).Text("main"); strings.Contains(text, "Came up since") {
		t.Errorf("a stop under way is asked for once more: %.900s", text)
	}
	// Ill at that moment: what is ahead of today goes to somebody else.
	owner.Post(day+"/ill", "person", p.Technician.ID).Wants(http.StatusSeeOther)
	p.rests(t, owner)
	w = p.draft(t)
	if r, _, ok := w.Draft.Find(p.jobOf()); !ok || r.Person != p.Technician.ID {
		t.Error("what the technician did today was given to somebody else")
	}
	if r, x, ok := w.Draft.Find(p.otherSite(t) + ".1"); !ok || r.Person == p.Technician.ID && r.Day == was.Day || r.Day == was.Day && x.Begin < 9*3600 {
		t.Errorf("the stop ahead is on %s at %s", r.Day, due.Clock(x.Begin))
	}
}

func (p pond) otherSite(t *testing.T) string {
	t.Helper()
	facts, err := p.DB.RoundFacts(t.Context(), q.NewDate(2026, 11, 23), 7, q.NewDate(2026, 11, 24))
	if err != nil {
		t.Fatal(err)
	}
	return facts.Tank(p.other).Site
}
