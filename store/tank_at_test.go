package store_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
)

// tankWorld is a shop in Alderbrook with one site and one tank.
type tankWorld struct {
	db                *store.DB
	owner, site, tank string
}

func moment(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse("2006-01-02 15:04", text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func newTankWorld(t *testing.T) tankWorld {
	t.Helper()
	return newTankWorldWith(t)
}

func newTankWorldWith(t *testing.T, opts ...store.Option) tankWorld {
	t.Helper()
	w := tankWorld{db: storetest.New(t, opts...), owner: store.NewID(), site: store.NewID()}
	customer := store.NewID()
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		for _, s := range []struct {
			sql  string
			args []any
		}{
			{`INSERT INTO shop (name, zone, locale, decimal_mark, units, updated_at) VALUES ('Fernweir Aquascapes', 'Pacific/Auckland', 'en-NZ', '.', 'metric', $1)`, []any{tx.Now}},
			{`INSERT INTO staff (id, name, email, email_folded, role, password_hash, created_at, updated_at) VALUES ($1, 'Maren Tolland', 'maren@fernweir.example', 'maren@fernweir.example', 'owner', '-', $2, $2)`, []any{w.owner, tx.Now}},
			{`INSERT INTO customer (id, name, search, sort_key, created_at, updated_at) VALUES ($1, 'Millrace Coffee', 'millrace coffee', 'a', $2, $2)`, []any{customer, tx.Now}},
			{`INSERT INTO site (id, customer, name, altitude_m, room_m3, co2_alarm, search, sort_key, created_at, updated_at) VALUES ($1, $2, 'By the weir', 120, 80, false, 'by the weir', 'a', $3, $3)`, []any{w.site, customer, tx.Now}},
		} {
			if _, err := tx.Exec(ctx, s.sql, s.args...); err != nil {
				return err
			}
		}
		var err error
		w.tank, err = store.CreateTank(ctx, tx, w.owner, tank.New{Name: "Window tank", Site: w.site, State: tank.Starting,
			SetUpOn: q.Some(q.NewDate(2026, 3, 1)), Pinned: []string{"the valve weeps", "never touch the left outlet"}}, moment(t, "2026-03-01 00:00"))
		return err
	})
	return w
}

func (w tankWorld) tx(t *testing.T, fn func(context.Context, store.Tx) error) {
	t.Helper()
	if err := w.db.Tx(t.Context(), fn); err != nil {
		t.Fatal(err)
	}
}

