package store_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
)

func fullSite(customerID string) customer.Site {
	return customer.Site{
		Customer: customerID, Name: "The café with the big wood", Address: "4 Weir Lane", Town: "Alderbrook",
		Position: q.Some(customer.Position{Lat: 53.35, Lon: -6.26}), Altitude: q.Some(q.Metre(30)),
		Card: customer.Card{ParkingMinutes: q.Some(5), Stairs: "one flight", Stopcock: "under the sink", Breaker: "hall", RCDTested: q.Some(q.NewDate(2026, time.March, 1)),
			Hose: q.Some(q.Metre(12.5)), Drain: "yard gully", Room: q.Some(q.CubicMetre(40)), CO2Alarm: q.Some(false), SpendingLimit: q.Some(60.5)},
		Windows: []customer.Window{{Weekday: 1, From: 540, To: 720}, {Weekday: 1, From: 840, To: 1050}, {Weekday: 7, From: 0, To: 1440}},
	}
}

func TestSiteIsKeptAsGiven(t *testing.T) {
	p := newPlaces(t)
	want := fullSite(p.customer("Nora Quill"))
	id, err := p.AddSite(t.Context(), p.owner, want, true)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Site(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	if got.Card != want.Card || got.Position != want.Position || got.Altitude != want.Altitude || !slices.Equal(got.Windows, want.Windows) ||
		got.Name != want.Name || got.Address != want.Address || got.Town != want.Town || got.Customer != want.Customer || got.Version != 1 {
		t.Errorf("got %+v, want %+v", got, want)
	}
	bare := p.site(want.Customer, "Bare", "", "")
	got, err = p.Site(t.Context(), bare)
	if err != nil || got.Card != (customer.Card{}) || got.Position.OK || len(got.Windows) != 0 {
		t.Errorf("what is not known became known: %+v, %v", got, err)
	}
	_, err = p.AddSite(t.Context(), p.owner, customer.Site{Customer: store.NewID(), Name: "x"}, true)
	p.want(err, fault.NotFound)
}

func TestEditSite(t *testing.T) {
	p := newPlaces(t)
	id, err := p.AddSite(t.Context(), p.owner, fullSite(p.customer("Nora Quill")), true)
	if err != nil {
		t.Fatal(err)
	}
	first, _ := p.Site(t.Context(), id)
	second := first
	first.Card.Hose, first.Windows, first.Card.CO2Alarm = q.Opt[q.Metre]{}, first.Windows[:1], q.Opt[bool]{}
	if err := p.EditSite(t.Context(), p.tech, first, false); err != nil {
		t.Fatal(err)
	}
	got, _ := p.Site(t.Context(), id)
	if got.Card.Hose.OK || got.Card.CO2Alarm.OK || len(got.Windows) != 1 || got.Version != 2 {
		t.Errorf("got %+v", got)
	}
	p.want(p.EditSite(t.Context(), p.owner, second, true), fault.Conflict)
	if n, text := p.audits("site"); n != 2 || !strings.Contains(text, `"hose_m": 12.5`) || !strings.Contains(text, "Sunday 00:00-24:00") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
}

func TestOnlyTheOwnerPrices(t *testing.T) {
	p := newPlaces(t)
	c := p.customer("Nora Quill")
	_, err := p.AddSite(t.Context(), p.tech, fullSite(c), false)
	p.want(err, fault.Forbidden)
	id, err := p.AddSite(t.Context(), p.owner, fullSite(c), true)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := p.Site(t.Context(), id)
	s.Card.SpendingLimit = q.Opt[float64]{}
	p.want(p.EditSite(t.Context(), p.tech, s, false), fault.Forbidden)
	if now, _ := p.Site(t.Context(), id); now.Card.SpendingLimit != q.Some(60.5) || now.Version != 1 {
		t.Errorf("changed all the same: %+v", now)
	}
}

func TestAwayIsEditedAndCalledOff(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	id, err := p.AddAway(t.Context(), p.tech, customer.Away{Site: s, From: weirDay, To: weirDay.Add(7), Why: "skiing"})
	if err != nil {
		t.Fatal(err)
	}
	a, err := p.Away(t.Context(), id)
	if err != nil || a.From != weirDay || a.To != weirDay.Add(7) || a.Version != 1 {
		t.Fatalf("%+v, %v", a, err)
	}
	stale := a
	a.To = weirDay.Add(9)
	if err := p.EditAway(t.Context(), p.tech, a); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditAway(t.Context(), p.tech, stale), fault.Conflict)
	if err := p.WithdrawAway(t.Context(), p.tech, id, true); err != nil {
		t.Fatal(err)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay); len(list) != 0 {
		t.Errorf("called off and still listed: %+v", list)
	}
	if err := p.WithdrawAway(t.Context(), p.tech, id, false); err != nil {
		t.Fatal(err)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay.Add(9)); len(list) != 1 || list[0].To != weirDay.Add(9) {
		t.Errorf("undone it is %+v", list)
	}
	if list, _ := p.SiteAways(t.Context(), s, weirDay.Add(10)); len(list) != 0 {
		t.Error("an absence that is over is listed")
	}
	if lines, _, _ := p.Sites(t.Context(), customer.List{}, weirDay.Add(3)); len(lines) != 1 || !lines[0].AwayNow {
		t.Errorf("the list of sites does not say so: %+v", lines)
	}
}

