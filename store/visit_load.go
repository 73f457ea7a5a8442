package store

import (
	"context"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/forecast"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// NextVisit gives a loader the tank's next visit, the oldest first, with its
// body; nil ends the load. It is shown what the tank is at the time and which
// tasks are open.
type NextVisit func(at func(time.Time) (tank.Setup, error), open []care.Task) (*visit.Record, Body, error)

// LoadVisits writes a tank's past, taken over from elsewhere, in one
// transaction: each visit is judged in turn as it would have been. The tank
// must have no visit yet. It returns the id of the newest visit, or an empty
// one where there was none.
func (db *DB) LoadVisits(ctx context.Context, tankID string, next NextVisit, assess Assess) (newest string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		l := visitLoad{tx: tx, tank: tankID, book: newTaskBook(tankID, nil)}
		if err := lockTank(ctx, tx, tankID); err != nil {
			return err
		}
		if err := l.readChanges(ctx); err != nil {
			return err
		}
		for {
			rec, body, err := next(func(at time.Time) (tank.Setup, error) {
				err := l.bringTo(ctx, at)
				return l.setup, err
			}, l.book.openNow())
			if err != nil || rec == nil {
				if err == nil {
					err = l.end(ctx)
				}
				return err
			}
			if err := l.one(ctx, rec, body, assess); err != nil {
				return err
			}
			newest = rec.Visit
		}
	})
	return newest, err
}

// visitLoad is a load under way.
type visitLoad struct {
	tx      Tx
	tank    string
	buf     rowBuffer
	answers rowBuffer
	book    *taskBook
	past    []visit.Record
	memory  forecast.State // after the last of them

	changes []time.Time // when any dated record of the tank changes
	setup   tank.Setup
	profile tank.Profile
	plan    tank.Plan
	asOf    time.Time // of setup
	stale   bool      // a visit moved stock or did something to the gear
}

// readChanges notes when the tank, as it is recorded, becomes another.
func (l *visitLoad) readChanges(ctx context.Context) error {
	const sql = `
SELECT since FROM tank_setup WHERE tank = $1
UNION SELECT since FROM tank_state WHERE tank = $1
UNION SELECT since FROM tank_site WHERE tank = $1
UNION SELECT since FROM agreement WHERE tank = $1
UNION SELECT since FROM care_share WHERE tank = $1
UNION SELECT since FROM tank_source WHERE tank = $1
UNION SELECT since FROM tank_profile WHERE tank = $1
UNION SELECT since FROM tank_kit WHERE tank = $1
UNION SELECT since FROM dosing_line WHERE tank = $1
UNION SELECT until FROM dosing_line WHERE tank = $1 AND until IS NOT NULL
UNION SELECT day::timestamptz FROM movement WHERE tank = $1
UNION SELECT at FROM gear_event WHERE tank = $1
UNION SELECT since FROM source_version
UNION SELECT since FROM profile_version
UNION SELECT created_at FROM kit_lot UNION SELECT retired_at FROM kit_lot WHERE retired_at IS NOT NULL`
	rows, err := l.tx.Query(ctx, sql, l.tank)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var at time.Time
		if err := rows.Scan(&at); err != nil {
			return err
		}
		l.changes = append(l.changes, at)
	}
	return rows.Err()
}

// bringTo reads the tank as of a moment, unless nothing changed since it was
// read last.
func (l *visitLoad) bringTo(ctx context.Context, at time.Time) error {
	fresh := !l.asOf.IsZero() && !l.stale && !at.Before(l.asOf)
	for _, c := range l.changes {
		// A movement counts by the shop's day, which may begin up to 14 hours
		// before UTC's.
		fresh = fresh && (c.Add(-14*time.Hour).After(at) || !c.Add(14*time.Hour).After(l.asOf))
	}
	if fresh {
		l.asOf = at
		return nil
	}
	if err := l.buf.flush(ctx, l.tx); err != nil {
		return err
	}
	var err error
	l.setup, l.profile, l.plan, err = TankAt(ctx, l.tx, l.tank, at)
	l.asOf, l.stale = at, false
	return err
}

func (l *visitLoad) one(ctx context.Context, rec *visit.Record, body Body, assess Assess) error {
	l.buf.addVisit(rec, l.tx.Now)
	l.buf.addRevision(rec, 1, body)
	for _, w := range rec.Work {
		_, gear := gearOf[w.Kind]
		l.stale = l.stale || gear
	}
	l.stale = l.stale || len(rec.Movements) > 0
	if err := l.bringTo(ctx, rec.Performed); err != nil {
		return err
	}
	open, closed := l.book.openBefore(rec.Performed), l.book.closedBefore(rec.Performed)
	heard := l.book.hear(*rec)
	e := evaluated{id: NewID(), assessment: assess(care.Case{Setup: l.setup, Profile: l.profile, Plan: l.plan,
		History: l.past[max(0, len(l.past)-historyKept):], Now: *rec, Open: open, Closed: closed, Memory: l.memory})}
	l.memory = e.assessment.Memory
	l.book.settle(&e.assessment, e.id, rec.Performed)
	l.buf.addEvaluation(e, rec, l.profile, "first", l.tx.Now, l.past)
	for _, a := range heard.Tasks {
		if _, known := l.book.byID[a.Task]; known {
			l.answers.add("task_answer", rec.Revision, a.Task, a.State, a.Reason, a.Who, a.Words)
		}
	}
	l.past = append(l.past, *rec)
	return nil
}

// end writes what is still in hand: the facts and judgements first, then the
// tasks that name them, then the answers that name those.
func (l *visitLoad) end(ctx context.Context) error {
	if err := l.buf.flush(ctx, l.tx); err != nil {
		return err
	}
	if err := l.book.save(ctx, l.tx); err != nil {
		return err
	}
	return l.answers.flush(ctx, l.tx)
}