func (w tankWorld) at(t *testing.T, text string) (tank.Setup, tank.Profile, tank.Plan) {
	t.Helper()
	s, p, plan, err := store.TankAt(t.Context(), w.db.Pool(), w.tank, moment(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return s, p, plan
}

func TestTankAtTakesTheNewestNotLater(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		first := tank.Setup{Shape: tank.Shape{Length: q.Some(q.Centimetre(90)), Width: q.Some(q.Centimetre(45)), Level: q.Some(q.Centimetre(42)),
			Substrate: tank.RichSoil, Stone: q.Some(q.Kilogram(0))}, Light: tank.Light{Name: "bar", On: q.Some(q.MinuteOfDay(600)), Hours: q.Some(q.Hours(6))},
			CO2: tank.CO2{Injected: true}, Planting: tank.PlantingNew, Note: "first fill"}
		second := first
		second.Light.Hours, second.Planting, second.Note = q.Some(q.Hours(8)), tank.PlantingDense, ""
		source, err := store.CreateSource(ctx, tx, w.owner, "", w.site, "Kitchen tap", tank.Tap)
		if err != nil {
			return err
		}
		profile, err := store.CreateProfile(ctx, tx, w.owner, "", tank.Profile{Name: "Bright", LightNeed: q.Some(q.Micromol(80)), Bands: []tank.Band{
			{Kind: q.Nitrate, Lo: q.Some(6.0), Hi: q.Some(12.0)}, {Kind: q.KH, Hi: q.Some(6.0)}}}, moment(t, "2026-01-01 00:00"))
		if err != nil {
			return err
		}
		day := func(text string) time.Time { return moment(t, text+" 00:00") }
		for _, step := range []func() error{
			// Written in the wrong order on purpose: only since counts.
			func() error { return store.AddSetup(ctx, tx, w.owner, w.tank, day("2026-05-01"), second) },
			func() error { return store.AddSetup(ctx, tx, w.owner, w.tank, day("2026-03-01"), first) },
			func() error { return store.SetState(ctx, tx, w.owner, w.tank, day("2026-05-10"), tank.Running) },
			func() error {
				return store.SetAgreement(ctx, tx, w.owner, w.tank, day("2026-03-01"), tank.Agreement{EveryDays: q.Some(7), ToleranceDays: 2, Minutes: 60, Preferred: w.owner})
			},
			func() error {
				return store.SetAgreement(ctx, tx, w.owner, w.tank, day("2026-06-01"), tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 3, Minutes: 45})
			},
			func() error {
				return store.SetCareShare(ctx, tx, w.owner, w.tank, day("2026-04-01"), tank.CareShare{Feeds: true, Pinch: q.Some(q.Gram(0.12))})
			},
			func() error { return store.SetSource(ctx, tx, w.owner, w.tank, day("2026-03-01"), source, 0.25) },
			func() error {
				return store.AddSourceVersion(ctx, tx, w.owner, source, day("2026-02-01"), tank.Source{Values: []tank.Known{{Kind: q.KH, Value: 8}, {Kind: q.Nitrate, Value: 0}}, Disinfectant: tank.Chlorine})
			},
			func() error {
				return store.AddSourceVersion(ctx, tx, w.owner, source, day("2026-04-15"), tank.Source{Values: []tank.Known{{Kind: q.KH, Value: 10}}, WinterMin: q.Some(q.Celsius(6))})
			},
			func() error { return store.SetProfile(ctx, tx, w.owner, w.tank, day("2026-03-01"), profile) },
			func() error {
				_, err := store.AddProfileVersion(ctx, tx, w.owner, tank.Profile{ID: profile, Bands: []tank.Band{{Kind: q.Nitrate, Lo: q.Some(10.0), HardHi: q.Some(50.0)}}}, day("2026-07-01"))
				return err
			},
			func() error {
				_, err := store.GearEvent(ctx, tx, w.owner, w.tank, tank.GearEvent{At: day("2026-04-20"), Gear: "filter", What: "cleaned"})
				return err
			},
			func() error {
				_, err := store.GearEvent(ctx, tx, w.owner, w.tank, tank.GearEvent{At: day("2026-04-21"), Gear: "cylinder", What: "swapped", Gross: q.Some(q.Kilogram(9.42))})
				return err
			},
		} {
			if err := step(); err != nil {
				return err
			}
		}
		return nil
	})

	s, p, _ := w.at(t, "2026-04-30 23:59")
	if s.State != tank.Starting || s.Light.Hours.V != 6 || s.Planting != tank.PlantingNew || s.Note != "first fill" || s.Substrate != tank.RichSoil {
		t.Errorf("before the second set-up the first must hold; got %+v", s)
	}
	if !s.Stone.OK || s.Stone.V != 0 || s.Wood.OK {
		t.Errorf("no stone is 0 kg and unknown wood is not: %+v, %+v", s.Stone, s.Wood)
	}
	if s.Agreement.EveryDays != q.Some(7) || s.Agreement.Preferred != w.owner || !s.Share.Feeds || s.Share.Pinch.V != 0.12 {
		t.Errorf("agreement and care share: %+v, %+v", s.Agreement, s.Share)
	}
	if s.Source.V.Get(q.KH).V != 10 || s.Source.V.Get(q.Nitrate).OK || s.ROShare != 0.25 || s.Source.V.WinterMin.V != 6 || s.Source.V.Name != "Kitchen tap" {
		t.Errorf("the source's newer version is whole: %+v", s.Source)
	}
	if !s.Filter.Cleaned.OK || s.CO2.SwapMass.V != 9.42 || s.Room.Altitude.V != 120 || s.Room.CO2Alarm != q.Some(false) {
		t.Errorf("gear and room: %+v, %+v, %+v", s.Filter, s.CO2, s.Room)
	}
	if b, ok := p.Band(q.Nitrate); !ok || b.Lo.V != 6 || p.LightNeed.V != 80 || len(p.Bands) != 2 || p.Bands[0].Kind != q.KH {
		t.Errorf("the profile's first version: %+v", p)
	}

	s, p, _ = w.at(t, "2026-08-01 10:00")
	if s.State != tank.Running || s.Light.Hours.V != 8 || s.Agreement.EveryDays != q.Some(14) || s.Agreement.Preferred != "" {
		t.Errorf("in August the newer rows hold; got %v, %v h, %+v", s.State, s.Light.Hours, s.Agreement)
	}
	if b, _ := p.Band(q.Nitrate); b.Lo.V != 10 || b.HardHi.V != 50 || b.Hi.OK || p.LightNeed.OK {
		t.Errorf("the profile's second version: %+v", p)
	}

	s, p, _ = w.at(t, "2026-02-01 10:00")
	if s.Length.OK || s.Source.OK || p.ID != "" || s.Room.Altitude.OK {
		t.Errorf("what nobody had recorded by then is unknown; got %+v and %+v", s, p)
	}
}