func TestAccessNoteIsKeptApart(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	n, err := p.AccessNote(t.Context(), s)
	if err != nil || n.Version != 0 || n.Note != "" {
		t.Fatalf("before anything is written: %v, %v", n, err)
	}
	n.Note, n.AlarmCode = "through the yard", "4711"
	if err := p.EditAccessNote(t.Context(), p.tech, n); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditAccessNote(t.Context(), p.owner, n), fault.Conflict)
	got, err := p.AccessNote(t.Context(), s)
	if err != nil || got.Note != "through the yard" || got.AlarmCode != "4711" || got.Version != 1 || got.UpdatedBy != "Ilo Vance" {
		t.Errorf("got %q %q, %v", got.Note, got.AlarmCode, err)
	}
	got.AlarmCode = "0815"
	if err := p.EditAccessNote(t.Context(), p.owner, got); err != nil {
		t.Fatal(err)
	}
	lines, text := p.audits("access note")
	if lines != 2 || strings.Contains(text, "yard") || strings.Contains(text, "4711") || strings.Contains(text, "0815") || !strings.Contains(text, "alarm code") {
		t.Errorf("the audit says:\n%s", text)
	}
	_, err = p.AccessNote(t.Context(), store.NewID())
	p.want(err, fault.NotFound)
}

func TestKeyGoesOutAndIn(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	id, err := p.AddKey(t.Context(), p.tech, s, "K-17")
	if err != nil {
		t.Fatal(err)
	}
	_, err = p.AddKey(t.Context(), p.tech, s, "K-17")
	if f := fault.Of(err); f == nil || f.Kind != fault.Invalid || len(f.Fields) != 1 || f.Fields[0].Name != "number" || f.Fields[0].Kind != fault.Taken {
		t.Errorf("a second key of one number: %v", err)
	}
	second, err := p.AddKey(t.Context(), p.tech, s, "A-1")
	if err != nil {
		t.Fatal(err)
	}
	if err := p.TakeKey(t.Context(), p.tech, id, p.tech); err != nil {
		t.Fatal(err)
	}
	k, _ := p.Key(t.Context(), id)
	if !k.Out() || k.HolderName != "Ilo Vance" || k.OutAt != q.Some(p.Now()) || k.Customer != "Nora Quill" {
		t.Errorf("taken: %+v", k)
	}
	if all, err := p.Keys(t.Context()); err != nil || len(all) != 2 || all[0].ID != id || all[1].ID != second {
		t.Errorf("those that are out come first: %+v, %v", all, err)
	}
	if lines, _, _ := p.Sites(t.Context(), customer.List{}, weirDay); lines[0].KeysOut != 1 {
		t.Errorf("the list of sites says %d", lines[0].KeysOut)
	}
	for _, nobody := range []string{"", "x", store.NewID()} {
		p.want(p.TakeKey(t.Context(), p.tech, id, nobody), fault.Invalid)
	}
	for range 2 {
		if err := p.ReturnKey(t.Context(), p.owner, id); err != nil {
			t.Fatal(err)
		}
	}
	if k, _ = p.Key(t.Context(), id); k.Out() || k.InAt != q.Some(p.Now()) {
		t.Errorf("returned: %+v", k)
	}
	if err := p.RetireKey(t.Context(), p.owner, id, true); err != nil {
		t.Fatal(err)
	}
	p.want(p.TakeKey(t.Context(), p.tech, id, p.tech), fault.Conflict)
	if list, _ := p.SiteKeys(t.Context(), s); len(list) != 1 || list[0].ID != second {
		t.Errorf("given up and still listed: %+v", list)
	}
	if err := p.RetireKey(t.Context(), p.owner, id, false); err != nil {
		t.Fatal(err)
	}
	if err := p.TakeKey(t.Context(), p.tech, id, p.owner); err != nil {
		t.Errorf("undone and still given up: %v", err)
	}
	if n, text := p.audits("key"); n != 7 || !strings.Contains(text, "handed out") || !strings.Contains(text, "Ilo Vance") {
		t.Errorf("%d lines in the audit:\n%s", n, text)
	}
}

