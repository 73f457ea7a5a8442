package store

import (
	"context"

	"scaperound/domain/fault"
)

// AnswerTask says of an open task of the owner's own that it is done, or takes
// that back.
func (db *DB) AnswerTask(ctx context.Context, by, id string, done bool) error {
	missing := fault.New(fault.NotFound, "There is no such task.")
	if !ValidID(id) {
		return missing
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		sql := `UPDATE task SET state = 'done', closed_at = $2, closed_staff = $3 WHERE id = $1 AND who = 'owner' AND state = 'open'`
		if !done {
			sql = `UPDATE task SET state = 'open', closed_at = NULL, closed_staff = NULL WHERE id = $1 AND who = 'owner' AND state = 'done'
				AND $2::timestamptz IS NOT NULL AND $3::uuid IS NOT NULL
				AND NOT EXISTS (SELECT 1 FROM task o WHERE o.tank = task.tank AND o.action = task.action AND o.subject = task.subject AND o.state = 'open')`
		}
		tag, err := tx.Exec(ctx, sql, id, tx.Now, by)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return missing
		}
		return Audit(ctx, tx, by, "answer", "task", id, nil, map[string]any{"done": done})
	})
}
