package store

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/wire"
)

// RoundFacts reads all that a plan of the days is made from, as of the shop's
// day today.
func (db *DB) RoundFacts(ctx context.Context, from q.Date, days int, today q.Date) (f due.Facts, err error) {
	f = due.Facts{From: from, Days: days, Today: today}
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		for _, read := range []func(context.Context, Tx, *due.Facts) error{readDueTanks, readAsks, readDueSites, readPast, readDuePeople, readPlanned, readReached} {
			if err := read(ctx, tx, &f); err != nil {
				return err
			}
		}
		var err error
		if f.Roads, err = roads(ctx, tx); err != nil {
			return err
		}
		rows, err := tx.Query(ctx, `SELECT `+vanColumns+` FROM van WHERE archived_at IS NULL ORDER BY lower(name), id`)
		if f.Vans, err = collect(rows, err, scanVan); err != nil {
			return err
		}
		f.Promises, err = promises(ctx, tx, from, from.Add(days-1))
		return err
	})
	return f, err
}

// readDueTanks reads the tanks that can fall due: starting or running, at a site
// that is not archived.
func readDueTanks(ctx context.Context, tx Tx, f *due.Facts) error {
	const sql = `
		SELECT tank.id, tank.name, here.site, a.every_days, a.tolerance_days, a.minutes, a.skill, a.two_people, a.preferred, a.weekdays, a.since_day,
			last.day, last.performer, CASE WHEN tank.keep_apart_since <= $2 THEN coalesce(tank.keep_apart_until, 'infinity'::date) END AS apart
		FROM tank
		CROSS JOIN shop
		JOIN LATERAL (SELECT every_days, tolerance_days, minutes, skill, two_people, preferred, weekdays, (since AT TIME ZONE shop.zone)::date AS since_day
			FROM agreement WHERE agreement.tank = tank.id AND (since AT TIME ZONE shop.zone)::date <= $1 ORDER BY since DESC LIMIT 1) a ON true
		JOIN LATERAL (SELECT site FROM tank_site WHERE tank_site.tank = tank.id AND (since AT TIME ZONE shop.zone)::date <= $1 ORDER BY since DESC LIMIT 1) here ON true
		JOIN site ON site.id = here.site AND site.archived_at IS NULL
		LEFT JOIN LATERAL (SELECT (performed_at AT TIME ZONE shop.zone)::date AS day, performer FROM visit
			WHERE visit.tank = tank.id AND withdrawn_at IS NULL AND kind <> 'by_phone' ORDER BY performed_at DESC LIMIT 1) last ON true
		WHERE tank.state IN ('starting', 'running') AND tank.ended_on IS NULL
		ORDER BY tank.sort_key, tank.id`
	rows, err := tx.Query(ctx, sql, f.From.Add(f.Days-1).Midnight(), f.From.Add(f.Days-1).Midnight())
	f.Tanks, err = collect(rows, err, func(row pgx.Row) (t due.Tank, err error) {
		a := &t.Agreement
		err = row.Scan(&t.ID, &t.Name, &t.Site, maybeInt(&a.EveryDays), &a.ToleranceDays, &a.Minutes, &a.Skill, &a.TwoPeople, textOr(&a.Preferred), &a.Weekdays, day(&t.Began),
			maybeDay(&t.Last), textOr(&t.LastBy), apartUntil{&t.ApartUntil})
		return t, asFault(err)
	})
	return err
}

// readAsks reads what the newest judgement of each tank asks, and which extra
// visits are agreed.
func readAsks(ctx context.Context, tx Tx, f *due.Facts) error {
	var ids []string
	for _, t := range f.Tanks {
		ids = append(ids, t.ID)
	}
	const sql = `
		SELECT DISTINCT ON (v.tank) v.tank, e.document, (SELECT min(x.on_day) FROM extra_visit x WHERE x.tank = v.tank AND ` + notMadeYet + `)
		FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = ANY($1) AND v.withdrawn_at IS NULL ORDER BY v.tank, v.performed_at DESC, v.id DESC`
	rows, err := tx.Query(ctx, sql, ids)
	if err != nil {
		return err
	}
	var id, document string
	var extra q.Opt[q.Date]
	_, err = pgx.ForEachRow(rows, []any{&id, &document, maybeDay(&extra)}, func() error {
		a, err := wire.DecodeAssessment([]byte(document))
		if err != nil {
			return err
		}
		t := f.Tank(id)
		t.Asks, t.WaterL, t.Cylinders = due.AsksOf(a, extra), due.Water(a), due.Cylinders(a)
		return nil
	})
	return err
}