func TestListsAreSortedAndPaged(t *testing.T) {
	p := newPlaces(t)
	towns := map[string]string{"Éilis": "Saltgate", "adam": "Órla Bridge", "Zoë": ""}
	for name, town := range towns {
		p.tank(p.site(p.customer(name), name+"'s", "", town), "Tank of "+name)
	}
	for sort, want := range map[string][]string{
		"name": {"adam", "Éilis", "Zoë"}, "town": {"adam", "Éilis", "Zoë"}, "nonsense; DROP TABLE site": {"adam", "Éilis", "Zoë"},
	} {
		lines, total, err := p.Customers(t.Context(), customer.List{Sort: sort})
		if err != nil || total != 3 {
			t.Fatalf("%d in all, %v", total, err)
		}
		var got []string
		for _, l := range lines {
			got = append(got, l.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("by %s: %q, want %q", sort, got, want)
		}
	}
	lines, _, _ := p.Customers(t.Context(), customer.List{})
	if l := lines[0]; l.Sites != 1 || l.Tanks != 1 || !slices.Equal(l.Towns, []string{"Órla Bridge"}) || l.LastVisit.OK {
		t.Errorf("line %+v", l)
	}
	for _, sort := range customer.SiteSorts() {
		if lines, total, err := p.Sites(t.Context(), customer.List{Sort: sort}, weirDay); err != nil || total != 3 || lines[0].Name != "adam's" || lines[0].Tanks != 1 {
			t.Errorf("by %s: %+v of %d, %v", sort, lines, total, err)
		}
	}
	for i := range customer.PerPage {
		p.customer(fmt.Sprintf("Mill %d", i+1))
	}
	lines, total, err := p.Customers(t.Context(), customer.List{Page: 2})
	if err != nil || total != 53 || len(lines) != 3 || lines[0].Name != "Mill 49" {
		t.Errorf("second page: %d lines of %d from %q, %v", len(lines), total, lines[0].Name, err)
	}
}

func TestSearch(t *testing.T) {
	p := newPlaces(t)
	nora := p.customer("Nóra Quill", "+353 1 555 0142")
	cafe := p.site(nora, "The café with the big wood", "4 Weir Lane", "Alderbrook")
	river := p.tank(cafe, "River bend")
	pim := p.customer("Pim Sallow", "01 555 0777")
	mill := p.site(pim, "Copper Hill house", "12 Mill Street", "Copper Hill")
	p.tank(mill, "Nano cube")
	norman := p.customer("Norman Reed")

	for typed, want := range map[string][]string{
		"nor":                        {norman, nora}, // three letters, by the order of names
		"NÓRA":                       {nora},
		"quill":                      {nora},
		"the cafe with the big wood": {nora},
		"café, big wood!":            {nora},
		"wood big":                   {nora},
		"weir lane":                  {nora},
		"nora weir":                  {nora},
		"12 mill":                    {pim},
		"01 555 0142":                {nora},
		"00353 1 5550142":            {nora},
		"5550777":                    {pim},
		"555":                        {nora, pim},
		"alderbrook pim":             nil,
		"100%":                       nil,
		"_":                          nil,
		"'; DROP TABLE customer; --": nil,
		"":                           nil,
		"   ":                        nil,
	} {
		found, err := p.Search(t.Context(), typed)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, c := range found.Customers {
			got = append(got, c.ID)
		}
		if typed == "nor" {
			slices.Sort(got)
			slices.Sort(want)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q finds %+v, want %d", typed, found.Customers, len(want))
		}
	}
	found, _ := p.Search(t.Context(), "riv")
	if len(found.Tanks) != 1 || found.Tanks[0].ID != river || found.Tanks[0].SiteName != "The café with the big wood" || found.Tanks[0].Customer != "Nóra Quill" {
		t.Errorf("tanks by three letters: %+v", found.Tanks)
	}
	if found, _ = p.Search(t.Context(), "nano pim"); len(found.Tanks) != 1 {
		t.Errorf("a tank and whose it is: %+v", found.Tanks)
	}
	for _, whose := range []string{"quill", "weir lane", "5550142"} {
		if found, _ = p.Search(t.Context(), whose); len(found.Tanks) != 1 || found.Tanks[0].ID != river {
			t.Errorf("the tank of %s: %+v", whose, found.Tanks)
		}
	}
	if err := p.ArchiveCustomer(t.Context(), p.owner, norman, true); err != nil {
		t.Fatal(err)
	}
	if found, _ = p.Search(t.Context(), "nor"); len(found.Customers) != 2 || found.Customers[1].ID != norman || !found.Customers[1].Archived {
		t.Errorf("what is archived comes last and says so: %+v", found.Customers)
	}
}

func TestProblemIsOneStory(t *testing.T) {
	p := newPlaces(t)
	tk := p.tank(p.site(p.customer("Nora Quill"), "The mill", "", ""), "River")
	id, err := p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: tk, Title: "Black tufts", Belief: "flow"})
	if err != nil {
		t.Fatal(err)
	}
	if err := p.TryProblem(t.Context(), p.owner, id, tank.Try{Tried: "turned the outlet", Result: "no change"}); err != nil {
		t.Fatal(err)
	}
	list, err := p.TankProblems(t.Context(), tk)
	if err != nil || len(list) != 1 || len(list[0].Tries) != 1 || list[0].Tries[0].Staff != "Maren Tolland" || list[0].OpenedBy != "Ilo Vance" {
		t.Fatalf("%+v, %v", list, err)
	}
	edit := list[0]
	edit.Belief = "CO2 swings"
	if err := p.EditProblem(t.Context(), p.owner, edit); err != nil {
		t.Fatal(err)
	}
	p.want(p.EditProblem(t.Context(), p.tech, list[0]), fault.Conflict)
	if err := p.CloseProblem(t.Context(), p.owner, id, true); err != nil {
		t.Fatal(err)
	}
	p.want(p.TryProblem(t.Context(), p.owner, id, tank.Try{Tried: "x"}), fault.Conflict)
	if err := p.CloseProblem(t.Context(), p.owner, id, false); err != nil {
		t.Fatal(err)
	}
	if list, _ = p.TankProblems(t.Context(), tk); list[0].ClosedAt.OK || list[0].Belief != "CO2 swings" {
		t.Errorf("opened again it is %+v", list[0])
	}
	_, err = p.OpenProblem(t.Context(), p.tech, tank.Problem{Tank: store.NewID(), Title: "x"})
	p.want(err, fault.NotFound)
	_, err = p.TankProblems(t.Context(), store.NewID())
	p.want(err, fault.NotFound)
	if one, err := p.Problem(t.Context(), id); err != nil || one.TankName != "River" || len(one.Tries) != 1 {
		t.Errorf("by itself: %+v, %v", one, err)
	}
	if n, _ := p.audits("problem"); n != 5 {
		t.Errorf("%d lines in the audit, want 5", n)
	}
}

