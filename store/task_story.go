package store

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/counter"
	"scaperound/domain/fault"
	"scaperound/domain/wire"
)

func errNoTask() error { return fault.New(fault.NotFound, "There is no such task.") }

// TaskStory reads one task with each time that it was put off.
func (db *DB) TaskStory(ctx context.Context, id string) (counter.Story, error) {
	var s counter.Story
	if !ValidID(id) {
		return s, errNoTask()
	}
	var document string
	err := db.pool.QueryRow(ctx, `SELECT task.id, tank.id, tank.name, task.opened_at, task.document, task.state, task.opened_by IS NULL, task.closed_at, coalesce(staff.name, ''),
			task.declined_who, task.declined_words, task.reason, task.skips
		FROM task JOIN tank ON tank.id = task.tank LEFT JOIN staff ON staff.id = task.closed_staff WHERE task.id = $1`, id).
		Scan(&s.ID, &s.Tank, &s.TankName, &s.Opened, &document, &s.State, &s.Asked, maybeTime(&s.Closed), &s.Closer, &s.Who, &s.Words, &s.Reason, &s.Task.Task.Skips)
	if errors.Is(err, pgx.ErrNoRows) {
		return s, errNoTask()
	}
	if err != nil {
		return s, asFault(err)
	}
	skips := s.Task.Task.Skips
	if s.Task.Task, err = wire.DecodeTask([]byte(document)); err != nil {
		return s, err
	}
	s.Task.Task.ID, s.Task.Task.Skips = s.ID, skips
	rows, err := db.pool.Query(ctx, `SELECT v.performed_at, coalesce(p.name, ''), a.reason, a.words
		FROM task_answer a JOIN visit_revision r ON r.id = a.revision JOIN visit v ON v.head = r.id LEFT JOIN staff p ON p.id = v.performer
		WHERE a.task = $1 AND a.state = 'skipped' AND v.withdrawn_at IS NULL ORDER BY v.performed_at`, id)
	s.Skips, err = collect(rows, err, func(row pgx.Row) (x counter.Skip, err error) {
		err = row.Scan(&x.At, &x.By, &x.Reason, &x.Words)
		return x, asFault(err)
	})
	return s, err
}

// VisitAnswers lists what a visit's newest revision says of the tasks that were
// open before it, in the order in which they were opened.
func (db *DB) VisitAnswers(ctx context.Context, visit string) ([]counter.Answer, error) {
	if !ValidID(visit) {
		return nil, errNoVisit()
	}
	rows, err := db.pool.Query(ctx, `SELECT t.id, t.document, a.state, a.reason, a.who, a.words
		FROM visit v JOIN task_answer a ON a.revision = v.head JOIN task t ON t.id = a.task WHERE v.id = $1 ORDER BY t.opened_at, t.id`, visit)
	return collect(rows, err, func(row pgx.Row) (a counter.Answer, err error) {
		var id, document string
		if err = row.Scan(&id, &document, &a.State, &a.Reason, &a.Who, &a.Words); err != nil {
			return a, asFault(err)
		}
		a.Task, err = wire.DecodeTask([]byte(document))
		a.Task.ID = id
		return a, err
	})
}

// CloseTask ends an open task outside a visit: done, not needed, or declined by
// the customer. Only the owner closes a task of the owner's own.
func (db *DB) CloseTask(ctx context.Context, by, id string, c counter.Closing, owner bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		who, state, err := lockTask(ctx, tx, id)
		switch {
		case err != nil:
			return err
		case who == "owner" && !owner:
			return fault.New(fault.Forbidden, "Only the owner closes this task.")
		case state != "open":
			return fault.New(fault.Conflict, "This task is closed already.")
		}
		const sql = `UPDATE task SET state = $2, closed_at = $3, closed_staff = $4, reason = $5, declined_who = $6, declined_words = $7 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, c.State, tx.Now, nullText(by), c.Reason, c.Who, c.Words); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "closed", "task", id, nil, map[string]any{"state": c.State, "who": c.Who, "words": c.Words, "reason": c.Reason})
	})
}

// ReopenTask takes the end of a task back, unless the same is open again.
func (db *DB) ReopenTask(ctx context.Context, by, id string, owner bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		who, state, err := lockTask(ctx, tx, id)
		switch {
		case err != nil:
			return err
		case who == "owner" && !owner:
			return fault.New(fault.Forbidden, "Only the owner opens this task again.")
		case state == "open":
			return nil
		}
		const sql = `UPDATE task SET state = 'open', closed_by = NULL, closed_at = NULL, closed_staff = NULL, reason = '', declined_who = '', declined_words = '' WHERE id = $1
			AND NOT EXISTS (SELECT FROM task o WHERE o.tank = task.tank AND o.action = task.action AND o.subject = task.subject AND o.state = 'open')`
		tag, err := tx.Exec(ctx, sql, id)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return fault.New(fault.Conflict, "The same task was opened anew meanwhile; that one stands.")
		}
		return Audit(ctx, tx, by, "opened again", "task", id, nil, nil)
	})
}

func lockTask(ctx context.Context, tx Tx, id string) (who, state string, err error) {
	if !ValidID(id) {
		return "", "", errNoTask()
	}
	err = tx.QueryRow(ctx, `SELECT who, state FROM task WHERE id = $1 FOR UPDATE`, id).Scan(&who, &state)
	if errors.Is(err, pgx.ErrNoRows) {
		err = errNoTask()
	}
	return who, state, err
}
