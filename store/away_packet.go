package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
)

// AwayPackets lists how each tank is fed in an absence, in the order of the
// tanks' names; only those that somebody has settled and that still stand there.
func (db *DB) AwayPackets(ctx context.Context, away string) ([]customer.Packets, error) {
	if !ValidID(away) {
		return nil, errNoAway()
	}
	rows, err := db.pool.Query(ctx, `SELECT p.tank, t.name, p.every_days, p.grams, p.feeder, p.feeder_tried_on, p.note, p.updated_at
		FROM away_packet p JOIN site_away a ON a.id = p.away JOIN tank t ON t.id = p.tank`+tankPlace+`
		WHERE p.away = $1 AND ts.site = a.site AND t.state <> 'ended' ORDER BY t.sort_key COLLATE "C", t.id`, away)
	return collect(rows, err, func(row pgx.Row) (p customer.Packets, err error) {
		err = row.Scan(&p.Tank, &p.TankName, &p.EveryDays, maybe(&p.Grams), &p.Feeder, maybeDay(&p.FeederTried), &p.Note, &p.At)
		return p, asFault(err)
	})
}

// KeepAwayPackets keeps how the tanks are fed in an absence. at is when what the
// form was drawn from was kept, zero where nothing was: Conflict where somebody
// has kept something since, or where one of the tanks does not stand there.
func (db *DB) KeepAwayPackets(ctx context.Context, by, away string, all []customer.Packets, at time.Time) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return KeepAwayPackets(ctx, tx, by, away, all, at) })
}

// KeepAwayPackets is DB.KeepAwayPackets within a transaction.
func KeepAwayPackets(ctx context.Context, tx Tx, by, away string, all []customer.Packets, at time.Time) error {
	a, err := lockAway(ctx, tx, away)
	if err != nil {
		return err
	}
	b := &pgx.Batch{}
	for _, p := range all {
		if !ValidID(p.Tank) {
			return errNoTank()
		}
		var here, newer bool
		const sql = `SELECT coalesce(ts.site = $2, false), EXISTS (SELECT FROM away_packet WHERE away = $3 AND tank = t.id AND updated_at > $4) FROM tank t` + tankPlace + ` WHERE t.id = $1`
		if err := tx.QueryRow(ctx, sql, p.Tank, a.Site, away, at).Scan(&here, &newer); err != nil {
			return missing(err, errNoTank)
		}
		switch {
		case newer:
			return editedMeanwhile()
		case !here:
			return fault.New(fault.Conflict, "One of these tanks does not stand there any more. Please open the form anew.")
		}
		b.Queue(`INSERT INTO away_packet (away, tank, every_days, grams, feeder, feeder_tried_on, note, updated_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
				ON CONFLICT (away, tank) DO UPDATE SET every_days = excluded.every_days, grams = excluded.grams, feeder = excluded.feeder,
				feeder_tried_on = excluded.feeder_tried_on, note = excluded.note, updated_at = excluded.updated_at`,
			away, p.Tank, p.EveryDays, null(p.Grams), p.Feeder, null(p.FeederTried), p.Note, tx.Now)
	}
	if err := tx.SendBatch(ctx, b).Close(); err != nil {
		return err
	}
	return Audit(ctx, tx, by, "packets", "absence", away, nil, map[string]any{"tanks": len(all)})
}