func TestIncidentStaysAtTheSite(t *testing.T) {
	p := newPlaces(t)
	s := p.site(p.customer("Nora Quill"), "The mill", "", "")
	if _, err := p.RecordIncident(t.Context(), p.tech, customer.Incident{Site: s, NoticedAt: p.Now(), What: "a bowed seam", Told: "nobody yet"}); err != nil {
		t.Fatal(err)
	}
	list, err := p.SiteIncidents(t.Context(), s)
	if err != nil || len(list) != 1 || list[0].What != "a bowed seam" || list[0].Staff != "Ilo Vance" || list[0].Tank != "" {
		t.Errorf("%+v, %v", list, err)
	}
}

// BenchmarkSearch looks for three letters among two thousand customers.
func BenchmarkSearch(b *testing.B) {
	p := benchPlaces(b)
	for b.Loop() {
		if _, err := p.Search(b.Context(), "mil"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCustomers lists the first page of two thousand customers.
func BenchmarkCustomers(b *testing.B) {
	p := benchPlaces(b)
	for b.Loop() {
		if _, _, err := p.Customers(b.Context(), customer.List{Sort: "visit"}); err != nil {
			b.Fatal(err)
		}
	}
}

func benchPlaces(b *testing.B) *store.DB {
	db := storetest.New(b)
	const sql = `WITH c AS (INSERT INTO customer (id, name, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), 'Customer ' || n, 'customer ' || n || ' 3531555' || n, lpad(n::text, 6, '0'), now(), now() FROM generate_series(1, 2000) n RETURNING id, search),
		s AS (INSERT INTO site (id, customer, name, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), id, 'Mill', 'mill ' || search, search, now(), now() FROM c RETURNING id, search),
		t AS (INSERT INTO tank (id, name, state, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), 'Tank', 'running', 'mill tank ' || n, lpad(n::text, 6, '0'), now(), now() FROM generate_series(1, 4000) n RETURNING id)
		INSERT INTO tank_site (tank, site, since)
			SELECT t.id, s.id, now() - interval '1 day' FROM (SELECT id, row_number() OVER () AS n FROM t) t JOIN (SELECT id, row_number() OVER () AS n FROM s) s ON s.n = t.n / 2 + 1`
	for _, sql := range []string{sql, `ANALYZE`} {
		if _, err := db.Pool().Exec(b.Context(), sql); err != nil {
			b.Fatal(err)
		}
	}
	return db
}
