package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/forecast"
	"scaperound/domain/visit"
)

// memoryBefore is what was learnt of a tank up to the last of its visits, the
// oldest first. Where that is not kept, or is of another version of the forecast,
// the visits are folded anew.
func memoryBefore(ctx context.Context, tx Tx, past []visit.Record) (s forecast.State, err error) {
	if len(past) == 0 {
		return s, nil
	}
	var b []byte
	err = tx.QueryRow(ctx, `SELECT memory FROM evaluation WHERE revision = $1 AND current`, past[len(past)-1].Revision).Scan(&b)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return s, asFault(err)
	}
	if s, ok := forecast.StateOf(b); ok {
		return s, nil
	}
	return learn(ctx, tx, past)
}

// learn folds visits, each with the tank as it stood then by its dated records:
// one round trip a visit. What nobody recorded at the time is unknown, as it was.
func learn(ctx context.Context, tx Tx, past []visit.Record) (forecast.State, error) {
	steps := make([]forecast.Step, len(past))
	for i := range past {
		setup, _, plan, err := TankAt(ctx, tx, past[i].Tank, past[i].Performed)
		if err != nil {
			return forecast.State{}, err
		}
		steps[i] = forecast.Step{Setup: setup, Plan: plan, Visit: past[i]}
	}
	return forecast.Fold(steps), nil
}

// TankMemory is what was learnt of a tank up to its newest visit; the zero State
// where nobody has been there.
func (db *DB) TankMemory(ctx context.Context, tankID string) (s forecast.State, err error) {
	if !ValidID(tankID) {
		return s, errNoTank()
	}
	var b []byte
	err = db.pool.QueryRow(ctx, `SELECT e.memory FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = $1 AND v.withdrawn_at IS NULL ORDER BY v.performed_at DESC, v.id DESC LIMIT 1`, tankID).Scan(&b)
	if errors.Is(err, pgx.ErrNoRows) {
		return s, nil
	}
	if err != nil {
		return s, asFault(err)
	}
	if s, ok := forecast.StateOf(b); ok {
		return s, nil
	}
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		past, err := VisitsOfTank(ctx, tx, tankID, time.Time{}, endOfTime, historyKept)
		if err != nil {
			return err
		}
		s, err = learn(ctx, tx, past)
		return err
	})
	return s, err
}
