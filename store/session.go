package store

import "context"

// DropExpiredSessions deletes the sessions that have run out. The session
// library's own sweeper is not used: its stop races with its start.
func (db *DB) DropExpiredSessions(ctx context.Context) error {
	_, err := db.pool.Exec(ctx, `DELETE FROM sessions WHERE expiry < current_timestamp`)
	return asFault(err)
}
