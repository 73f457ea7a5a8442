package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
)

// readReached reads the time of the day and at which stops somebody has arrived
// today. Where the facts are as of another day than the clock's, there is neither.
func readReached(ctx context.Context, tx Tx, f *due.Facts) error {
	const clock = `SELECT ($1::timestamptz AT TIME ZONE shop.zone)::date = $2, extract(epoch FROM ($1 AT TIME ZONE shop.zone)::time)::int / 60 FROM shop`
	var is bool
	if err := tx.QueryRow(ctx, clock, tx.Now, f.Today.Midnight()).Scan(&is, &f.Now.V); err != nil || !is {
		return err
	}
	f.Now.OK = true
	const sql = `
		SELECT p.id, p.site, extract(epoch FROM (p.arrived_at AT TIME ZONE shop.zone)::time)::int / 60, extract(epoch FROM (p.left_at AT TIME ZONE shop.zone)::time)::int / 60, p.outcome,
			(SELECT coalesce(array_agg(staff::text ORDER BY staff), '{}') FROM stop_staff WHERE stop = p.id),
			(SELECT coalesce(array_agg(DISTINCT t.tank::text), '{}') FROM round_week w JOIN round_stop s ON s.plan = w.handed CROSS JOIN LATERAL unnest(s.tanks) AS t(tank)
				WHERE s.site = p.site AND s.day = $1)
		FROM stop p CROSS JOIN shop
		WHERE (p.arrived_at AT TIME ZONE shop.zone)::date = $1 ORDER BY p.arrived_at, p.id`
	rows, err := tx.Query(ctx, sql, f.Today.Midnight())
	stops, err := collect(rows, err, func(row pgx.Row) (r due.Reached, err error) {
		err = row.Scan(&r.Stop, &r.Site, &r.Arrived, maybeInt(&r.Left), &r.Outcome, &r.People, &r.Tanks)
		return r, asFault(err)
	})
	f.Reach(stops)
	return err
}
