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

// RecordStops writes stops that are over. Times are kept in UTC.
func RecordStops(ctx context.Context, tx Tx, stops []PastStop) error {
	var buf rowBuffer
	for _, s := range stops {
		buf.add("stop", s.ID, s.Site, s.Arrived, s.Left, s.Outcome, s.Why, s.Staff, tx.Now)
		buf.add("stop_staff", s.ID, s.Staff)
	}
	return asFault(buf.flush(ctx, tx))
}
