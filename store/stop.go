package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/visit"
)

const stopColumns = `stop.id, stop.site, site.name, customer.name, concat_ws(', ', nullif(site.address, ''), nullif(site.town, '')), stop.arrived_at, stop.left_at, stop.outcome, stop.why`

const stopFrom = ` FROM stop JOIN site ON site.id = stop.site JOIN customer ON customer.id = site.customer `

func scanStop(row pgx.CollectableRow) (s visit.Stop, err error) {
	err = row.Scan(&s.ID, &s.Site, &s.SiteName, &s.Customer, &s.Address, maybeTime(&s.Arrived), maybeTime(&s.Left), &s.Outcome, &s.Why)
	return s, err
}

func errNoStop() error { return fault.New(fault.NotFound, "There is no such stop.") }

// sameStop is for how long a stop that nobody left is taken up again by
// whoever arrives at the same site.
const sameStop = 14 * time.Hour

// Arrive begins a stop at a site, or joins the one that is under way there. It
// returns the stop's id.
func (db *DB) Arrive(ctx context.Context, by, site string) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = arrive(ctx, tx, by, site)
		return err
	})
	return id, err
}

func arrive(ctx context.Context, tx Tx, by, site string) (id string, err error) {
	if err := lockRow(ctx, tx, "site", site, errNoSite); err != nil {
		return "", err
	}
	const under = `SELECT id FROM stop WHERE site = $1 AND outcome = 'under_way' AND arrived_at > $2 ORDER BY arrived_at DESC LIMIT 1`
	err = tx.QueryRow(ctx, under, site, tx.Now.Add(-sameStop)).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		id = NewID()
		_, err = tx.Exec(ctx, `INSERT INTO stop (id, site, arrived_at, made_by, created_at) VALUES ($1, $2, $3, $4, $3)`, id, site, tx.Now, by)
	}
	if err != nil {
		return "", err
	}
	_, err = tx.Exec(ctx, `INSERT INTO stop_staff (stop, staff) VALUES ($1, $2) ON CONFLICT DO NOTHING`, id, by)
	return id, err
}

// CouldNotGetIn closes a stop at the site without a visit, and says why. A
// stop under way there becomes this one, unless a visit was made at it.
func (db *DB) CouldNotGetIn(ctx context.Context, by, site, why string) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if id, err = arrive(ctx, tx, by, site); err != nil {
			return err
		}
		var visits int
		if err := tx.QueryRow(ctx, `SELECT count(*) FROM visit WHERE stop = $1 AND withdrawn_at IS NULL`, id).Scan(&visits); err != nil {
			return err
		}
		if visits > 0 {
			return fault.New(fault.Conflict, "A visit was written down at this stop, so somebody was inside. Say “partly done” instead.")
		}
		return endStop(ctx, tx, by, id, visit.CouldNotEnter, why)
	})
	return id, err
}

// LeaveStop ends a stop as done or partly done.
func (db *DB) LeaveStop(ctx context.Context, by, id string, outcome visit.StopOutcome, why string) error {
	if !ValidID(id) {
		return errNoStop()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return endStop(ctx, tx, by, id, outcome, why) })
}

func endStop(ctx context.Context, tx Tx, by, id string, outcome visit.StopOutcome, why string) error {
	tag, err := tx.Exec(ctx, `UPDATE stop SET outcome = $2, why = $3, left_at = $4 WHERE id = $1`, id, string(outcome), why, tx.Now)
	if err != nil {
		return err
	}
	if tag.RowsAffected() == 0 {
		return errNoStop()
	}
	return Audit(ctx, tx, by, "end", "stop", id, nil, map[string]any{"outcome": outcome, "why": why})
}

