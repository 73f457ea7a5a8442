package store_test

import (
	"context"
	"testing"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/store"
)

func TestTheSecondOfTwoEditorsIsToldSo(t *testing.T) {
	w := newTankWorld(t)
	ctx, since := t.Context(), moment(t, "2026-04-01 00:00")
	v, err := w.db.TankVersions(ctx, w.tank)
	if err != nil || v != (tank.Versions{}) {
		t.Fatalf("a new tank has no dated rows yet: %+v, %v", v, err)
	}
	keep := func(version int, level q.Centimetre) error {
		return w.db.KeepSetup(ctx, w.owner, w.tank, since, tank.Setup{Shape: tank.Shape{Level: q.Some(level)}}, version)
	}
	if err := keep(0, 40); err != nil {
		t.Fatal(err)
	}
	if err := keep(0, 36); !fault.Is(err, fault.Conflict) {
		t.Errorf("the second editor: %v, want a conflict", err)
	}
	if s, _, _ := w.at(t, "2026-04-02 00:00"); s.Level.V != 40 {
		t.Errorf("the first editor's level is %v", s.Level.V)
	}
	if err := keep(1, 36); err != nil {
		t.Error("with the new version it is kept:", err)
	}
	if err := w.db.KeepDosing(ctx, w.owner, w.tank, since, []tank.DosingLine{{Solute: q.Nitrate, PerDose: 10}}, 0); err != nil {
		t.Fatal(err)
	}
	if err := w.db.KeepDosing(ctx, w.owner, w.tank, since, nil, 0); !fault.Is(err, fault.Conflict) {
		t.Errorf("the second editor of the plan: %v", err)
	}
	card, err := w.db.TankCard(ctx, w.tank)
	if err != nil || card.SiteName != "By the weir" || card.CustomerName != "Millrace Coffee" || len(card.Pinned) != 2 {
		t.Fatalf("card %+v, %v", card, err)
	}
	card.Name = "Corner tank"
	if err := w.db.ChangeCard(ctx, w.owner, card, since); err != nil {
		t.Fatal(err)
	}
	if err := w.db.ChangeCard(ctx, w.owner, card, since); !fault.Is(err, fault.Conflict) {
		t.Errorf("the second editor of the card: %v", err)
	}
}

func TestATankEndsAndMovesSinceADay(t *testing.T) {
	w := newTankWorld(t)
	ctx := t.Context()
	there := store.NewID()
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		_, err := tx.Exec(ctx, `INSERT INTO site (id, customer, name, room_m3, search, sort_key, created_at, updated_at) SELECT $1, customer, 'Saltgate', 30, 'saltgate', 'b', created_at, updated_at FROM site WHERE id = $2`, there, w.site)
		return err
	})
	change := func(since string, alter func(*tank.Card)) error {
		c, err := w.db.TankCard(ctx, w.tank)
		if err != nil {
			t.Fatal(err)
		}
		alter(&c)
		return w.db.ChangeCard(ctx, w.owner, c, moment(t, since))
	}
	if err := change("2026-05-01 00:00", func(c *tank.Card) { c.Site = there }); err != nil {
		t.Fatal(err)
	}
	if s, _, _ := w.at(t, "2026-04-30 00:00"); s.Room.Volume.V != 80 {
		t.Errorf("in April it stood in the room of %v m³", s.Room.Volume)
	}
	if s, _, _ := w.at(t, "2026-05-02 00:00"); s.Room.Volume.V != 30 {
		t.Errorf("in May it stands in the room of %v m³", s.Room.Volume)
	}
	if err := change("2026-04-01 00:00", func(c *tank.Card) { c.Site = w.site }); !fault.Is(err, fault.Invalid) {
		t.Errorf("a move before the last one would change nothing that is shown: %v", err)
	}
	// 13:00 UTC on 30 June is the shop's first of July, 01:00 in Auckland.
	if err := change("2026-06-30 13:00", func(c *tank.Card) { c.State = tank.Ended }); err != nil {
		t.Fatal(err)
	}
	c, err := w.db.TankCard(ctx, w.tank)
	if err != nil || c.State != tank.Ended || c.EndedOn != q.Some(q.NewDate(2026, 7, 1)) {
		t.Errorf("ended on %v (%v), want the shop's 1 July", c.EndedOn, err)
	}
	if err := change("2026-06-01 00:00", func(c *tank.Card) { c.State = tank.Running }); !fault.Is(err, fault.Invalid) {
		t.Errorf("a state before the newest: %v", err)
	}
	if err := change("2026-08-01 00:00", func(c *tank.Card) { c.State = tank.Running }); err != nil {
		t.Fatal(err)
	}
	if c, _ := w.db.TankCard(ctx, w.tank); c.EndedOn.OK {
		t.Error("a tank that runs again has not ended")
	}
}

