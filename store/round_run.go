package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

// runDead is how long after its last sign of life a run counts as dead, because
// its server was killed.
const runDead = 20 * time.Second

// BeginRun takes the shop's one place for a run of the planner. Where a living
// run holds it, on whatever server, the answer is a Conflict. ill and its day
// say whose day is dealt out anew; empty for a week's plan.
func (db *DB) BeginRun(ctx context.Context, by string, monday q.Date, ill string, illDay q.Date) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id = NewID()
		var dayOf any
		if ill != "" {
			dayOf = illDay.Midnight()
		}
		const sql = `
			INSERT INTO round_run (id, monday, state, staff, begun_at, beat_at, ill, ill_day) VALUES ($1, $2, 'running', $3, $4, $4, $6, $7)
			ON CONFLICT (only_one) DO UPDATE SET id = EXCLUDED.id, monday = EXCLUDED.monday, state = 'running', stop_asked = false, tries = 0, placed = 0, wanted = 0, says = '',
				staff = EXCLUDED.staff, begun_at = EXCLUDED.begun_at, beat_at = EXCLUDED.beat_at, ill = EXCLUDED.ill, ill_day = EXCLUDED.ill_day
			WHERE round_run.state <> 'running' OR round_run.beat_at < $5`
		tag, err := tx.Exec(ctx, sql, id, monday.Midnight(), nullText(by), tx.Now, tx.Now.Add(-runDead), nullText(ill), dayOf)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return fault.New(fault.Conflict, "A week is just being planned. Stop it first, or wait until it is done.")
		}
		return nil
	})
	return id, err
}

// BeatRun notes how a run stands and reports whether it should stop. A run that
// lost its place to another should stop too.
func (db *DB) BeatRun(ctx context.Context, id string, tries int64, placed, wanted int) (stop bool, err error) {
	const sql = `UPDATE round_run SET beat_at = $2, tries = $3, placed = $4, wanted = $5 WHERE id = $1 AND state = 'running' RETURNING stop_asked`
	err = db.pool.QueryRow(ctx, sql, id, db.Now(), tries, placed, wanted).Scan(&stop)
	if errors.Is(err, pgx.ErrNoRows) {
		return true, nil
	}
	return stop, asFault(err)
}

// EndRun keeps what a run found as the week's draft, unless it lost its place or
// the draft is another one by now.
func (db *DB) EndRun(ctx context.Context, by, id string, b due.Book) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE round_run SET state = 'done', beat_at = $2 WHERE id = $1 AND state = 'running'`, id, tx.Now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return fault.New(fault.Conflict, "Another run took the place of this one.")
		}
		_, err = keepBook(ctx, tx, by, b)
		return err
	})
}

// FailRun ends a run without a plan; says is for a person.
func (db *DB) FailRun(ctx context.Context, id, says string) error {
	_, err := db.pool.Exec(ctx, `UPDATE round_run SET state = 'failed', says = $3, beat_at = $2 WHERE id = $1 AND state = 'running'`, id, db.Now(), says)
	return asFault(err)
}

// StopRun asks the running run to keep the best so far and end.
func (db *DB) StopRun(ctx context.Context) error {
	_, err := db.pool.Exec(ctx, `UPDATE round_run SET stop_asked = true WHERE state = 'running'`)
	return asFault(err)
}

// LastRun returns how the newest run stands; its ID is empty where there never
// was one.
func (db *DB) LastRun(ctx context.Context) (r due.Run, err error) {
	const sql = `SELECT r.id, r.monday, r.state = 'running' AND r.beat_at >= $1, r.state = 'failed' OR r.state = 'running' AND r.beat_at < $1, r.stop_asked, r.tries, r.placed, r.wanted,
		CASE WHEN r.state = 'running' AND r.beat_at < $1 THEN 'The server was stopped while it planned. The week is as it was; plan it again.' ELSE r.says END,
		coalesce(staff.name, ''), r.begun_at, coalesce(r.ill::text, ''), r.ill_day
		FROM round_run r LEFT JOIN staff ON staff.id = r.staff`
	err = db.pool.QueryRow(ctx, sql, db.Now().Add(-runDead)).Scan(&r.ID, day(&r.Monday), &r.Running, &r.Failed, &r.Stopped, &r.Tries, &r.Placed, &r.Wanted, &r.Says, &r.By, &r.Begun, &r.Ill, maybeDay(&r.IllDay))
	if errors.Is(err, pgx.ErrNoRows) {
		return due.Run{}, nil
	}
	return r, asFault(err)
}

// notWhilePlanning refuses a change by hand while the planner is at the week.
func notWhilePlanning(ctx context.Context, tx Tx, monday q.Date) error {
	var busy bool
	err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM round_run WHERE monday = $1 AND state = 'running' AND beat_at >= $2)`, monday.Midnight(), tx.Now.Add(-runDead)).Scan(&busy)
	if err == nil && busy {
		return fault.New(fault.Conflict, "This week is just being planned. Stop the planner first, or wait until it is done.")
	}
	return err
}