func TestACorrectionForTheSameMomentWins(t *testing.T) {
	w := newTankWorld(t)
	since := moment(t, "2026-03-02 00:00")
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		for _, l := range []q.Centimetre{90, 120, 60} {
			if err := store.AddSetup(ctx, tx, w.owner, w.tank, since, tank.Setup{Shape: tank.Shape{Length: q.Some(l)}}); err != nil {
				return err
			}
		}
		return nil
	})
	if s, _, _ := w.at(t, "2026-03-03 00:00"); s.Length.V != 60 {
		t.Errorf("the last correction holds; got %v cm", s.Length.V)
	}
}

func TestStockIsTheSumUpToTheShopsDay(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		for _, m := range []tank.Movement{
			{Day: q.NewDate(2026, 4, 1), Living: tank.Animal, Group: "tetras", Species: "ember", N: 10, Reason: tank.WeAdded},
			{Day: q.NewDate(2026, 4, 10), Living: tank.Animal, Group: "tetras", Species: "ember", N: -10, Reason: tank.Died},
			{Day: q.NewDate(2026, 5, 1), Living: tank.Animal, Group: "tetras", Species: "ember", N: 8, Reason: tank.CustomerAdded},
			{Day: q.NewDate(2026, 5, 1), Living: tank.Animal, Group: "snails", N: 3, Reason: tank.Counted},
			{Day: q.NewDate(2026, 4, 1), Living: tank.Plant, Group: "moss", N: 2, Reason: tank.WeAdded},
		} {
			if _, err := store.AddMovement(ctx, tx, w.owner, w.tank, m); err != nil {
				return err
			}
		}
		return nil
	})
	if s, _, _ := w.at(t, "2026-04-20 12:00"); s.HasAnimals() || len(s.Plants) != 1 {
		t.Errorf("all had died: %+v, %+v", s.Animals, s.Plants)
	}
	// Noon UTC on 30 April is past midnight on 1 May in Auckland (UTC+12).
	s, _, _ := w.at(t, "2026-04-30 12:30")
	if len(s.Animals) != 2 || s.Animals[1].Count != 8 || s.Animals[1].Since != q.Some(q.NewDate(2026, 5, 1)) {
		t.Errorf("on the shop's first of May both groups are there, the tetras since then: %+v", s.Animals)
	}
	if s, _, _ := w.at(t, "2026-04-30 11:30"); s.HasAnimals() {
		t.Errorf("an hour earlier it is still April: %+v", s.Animals)
	}
}

func TestDosingLinesHoldFromSinceUntilReplaced(t *testing.T) {
	w := newTankWorld(t)
	no3 := tank.DosingLine{Solute: q.Nitrate, PerDose: 120, Weekdays: 0b0010101, How: tank.ByPump, ByWhom: "customer", MlPerStroke: q.Some(q.Millilitre(1.2))}
	fe := tank.DosingLine{Solute: q.Iron, PerDose: 4, Weekdays: 127, How: tank.ByDoser, ByWhom: "device", Minute: q.Some(q.MinuteOfDay(540))}
	set := func(since string, plan ...tank.DosingLine) {
		w.tx(t, func(ctx context.Context, tx store.Tx) error {
			return store.SetDosing(ctx, tx, w.owner, w.tank, moment(t, since+" 00:00"), plan)
		})
	}
	set("2026-04-01", no3, fe)
	set("2026-06-01", fe)
	more := no3
	more.PerDose = 200
	set("2026-05-01", more, fe) // written down after the fact
	want := []struct {
		at    string
		no3   q.Milligram
		lines int
	}{{"2026-03-31 23:00", 0, 0}, {"2026-04-15 00:00", 360, 2}, {"2026-05-15 00:00", 600, 2}, {"2026-06-15 00:00", 0, 1}}
	for _, x := range want {
		_, _, plan := w.at(t, x.at)
		if len(plan.Lines) != x.lines || plan.WeeklyMg(q.Nitrate) != x.no3 {
			t.Errorf("%s: %d lines, %v mg NO3 a week; want %d and %v", x.at, len(plan.Lines), plan.WeeklyMg(q.Nitrate), x.lines, x.no3)
		}
	}
}