func TestTanksListSearchesSortsAndPages(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		for i, name := range []string{"Tank 10", "Tank 2", "Äquator"} {
			id, err := store.CreateTank(ctx, tx, w.owner, tank.New{Name: name, Site: w.site}, tx.Now)
			if err != nil {
				return err
			}
			if i == 0 {
				if err := store.SetState(ctx, tx, w.owner, id, tx.Now, tank.Ended); err != nil {
					return err
				}
			}
		}
		return nil
	})
	names := func(f tank.ListFilter) (out string, total int) {
		l, err := w.db.Tanks(t.Context(), f)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range l.Tanks {
			out += s.Name + ";"
		}
		return out, l.Total
	}
	for _, c := range []struct {
		f     tank.ListFilter
		want  string
		total int
	}{
		{tank.ListFilter{}, "Äquator;Tank 2;Window tank;", 3},
		{tank.ListFilter{State: tank.AllStates}, "Äquator;Tank 2;Tank 10;Window tank;", 4},
		{tank.ListFilter{State: tank.Ended}, "Tank 10;", 1},
		{tank.ListFilter{Search: "aqu"}, "Äquator;", 1},
		{tank.ListFilter{Search: "MILLRACE"}, "Äquator;Tank 2;Window tank;", 3},
		{tank.ListFilter{Limit: 1, Offset: 1}, "Tank 2;", 3},
		{tank.ListFilter{Limit: 1, Offset: 9}, "", 3},
		{tank.ListFilter{Site: store.NewID()}, "", 0},
	} {
		if got, total := names(c.f); got != c.want || total != c.total {
			t.Errorf("%+v: %s of %d, want %s of %d", c.f, got, total, c.want, c.total)
		}
	}
}

func TestAMoveIsWrittenDownAtBothTanks(t *testing.T) {
	w := newTankWorld(t)
	var other string
	w.tx(t, func(ctx context.Context, tx store.Tx) (err error) {
		other, err = store.CreateTank(ctx, tx, w.owner, tank.New{Name: "Back room", Site: w.site}, tx.Now)
		return err
	})
	m := tank.Movement{Day: q.NewDate(2026, 4, 1), Living: tank.Animal, Group: "snails", N: -3, Reason: tank.MovedTo, OtherTank: other}
	if err := w.db.RecordMovement(t.Context(), w.owner, w.tank, m); err != nil {
		t.Fatal(err)
	}
	there, err := w.db.Movements(t.Context(), other, 10)
	if err != nil || len(there) != 1 || there[0].N != 3 || there[0].Reason != tank.MovedFrom || there[0].OtherName != "Window tank" || there[0].Author != "Maren Tolland" {
		t.Errorf("at the other tank: %+v, %v", there, err)
	}
}

func TestHistoryNamesEachChangeAndItsAuthor(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		if err := store.SetAgreement(ctx, tx, w.owner, w.tank, moment(t, "2026-04-01 00:00"), tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 3, Minutes: 45}); err != nil {
			return err
		}
		if err := store.AddSetup(ctx, tx, w.owner, w.tank, moment(t, "2026-04-01 00:00"), tank.Setup{Note: "first"}); err != nil {
			return err
		}
		return store.SetDosing(ctx, tx, w.owner, w.tank, moment(t, "2026-05-01 00:00"), []tank.DosingLine{{Solute: q.Nitrate, PerDose: 12.5}})
	})
	h, err := w.db.TankHistory(t.Context(), w.tank)
	if err != nil {
		t.Fatal(err)
	}
	var got string
	for _, c := range h {
		got += c.What + "=" + c.Now + ";"
	}
	if want := "dosing=No3 12.5 mg;agreement=every 14 d (± 3), 45 min;state=starting;site=By the weir;"; got != want {
		t.Errorf("history %s, want %s", got, want)
	}
	if h[1].Author != "Maren Tolland" || h[1].Recorded.IsZero() {
		t.Errorf("by whom: %+v", h[1])
	}
	v, err := w.db.SetupVersions(t.Context(), w.tank)
	if err != nil || len(v) != 1 || v[0].Author != "Maren Tolland" || v[0].Note != "first" || !v[0].Dated.Since.Equal(moment(t, "2026-04-01 00:00")) {
		t.Errorf("set-ups %+v, %v", v, err)
	}
}

