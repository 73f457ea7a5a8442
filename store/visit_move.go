package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
)

// MoveVisit takes a visit that was entered on the wrong tank to the right one,
// with all its revisions, and judges both tanks anew. Sheets that were given
// stay as they are. Ticks that it made on the other tank's tasks are taken back.
func (db *DB) MoveVisit(ctx context.Context, by, visitID, toTank string, assess Assess) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		from, at, err := visitPlace(ctx, tx, visitID)
		if err != nil {
			return err
		}
		if from == toTank {
			return fault.New(fault.Conflict, "The visit is on this tank already.")
		}
		// Two moves in opposite directions must not wait for one another.
		for _, id := range []string{min(from, toTank), max(from, toTank)} {
			if err := lockTank(ctx, tx, id); err != nil {
				return err
			}
		}
		if err := takeBackTicks(ctx, tx, visitID); err != nil {
			return err
		}
		b := &pgx.Batch{}
		b.Queue(`UPDATE visit SET tank = $2, moved_from = $3 WHERE id = $1`, visitID, toTank, from)
		b.Queue(`UPDATE reading SET tank = $2 WHERE revision IN (SELECT id FROM visit_revision WHERE visit = $1)`, visitID, toTank)
		b.Queue(`UPDATE movement SET tank = $2 WHERE visit = $1`, visitID, toTank)
		b.Queue(`UPDATE gear_event SET tank = $2 WHERE visit = $1`, visitID, toTank)
		b.Queue(`UPDATE photo SET tank = $2 WHERE visit = $1`, visitID, toTank)
		if err := tx.SendBatch(ctx, b).Close(); err != nil {
			return err
		}
		if _, err := evaluateFrom(ctx, tx, from, at, nil, assess); err != nil {
			return err
		}
		if _, err := evaluateFrom(ctx, tx, toTank, at, nil, assess); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "moved", "visit", visitID, map[string]any{"Tank": from}, map[string]any{"Tank": toTank})
	})
}

// WithdrawVisit takes a visit out of the tank's history, or brings it back; it
// is never deleted. The tank is judged anew.
func (db *DB) WithdrawVisit(ctx context.Context, by, visitID string, withdrawn bool, assess Assess) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tankID, at, err := visitPlace(ctx, tx, visitID)
		if err != nil {
			return err
		}
		if err := lockTank(ctx, tx, tankID); err != nil {
			return err
		}
		verb, since := "brought back", any(nil)
		if withdrawn {
			verb, since = "withdrew", tx.Now
			if err := takeBackTicks(ctx, tx, visitID); err != nil {
				return err
			}
		}
		b := &pgx.Batch{}
		b.Queue(`UPDATE visit SET withdrawn_at = $2 WHERE id = $1`, visitID, since)
		b.Queue(`UPDATE reading SET current = $2 WHERE revision = (SELECT head FROM visit WHERE id = $1)`, visitID, !withdrawn)
		for _, table := range []string{"movement", "gear_event"} {
			b.Queue(`UPDATE `+table+` SET superseded_at = $2 WHERE revision = (SELECT head FROM visit WHERE id = $1)`, visitID, since)
		}
		if err := tx.SendBatch(ctx, b).Close(); err != nil {
			return err
		}
		if withdrawn {
			var revision string
			if err := tx.QueryRow(ctx, `SELECT head FROM visit WHERE id = $1`, visitID).Scan(&revision); err != nil {
				return err
			}
			if err := retire(ctx, tx, revision); err != nil {
				return err
			}
		}
		if _, err := evaluateFrom(ctx, tx, tankID, at, nil, assess); err != nil {
			return err
		}
		return Audit(ctx, tx, by, verb, "visit", visitID, nil, nil)
	})
}

// visitPlace is the tank of a visit and when it was performed.
func visitPlace(ctx context.Context, tx Tx, visitID string) (tankID string, at time.Time, err error) {
	if !ValidID(visitID) {
		return "", at, errNoVisit()
	}
	err = tx.QueryRow(ctx, `SELECT tank, performed_at FROM visit WHERE id = $1`, visitID).Scan(&tankID, &at)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", at, errNoVisit()
	}
	return tankID, at, err
}

// takeBackTicks opens again what the visit closed, unless it was opened anew
// meanwhile.
func takeBackTicks(ctx context.Context, tx Tx, visitID string) error {
	const sql = `
UPDATE task t SET state = 'open', closed_by = NULL, closed_at = NULL, closed_staff = NULL, reason = '', declined_who = '', declined_words = ''
WHERE t.closed_by IN (SELECT id FROM visit_revision WHERE visit = $1)
  AND NOT EXISTS (SELECT FROM task o WHERE o.tank = t.tank AND o.action = t.action AND o.subject = t.subject AND o.state = 'open')`
	_, err := tx.Exec(ctx, sql, visitID)
	return err
}
