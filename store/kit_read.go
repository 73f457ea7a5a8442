package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

const kitColumns = `k.id, k.name, k.measures, k.type, k.unit, k.step, k.sd, k.floor, k.sample_ml, k.archived_at IS NOT NULL`

func scanKit(row pgx.CollectableRow, more ...any) (k tank.Kit, err error) {
	err = row.Scan(append([]any{&k.ID, &k.Name, &k.Measures, &k.Type, &k.Unit, maybe(&k.Step), maybe(&k.SD), maybe(&k.Floor), maybe(&k.SampleML), &k.Archived}, more...)...)
	return k, err
}

// Kits lists kits and meters with their lots in use, by what they measure.
func (db *DB) Kits(ctx context.Context) ([]tank.Kit, error) { return db.readKits(ctx, "", false) }

// Kit reads one with every lot, also retired ones, and the lots' checks.
func (db *DB) Kit(ctx context.Context, id string) (tank.Kit, error) {
	if !ValidID(id) {
		return tank.Kit{}, errNoKit()
	}
	kits, err := db.readKits(ctx, id, true)
	if err != nil {
		return tank.Kit{}, err
	}
	if len(kits) == 0 {
		return tank.Kit{}, errNoKit()
	}
	return kits[0], nil
}

// readKits reads all kits or one; whole adds retired lots and checks.
func (db *DB) readKits(ctx context.Context, id string, whole bool) ([]tank.Kit, error) {
	var kits []tank.Kit
	at := map[string]int{}
	type place struct{ kit, lot int }
	lots := map[string]place{}
	var b pgx.Batch
	b.Queue(`SELECT `+kitColumns+` FROM kit k WHERE $1 = '' OR k.id = NULLIF($1, '')::uuid ORDER BY k.archived_at IS NOT NULL, k.created_at, k.name`, id).Query(func(rows pgx.Rows) (err error) {
		kits, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (tank.Kit, error) { return scanKit(row) })
		for i, k := range kits {
			at[k.ID] = i
		}
		return err
	})
	b.Queue(`SELECT kit, label, lo, hi FROM kit_class WHERE $1 = '' OR kit = NULLIF($1, '')::uuid ORDER BY kit, ord`, id).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			kit, c, err := scanClass(rows)
			if err != nil {
				return err
			}
			if i, ok := at[kit]; ok {
				kits[i].Classes = append(kits[i].Classes, c)
			}
		}
		return rows.Err()
	})
	b.Queue(`
SELECT l.id, l.kit, l.lot, l.opened_on, l.expires_on, l.keeper, s.name, l.retired_at FROM kit_lot l LEFT JOIN staff s ON s.id = l.keeper
WHERE ($1 = '' OR l.kit = NULLIF($1, '')::uuid) AND ($2 OR l.retired_at IS NULL)
ORDER BY l.retired_at IS NOT NULL, l.opened_on DESC NULLS LAST, l.created_at DESC, l.id`, id, whole).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var l tank.Lot
			if err := rows.Scan(&l.ID, &l.Kit, &l.Lot, maybeDay(&l.Opened), maybeDay(&l.Expires), textOr(&l.Keeper), textOr(&l.KeeperName), maybeTime(&l.Retired)); err != nil {
				return err
			}
			if i, ok := at[l.Kit]; ok {
				lots[l.ID] = place{i, len(kits[i].Lots)}
				kits[i].Lots = append(kits[i].Lots, l)
			}
		}
		return rows.Err()
	})
	if whole {
		b.Queue(`
SELECT c.id, c.lot, c.at, c.against, c.read, c.calibrated, s.name
FROM meter_check c JOIN kit_lot l ON l.id = c.lot LEFT JOIN staff s ON s.id = c.staff
WHERE l.kit = $1 ORDER BY c.at DESC, c.id DESC LIMIT 200`, id).Query(func(rows pgx.Rows) error {
			for rows.Next() {
				var c tank.MeterCheck
				if err := rows.Scan(&c.ID, &c.Lot, &c.At, &c.Against, &c.Read, &c.Calibrated, textOr(&c.Author)); err != nil {
					return err
				}
				if p, ok := lots[c.Lot]; ok {
					l := &kits[p.kit].Lots[p.lot]
					l.Checks = append(l.Checks, c)
				}
			}
			return rows.Err()
		})
	}
	return kits, asFault(db.pool.SendBatch(ctx, &b).Close())
}

// MakeKit makes a kind of kit or meter and returns its id.
func (db *DB) MakeKit(ctx context.Context, by string, k tank.Kit) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) (err error) {
		id, err = CreateKit(ctx, tx, by, k)
		return err
	})
	return id, err
}

// KeepLot keeps a new lot of a kit.
func (db *DB) KeepLot(ctx context.Context, by string, l tank.Lot) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		_, err := AddLot(ctx, tx, by, l)
		return err
	})
}

// RecordMeterCheck keeps a check of a lot.
func (db *DB) RecordMeterCheck(ctx context.Context, by string, c tank.MeterCheck) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		_, err := AddMeterCheck(ctx, tx, by, c)
		return err
	})
}

// RetireLot takes a lot out of use, or back into it. Readings keep naming it.
func (db *DB) RetireLot(ctx context.Context, by, lot string, retired bool) error {
	if !ValidID(lot) {
		return errNoKit()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE kit_lot SET retired_at = CASE WHEN $2 THEN COALESCE(retired_at, $3) END WHERE id = $1`, lot, retired, tx.Now)
		if err != nil {
			return asFault(err)
		}
		if tag.RowsAffected() == 0 {
			return errNoKit()
		}
		return Audit(ctx, tx, by, "retired", "kit lot", lot, nil, map[string]any{"Retired": retired})
	})
}

// ArchiveKit takes a kit out of use with all its lots, or back into it.
func (db *DB) ArchiveKit(ctx context.Context, by, kit string, archived bool) error {
	return db.archive(ctx, by, "kit", kit, archived, errNoKit)
}

// ArchiveProfile takes a profile out of the choices, or back into them. Tanks
// that are held to it stay so.
func (db *DB) ArchiveProfile(ctx context.Context, by, profile string, archived bool) error {
	return db.archive(ctx, by, "profile", profile, archived, errNoProfile)
}

// archive sets archived_at of a row of one of our own tables.
func (db *DB) archive(ctx context.Context, by, table, id string, archived bool, none func() error) error {
	if !ValidID(id) {
		return none()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE `+table+` SET archived_at = CASE WHEN $2 THEN COALESCE(archived_at, $3) END WHERE id = $1`, id, archived, tx.Now)
		if err != nil {
			return asFault(err)
		}
		if tag.RowsAffected() == 0 {
			return none()
		}
		return Audit(ctx, tx, by, "archived", table, id, nil, map[string]any{"Archived": archived})
	})
}