func TestProfilesSourcesAndKitsAreReadWhole(t *testing.T) {
	w := newTankWorld(t)
	ctx, since := t.Context(), moment(t, "2026-03-01 00:00")
	id, err := w.db.MakeProfile(ctx, w.owner, tank.NewProfile{Name: "Own", About: "ours", Profile: tank.Profile{Bands: []tank.Band{{Kind: q.GH, Lo: q.Some(4.0)}, {Kind: q.KH, Hi: q.Some(3.0)}}}}, since)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.db.MakeProfile(ctx, w.owner, tank.NewProfile{Name: "Own"}, since); !fault.Is(err, fault.Invalid) || fault.Of(err).Fields[0].Name != "name" {
		t.Errorf("a second profile of the name: %v", err)
	}
	if err := w.db.KeepProfile(ctx, w.owner, tank.Profile{ID: id, Bands: []tank.Band{{Kind: q.KH, Hi: q.Some(4.0)}}}, since, 0); !fault.Is(err, fault.Conflict) {
		t.Errorf("from an older version: %v", err)
	}
	if err := w.db.KeepProfile(ctx, w.owner, tank.Profile{ID: id, Bands: []tank.Band{{Kind: q.KH, Hi: q.Some(4.0)}}}, since, 1); err != nil {
		t.Fatal(err)
	}
	if err := w.db.KeepTankProfile(ctx, w.owner, w.tank, since, id, 0); err != nil {
		t.Fatal(err)
	}
	p, err := w.db.ProfileRecord(ctx, id)
	if err != nil || len(p.Versions) != 2 || len(p.Versions[1].Bands) != 2 || p.Versions[1].Bands[0].Kind != q.KH || p.Versions[0].Bands[0].Hi.V != 4 || len(p.Tanks) != 1 {
		t.Errorf("profile %+v, %v", p, err)
	}
	list, err := w.db.Profiles(ctx)
	if err != nil || len(list) != 1 || list[0].Tanks != 1 || list[0].Author != "Maren Tolland" {
		t.Errorf("profiles %+v, %v", list, err)
	}

	source, err := w.db.MakeSource(ctx, w.owner, tank.NewSource{Name: "Tap", Kind: tank.Tap, Site: w.site}, tank.Source{Values: []tank.Known{{Kind: q.KH, Value: 8}}}, since)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.db.KeepSource(ctx, w.owner, w.tank, since, tank.SourceUse{Source: source, ROShare: 0.4}, 0); err != nil {
		t.Fatal(err)
	}
	s, err := w.db.SourceRecord(ctx, source)
	if err != nil || s.SiteName != "By the weir" || len(s.Versions) != 1 || s.Versions[0].Get(q.KH).V != 8 || s.Versions[0].Author != "Maren Tolland" || len(s.Tanks) != 1 {
		t.Errorf("source %+v, %v", s, err)
	}

	kit, err := w.db.MakeKit(ctx, w.owner, tank.Kit{Name: "pH pen", Measures: q.Acidity, Type: tank.Meter, Unit: q.PHUnit})
	if err != nil {
		t.Fatal(err)
	}
	if err := w.db.KeepLot(ctx, w.owner, tank.Lot{Kit: kit, Lot: "77", Keeper: w.owner}); err != nil {
		t.Fatal(err)
	}
	k, err := w.db.Kit(ctx, kit)
	if err != nil || len(k.Lots) != 1 || k.Lots[0].KeeperName != "Maren Tolland" {
		t.Fatalf("kit %+v, %v", k, err)
	}
	if err := w.db.RecordMeterCheck(ctx, w.owner, tank.MeterCheck{Lot: k.Lots[0].ID, At: since, Against: 7, Read: 7.2, Calibrated: true}); err != nil {
		t.Fatal(err)
	}
	if err := w.db.RetireLot(ctx, w.owner, k.Lots[0].ID, true); err != nil {
		t.Fatal(err)
	}
	k, err = w.db.Kit(ctx, kit)
	if err != nil || !k.Lots[0].Retired.OK || len(k.Lots[0].Checks) != 1 || k.Lots[0].Checks[0].Author != "Maren Tolland" {
		t.Errorf("kit with its checks %+v, %v", k, err)
	}
	all, err := w.db.Kits(ctx)
	if err != nil || len(all) != 1 || len(all[0].Lots) != 0 {
		t.Errorf("the list shows lots in use alone: %+v, %v", all, err)
	}
}
