package store

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
)

// Roads returns what driving is reckoned with; the usual values where the shop
// has written down none.
func (db *DB) Roads(ctx context.Context) (due.Roads, error) { return roads(ctx, db.pool) }

func roads(ctx context.Context, from Querier) (due.Roads, error) {
	r := due.UsualRoads()
	var lat, lon q.Opt[float64]
	var pace []int
	err := from.QueryRow(ctx, `SELECT lat, lon, road_factor, pace, row_version FROM round_shop`).Scan(maybe(&lat), maybe(&lon), &r.Factor, &pace, &r.Version)
	if errors.Is(err, pgx.ErrNoRows) {
		return r, nil
	}
	if len(pace) == len(r.Pace) {
		copy(r.Pace[:], pace)
	}
	r.Shop = q.Opt[customer.Position]{V: customer.Position{Lat: lat.V, Lon: lon.V}, OK: lat.OK}
	return r, asFault(err)
}

// KeepRoads writes over r.Version; a Conflict where somebody was faster.
func (db *DB) KeepRoads(ctx context.Context, by string, r due.Roads) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return KeepRoads(ctx, tx, by, r) })
}

// KeepRoads is DB.KeepRoads within a transaction.
func KeepRoads(ctx context.Context, tx Tx, by string, r due.Roads) error {
	lat, lon := place(r.Shop)
	const sql = `
		INSERT INTO round_shop (lat, lon, road_factor, pace, updated_at) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (only_one) DO UPDATE SET lat = EXCLUDED.lat, lon = EXCLUDED.lon, road_factor = EXCLUDED.road_factor, pace = EXCLUDED.pace,
			updated_at = EXCLUDED.updated_at, row_version = round_shop.row_version + 1 WHERE round_shop.row_version = $6`
	tag, err := tx.Exec(ctx, sql, lat, lon, r.Factor, r.Pace[:], tx.Now, r.Version)
	if err != nil {
		return asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return changedMeanwhile("What rounds are reckoned with was")
	}
	return Audit(ctx, tx, by, "changed", "roads", "shop", nil, map[string]any{"factor": r.Factor, "pace": r.Pace, "shop": r.Shop})
}
