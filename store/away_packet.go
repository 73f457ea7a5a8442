package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
)

// AwayPackets lists how each tank is fed in an absence, in the order of the
// tanks' names; only those that somebody has settled.
func (db *DB) AwayPackets(ctx context.Context, away string) ([]customer.Packets, error) {
	if !ValidID(away) {
		return nil, errNoAway()
	}
	rows, err := db.pool.Query(ctx, `SELECT p.tank, t.name, p.every_days, p.grams, p.feeder, p.feeder_tried_on, p.note
		FROM away_packet p JOIN tank t ON t.id = p.tank WHERE p.away = $1 ORDER BY t.sort_key COLLATE "C", t.id`, away)
	return collect(rows, err, func(row pgx.Row) (p customer.Packets, err error) {
		err = row.Scan(&p.Tank, &p.TankName, &p.EveryDays, maybe(&p.Grams), &p.Feeder, maybeDay(&p.FeederTried), &p.Note)
		return p, asFault(err)
	})
}

// KeepAwayPackets keeps how the tanks are fed in an absence.
func (db *DB) KeepAwayPackets(ctx context.Context, by, away string, all []customer.Packets) error {
	if !ValidID(away) {
		return errNoAway()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockRow(ctx, tx, "site_away", away, errNoAway); err != nil {
			return err
		}
		b := &pgx.Batch{}
		for _, p := range all {
			b.Queue(`INSERT INTO away_packet (away, tank, every_days, grams, feeder, feeder_tried_on, note, updated_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)
				ON CONFLICT (away, tank) DO UPDATE SET every_days = excluded.every_days, grams = excluded.grams, feeder = excluded.feeder,
				feeder_tried_on = excluded.feeder_tried_on, note = excluded.note, updated_at = excluded.updated_at`,
				away, p.Tank, p.EveryDays, null(p.Grams), p.Feeder, null(p.FeederTried), p.Note, tx.Now)
		}
		if err := tx.SendBatch(ctx, b).Close(); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "packets", "absence", away, nil, map[string]any{"tanks": len(all)})
	})
}
