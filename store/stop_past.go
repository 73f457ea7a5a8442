package store

import (
	"context"
	"time"
)

// PastStop is a stop that is over when it is written down, as in data taken
// over from elsewhere.
type PastStop struct {
	ID, Site, Staff string
	Arrived, Left   time.Time
	Outcome         string // done, partly or could_not_get_in
	Why             string
}

// RecordStop writes a stop that is over. Times are kept in UTC.
func RecordStop(ctx context.Context, tx Tx, s PastStop) error {
	_, err := tx.Exec(ctx, `INSERT INTO stop (id, site, arrived_at, left_at, outcome, why, made_by, created_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		s.ID, s.Site, s.Arrived, s.Left, s.Outcome, s.Why, s.Staff, tx.Now)
	if err != nil {
		return asFault(err)
	}
	_, err = tx.Exec(ctx, `INSERT INTO stop_staff (stop, staff) VALUES ($1, $2)`, s.ID, s.Staff)
	return asFault(err)
}
