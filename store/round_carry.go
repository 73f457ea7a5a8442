package store

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/wire"
)

// CarryFor is what a visit to each of the tanks takes along, by the newest
// judgement, and how many tasks are open.
func (db *DB) CarryFor(ctx context.Context, tanks []string) (map[string]due.Carry, error) {
	const sql = `
		SELECT t.id, coalesce(n.document, ''), (SELECT count(*) FROM task WHERE task.tank = t.id AND task.state = 'open')
		FROM unnest($1::uuid[]) AS t(id)
		LEFT JOIN LATERAL (SELECT e.document FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
			WHERE v.tank = t.id AND v.withdrawn_at IS NULL ORDER BY v.performed_at DESC, v.id DESC LIMIT 1) n ON true`
	rows, err := db.pool.Query(ctx, sql, tanks)
	if err != nil {
		return nil, asFault(err)
	}
	out := map[string]due.Carry{}
	var tank, document string
	var open int
	_, err = pgx.ForEachRow(rows, []any{&tank, &document, &open}, func() error {
		var c due.Carry
		if document != "" {
			a, err := wire.DecodeAssessment([]byte(document))
			if err != nil {
				return err
			}
			c = due.CarryOf(a)
		}
		c.Open = open
		out[tank] = c
		return nil
	})
	return out, asFault(err)
}

// BagEnding lists the kits of a person's bag, and of the shop's, that are used
// up by the day: name, lot and last day, the first first.
func (db *DB) BagEnding(ctx context.Context, person string, by q.Date) ([]due.Ending, error) {
	const sql = `SELECT kit.name, l.lot, l.expires_on FROM kit_lot l JOIN kit ON kit.id = l.kit
		WHERE l.retired_at IS NULL AND kit.archived_at IS NULL AND l.expires_on IS NOT NULL AND l.expires_on <= $2 AND (l.keeper IS NULL OR l.keeper = $1)
		ORDER BY l.expires_on, kit.name, l.lot LIMIT 20`
	rows, err := db.pool.Query(ctx, sql, person, by.Midnight())
	return collect(rows, err, func(row pgx.Row) (e due.Ending, err error) {
		err = row.Scan(&e.Kit, &e.Lot, day(&e.On))
		return e, asFault(err)
	})
}

func errNoCalendar() error {
	return fault.New(fault.NotFound, "This calendar address leads nowhere any more.")
}

// CalendarLink returns a person's living calendar link; its ID is empty where
// there is none.
func (db *DB) CalendarLink(ctx context.Context, person string) (l share.CalendarLink, err error) {
	err = db.pool.QueryRow(ctx, `SELECT id, staff, generation FROM calendar_link WHERE staff = $1 AND revoked_at IS NULL`, person).Scan(&l.ID, &l.Person, &l.Generation)
	if errors.Is(err, pgx.ErrNoRows) {
		return share.CalendarLink{}, nil
	}
	return l, asFault(err)
}

// CalendarByID returns a living calendar link of somebody who still works here.
func (db *DB) CalendarByID(ctx context.Context, id string) (l share.CalendarLink, err error) {
	if !ValidID(id) {
		return l, errNoCalendar()
	}
	err = db.pool.QueryRow(ctx, `SELECT c.id, c.staff, c.generation FROM calendar_link c JOIN staff ON staff.id = c.staff
		WHERE c.id = $1 AND c.revoked_at IS NULL AND staff.deactivated_at IS NULL`, id).Scan(&l.ID, &l.Person, &l.Generation)
	if errors.Is(err, pgx.ErrNoRows) {
		return l, errNoCalendar()
	}
	return l, asFault(err)
}

// MakeCalendar ends a person's calendar address, if there is one, and makes a
// new one.
func (db *DB) MakeCalendar(ctx context.Context, person string) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockRow(ctx, tx, "staff", person, noSuchPerson); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE calendar_link SET revoked_at = $2 WHERE staff = $1 AND revoked_at IS NULL`, person, tx.Now); err != nil {
			return err
		}
		id := NewID()
		if _, err := tx.Exec(ctx, `INSERT INTO calendar_link (id, staff, made_at) VALUES ($1, $2, $3)`, id, person, tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, person, "made", "calendar link", id, nil, nil)
	})
}

// RevokeCalendar ends a person's calendar address.
func (db *DB) RevokeCalendar(ctx context.Context, person string) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE calendar_link SET revoked_at = $2 WHERE staff = $1 AND revoked_at IS NULL`, person, tx.Now)
		if err != nil || tag.RowsAffected() == 0 {
			return err
		}
		return Audit(ctx, tx, person, "revoked", "calendar link", person, nil, nil)
	})
}

// HandedOf reads what is handed out to a person from a day on: their routes with
// the site's name, address and position, and the tanks' names. Nothing of how
// one gets in is read.
func (db *DB) HandedOf(ctx context.Context, person string, from q.Date) ([]due.CalendarStop, error) {
	const sql = `
		SELECT s.job, s.day, s.begin_second, s.end_second, site.name, concat_ws(', ', nullif(site.address, ''), nullif(site.town, '')), site.lat, site.lon,
			(SELECT coalesce(array_agg(tank.name ORDER BY tank.sort_key), '{}') FROM tank WHERE tank.id = ANY(s.tanks)), w.handed_at
		FROM round_week w JOIN round_stop s ON s.plan = w.handed JOIN site ON site.id = s.site
		WHERE s.staff = $1 AND s.day >= $2 ORDER BY s.day, s.begin_second, s.job`
	rows, err := db.pool.Query(ctx, sql, person, from.Midnight())
	return collect(rows, err, func(row pgx.Row) (c due.CalendarStop, err error) {
		err = row.Scan(&c.Job, day(&c.Day), &c.Begin, &c.End, &c.Site, &c.Address, maybe(&c.Lat), maybe(&c.Lon), &c.Tanks, &c.Changed)
		return c, asFault(err)
	})
}
