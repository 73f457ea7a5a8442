package store

import (
	"context"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
)

// tasksSince reads the tank's tasks that may matter from a moment on: those
// open now, those closed at or after it, and those that a visit named.
func tasksSince(ctx context.Context, db Querier, tankID string, at time.Time, named []string) ([]*taskRow, error) {
	rows, err := db.Query(ctx, `SELECT `+taskColumns+` FROM task WHERE tank = $1 AND (state = 'open' OR closed_at >= $2 OR id = ANY($3)) ORDER BY opened_at, id`,
		tankID, at, named)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, scanTask)
}

// OpenTasks lists a tank's open tasks in the order of the list.
func (db *DB) OpenTasks(ctx context.Context, tankID string) ([]care.Task, error) {
	return OpenTasks(ctx, db.pool, tankID)
}

// OpenTasks is the same within a transaction.
func OpenTasks(ctx context.Context, db Querier, tankID string) ([]care.Task, error) {
	rows, err := db.Query(ctx, `SELECT `+taskColumns+` FROM task WHERE tank = $1 AND state = 'open' ORDER BY opened_at, id`, tankID)
	if err != nil {
		return nil, asFault(err)
	}
	found, err := pgx.CollectRows(rows, scanTask)
	if err != nil {
		return nil, asFault(err)
	}
	tasks := make([]care.Task, len(found))
	for i, t := range found {
		tasks[i] = t.Task
	}
	sortTasks(tasks)
	return tasks, nil
}

// sortTasks puts what presses first, then by what it protects, then by age.
func sortTasks(ts []care.Task) {
	slices.SortStableFunc(ts, func(a, b care.Task) int {
		switch {
		case a.Urgency.Level() != b.Urgency.Level():
			return a.Urgency.Level() - b.Urgency.Level()
		case a.Rank != b.Rank:
			return int(a.Rank) - int(b.Rank)
		case a.Opened.V != b.Opened.V:
			return int(a.Opened.V - b.Opened.V)
		}
		return strings.Compare(a.Key(), b.Key())
	})
}