func TestInstrumentsAreTheLotsInUse(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		kit, err := store.CreateKit(ctx, tx, w.owner, tank.Kit{Name: "NO3 card", Measures: q.Nitrate, Type: tank.Classes, Unit: q.MgL,
			Classes: []tank.Class{{Label: 0, Lo: 0, Hi: q.Some(2.5)}, {Label: 100, Lo: 75}}})
		if err != nil {
			return err
		}
		lot, err := store.AddLot(ctx, tx, w.owner, tank.Lot{Kit: kit, Lot: "K-17", Opened: q.Some(q.NewDate(2026, 1, 5)), Expires: q.Some(q.NewDate(2026, 12, 31)), Keeper: w.owner})
		if err != nil {
			return err
		}
		if _, err := store.AddMeterCheck(ctx, tx, w.owner, tank.MeterCheck{Lot: lot, At: moment(t, "2026-04-02 08:00"), Against: 20, Read: 22, Calibrated: true}); err != nil {
			return err
		}
		return store.SetUsualKit(ctx, tx, w.owner, w.tank, moment(t, "2026-03-01 00:00"), tank.UsualKit{Kind: q.Nitrate, Kit: kit})
	})
	s, _, _ := w.at(t, "2026-05-01 00:00")
	if len(s.Kits) != 1 || len(s.Usual) != 1 {
		t.Fatalf("one lot and one usual kit: %+v", s)
	}
	k := s.Kits[0]
	if k.Name != "NO3 card" || k.Type != tank.Classes || len(k.Classes) != 2 || k.Classes[1].Hi.OK || k.Checked != q.Some(q.NewDate(2026, 4, 2)) || k.Keeper != w.owner || s.Usual[0].Kit != k.Kit {
		t.Errorf("the lot as read: %+v", k)
	}
	if s, _, _ := w.at(t, "2026-04-01 00:00"); s.Kits[0].Checked.OK {
		t.Error("a calibration that came later must not be seen")
	}
}

func TestTankAtOfNobodysTankIsNotFound(t *testing.T) {
	w := newTankWorld(t)
	for _, id := range []string{store.NewID(), "not-a-key", ""} {
		if _, _, _, err := store.TankAt(t.Context(), w.db.Pool(), id, moment(t, "2026-05-01 00:00")); !fault.Is(err, fault.NotFound) {
			t.Errorf("TankAt(%q) = %v, want not found", id, err)
		}
	}
	err := w.db.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		_, err := store.CreateTank(ctx, tx, w.owner, tank.New{Name: "Nowhere", Site: store.NewID()}, tx.Now)
		return err
	})
	if !fault.Is(err, fault.NotFound) {
		t.Errorf("a tank at no site: %v, want not found", err)
	}
}

func TestEachWriteIsInTheAudit(t *testing.T) {
	w := newTankWorld(t)
	w.tx(t, func(ctx context.Context, tx store.Tx) error {
		if err := store.AddSetup(ctx, tx, w.owner, w.tank, moment(t, "2026-03-01 00:00"), tank.Setup{Shape: tank.Shape{Level: q.Some(q.Centimetre(40))}}); err != nil {
			return err
		}
		return store.AddSetup(ctx, tx, "", w.tank, moment(t, "2026-04-01 00:00"), tank.Setup{Shape: tank.Shape{Level: q.Some(q.Centimetre(36))}})
	})
	var before, after string
	err := w.db.Pool().QueryRow(t.Context(), `SELECT before->>'Level', after->>'Level' FROM audit WHERE noun = 'tank' AND noun_id = $1 AND staff IS NULL`, w.tank).Scan(&before, &after)
	if err != nil || before != "40" || after != "36" {
		t.Errorf("the audit says %q became %q (%v), want 40 and 36", before, after, err)
	}
	if err := w.db.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		_, err := tx.Exec(ctx, `DELETE FROM audit`)
		return err
	}); err == nil || !strings.Contains(errors.Unwrap(fault.Of(err)).Error(), "append-only") {
		t.Errorf("the audit can be erased: %v", err)
	}
}

func BenchmarkTankAt(b *testing.B) {
	db := storetest.New(b)
	id, customer, site := "", store.NewID(), store.NewID()
	err := db.Tx(b.Context(), func(ctx context.Context, tx store.Tx) error {
		if _, err := tx.Exec(ctx, `INSERT INTO customer (id, name, search, sort_key, created_at, updated_at) VALUES ($1, 'x', 'x', 'x', $2, $2)`, customer, tx.Now); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `INSERT INTO site (id, customer, name, search, sort_key, created_at, updated_at) VALUES ($1, $2, 'x', 'x', 'x', $3, $3)`, site, customer, tx.Now); err != nil {
			return err
		}
		var err error
		id, err = store.CreateTank(ctx, tx, "", tank.New{Name: "x", Site: site}, tx.Now)
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	at := time.Now()
	for b.Loop() {
		if _, _, _, err := store.TankAt(b.Context(), db.Pool(), id, at); err != nil {
			b.Fatal(err)
		}
	}
}