// ReopenStop takes the end of a stop back.
func (db *DB) ReopenStop(ctx context.Context, by, id string) error {
	if !ValidID(id) {
		return errNoStop()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE stop SET outcome = 'under_way', why = '', left_at = NULL WHERE id = $1`, id)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return errNoStop()
		}
		return Audit(ctx, tx, by, "reopen", "stop", id, nil, nil)
	})
}

// Stop returns a stop with its people and all the tanks that stand at the site.
func (db *DB) Stop(ctx context.Context, id string) (s visit.Stop, err error) {
	if !ValidID(id) {
		return s, errNoStop()
	}
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		rows, err := tx.Query(ctx, `SELECT `+stopColumns+stopFrom+`WHERE stop.id = $1`, id)
		if err != nil {
			return err
		}
		s, err = pgx.CollectExactlyOneRow(rows, scanStop)
		if errors.Is(err, pgx.ErrNoRows) {
			return errNoStop()
		}
		if err != nil {
			return err
		}
		rows, err = tx.Query(ctx, `SELECT staff.id, staff.name FROM stop_staff JOIN staff ON staff.id = stop_staff.staff WHERE stop = $1 ORDER BY staff.name`, id)
		if err != nil {
			return err
		}
		if s.People, err = pgx.CollectRows(rows, pgx.RowToStructByPos[visit.Named]); err != nil {
			return err
		}
		s.Tanks, err = stopTanks(ctx, tx, s)
		return err
	})
	return s, err
}

// keptApart is whether a tank is kept apart on the shop's day of the moment that
// the parameter holds.
func keptApart(moment string) string {
	day := `(SELECT (` + moment + `::timestamptz AT TIME ZONE zone)::date FROM shop)`
	return `(coalesce(tank.keep_apart_since <= ` + day + `, false) AND coalesce(tank.keep_apart_until, 'infinity') >= ` + day + `)`
}

// stopTanks lists the tanks of the stop's site; one that is kept apart comes
// last, with its own net.
func stopTanks(ctx context.Context, tx Tx, s visit.Stop) ([]visit.StopTank, error) {
	q := `
		SELECT tank.id, tank.name, ` + keptApart("$3") + ` AS apart,
			(SELECT count(*) FROM task WHERE task.tank = tank.id AND task.state = 'open'),
			v.id::text, v.performed_at
		FROM tank
		JOIN LATERAL (SELECT site FROM tank_site WHERE tank_site.tank = tank.id AND since <= $3 ORDER BY since DESC LIMIT 1) here ON here.site = $1
		LEFT JOIN LATERAL (SELECT id, performed_at FROM visit WHERE visit.tank = tank.id AND visit.stop = $2 AND withdrawn_at IS NULL ORDER BY performed_at DESC LIMIT 1) v ON true
		WHERE tank.state <> 'ended' OR v.id IS NOT NULL
		ORDER BY apart, tank.sort_key, tank.id`
	rows, err := tx.Query(ctx, q, s.Site, s.ID, tx.Now)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (t visit.StopTank, err error) {
		err = row.Scan(&t.ID, &t.Name, &t.KeepApart, &t.Open, textOr(&t.Visit), maybeTime(&t.Performed))
		return t, err
	})
}

// StopsOf lists one person's stops that began within a time, the first first.
func (db *DB) StopsOf(ctx context.Context, person string, from, to time.Time) ([]visit.Stop, error) {
	const q = `SELECT ` + stopColumns + stopFrom + `
		WHERE stop.arrived_at >= $2 AND stop.arrived_at < $3 AND EXISTS (SELECT 1 FROM stop_staff WHERE stop_staff.stop = stop.id AND stop_staff.staff = $1)
		ORDER BY stop.arrived_at, stop.id`
	rows, err := db.pool.Query(ctx, q, person, from, to)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, scanStop)
	return list, asFault(err)
}

// ArriveAtTank is Arrive at the site where the tank stands now.
func (db *DB) ArriveAtTank(ctx context.Context, by, tankID string) (id string, err error) {
	if !ValidID(tankID) {
		return "", errNoTank()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		var site string
		err := tx.QueryRow(ctx, `SELECT site FROM tank_site WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1`, tankID, tx.Now).Scan(&site)
		if errors.Is(err, pgx.ErrNoRows) {
			return errNoTank()
		}
		if err != nil {
			return err
		}
		id, err = arrive(ctx, tx, by, site)
		return err
	})
	return id, err
}