func readDueSites(ctx context.Context, tx Tx, f *due.Facts) error {
	var ids []string
	for _, t := range f.Tanks {
		ids = append(ids, t.Site)
	}
	const sql = `
		SELECT site.id, site.name, customer.name, concat_ws(', ', nullif(site.address, ''), nullif(site.town, '')), customer.phones, site.lat, site.lon, coalesce(site.parking_minutes, 0), site.archived_at IS NOT NULL
		FROM site JOIN customer ON customer.id = site.customer WHERE site.id = ANY($1) ORDER BY site.sort_key, site.id`
	rows, err := tx.Query(ctx, sql, ids)
	f.Sites, err = collect(rows, err, func(row pgx.Row) (s due.Site, err error) {
		var lat, lon q.Opt[float64]
		err = row.Scan(&s.ID, &s.Name, &s.Customer, &s.Address, &s.Phones, maybe(&lat), maybe(&lon), &s.Parking, &s.Archived)
		s.Position = q.Opt[customer.Position]{V: customer.Position{Lat: lat.V, Lon: lon.V}, OK: lat.OK}
		return s, asFault(err)
	})
	if err != nil {
		return err
	}
	rows, err = tx.Query(ctx, `SELECT site, weekday, from_minute, to_minute FROM site_window WHERE site = ANY($1) ORDER BY site, weekday, from_minute`, ids)
	if err != nil {
		return err
	}
	var site string
	var w customer.Window
	if _, err = pgx.ForEachRow(rows, []any{&site, &w.Weekday, &w.From, &w.To}, func() error {
		s := f.Site(site)
		s.Windows = append(s.Windows, w)
		return nil
	}); err != nil {
		return err
	}
	rows, err = tx.Query(ctx, `SELECT `+awayColumns+` FROM site_away a WHERE a.site = ANY($1) AND a.to_day >= $2 AND a.from_day <= $3 AND a.withdrawn_at IS NULL ORDER BY a.from_day, a.id`,
		ids, f.From.Midnight(), f.From.Add(f.Days-1).Midnight())
	aways, err := collect(rows, err, scanAway)
	for _, a := range aways {
		s := f.Site(a.Site)
		s.Away = append(s.Away, a)
	}
	return err
}

// pastStops is how many of a site's stops are read, the newest first.
const pastStops = 12

func readPast(ctx context.Context, tx Tx, f *due.Facts) error {
	var ids []string
	for _, s := range f.Sites {
		ids = append(ids, s.ID)
	}
	const sql = `
		SELECT p.site, (p.arrived_at AT TIME ZONE shop.zone)::date, extract(epoch FROM p.left_at - p.arrived_at)::int / 60,
			(SELECT coalesce(array_agg(DISTINCT v.tank::text), '{}') FROM visit v WHERE v.stop = p.id AND v.withdrawn_at IS NULL)
		FROM unnest($1::uuid[]) AS s(id)
		CROSS JOIN shop
		CROSS JOIN LATERAL (SELECT * FROM stop WHERE stop.site = s.id AND stop.outcome IN ('done', 'partly') AND stop.left_at > stop.arrived_at ORDER BY arrived_at DESC LIMIT $2) p
		ORDER BY p.site, p.arrived_at DESC`
	rows, err := tx.Query(ctx, sql, ids, pastStops)
	if err != nil {
		return err
	}
	var site string
	var p due.PastStop
	_, err = pgx.ForEachRow(rows, []any{&site, day(&p.Day), &p.Minutes, &p.Tanks}, func() error {
		s := f.Site(site)
		s.Past = append(s.Past, p)
		p.Tanks = nil
		return nil
	})
	return err
}

func readDuePeople(ctx context.Context, tx Tx, f *due.Facts) error {
	rows, err := tx.Query(ctx, `SELECT id, name, phone FROM staff WHERE deactivated_at IS NULL ORDER BY lower(name), id`)
	f.People, err = collect(rows, err, func(row pgx.Row) (p due.Person, err error) {
		err = row.Scan(&p.ID, &p.Name, &p.Phone)
		return p, asFault(err)
	})
	if err != nil {
		return err
	}
	all, err := workings(ctx, tx, "")
	if err != nil {
		return err
	}
	for _, w := range all {
		f.Person(w.Person).Working = w
	}
	off, err := leaves(ctx, tx, "", f.From)
	for _, l := range off {
		if p := f.Person(l.Person); p != nil {
			p.Leave = append(p.Leave, l)
		}
	}
	return err
}

// readPlanned reads when tanks will have been visited before the first day, by
// the weeks that are handed out.
func readPlanned(ctx context.Context, tx Tx, f *due.Facts) error {
	const sql = `
		SELECT t.tank::text, max(s.day) FROM round_week w JOIN round_stop s ON s.plan = w.handed CROSS JOIN LATERAL unnest(s.tanks) AS t(tank)
		WHERE s.day >= $1 AND s.day < $2 GROUP BY t.tank`
	rows, err := tx.Query(ctx, sql, f.Today.Midnight(), f.From.Midnight())
	if err != nil {
		return err
	}
	var tank string
	var on q.Date
	_, err = pgx.ForEachRow(rows, []any{&tank, day(&on)}, func() error {
		if t := f.Tank(tank); t != nil {
			t.Planned = q.Some(on)
		}
		return nil
	})
	return err
}

// apartUntil scans the last day on which a tank is kept apart; a day without
// end is far away.
type apartUntil struct{ to *q.Opt[q.Date] }

// endless is a day that nobody plans for.
const endless = q.Date(1 << 24)

func (a apartUntil) ScanDate(v pgtype.Date) error {
	*a.to = q.Opt[q.Date]{OK: v.Valid}
	switch {
	case v.InfinityModifier == pgtype.Infinity:
		a.to.V = endless
	case v.Valid:
		a.to.V = q.DateOf(v.Time)
	}
	return nil
}
