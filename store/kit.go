package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

func scanClass(row pgx.CollectableRow) (kit string, c tank.Class, err error) {
	err = row.Scan(&kit, &c.Label, &c.Lo, maybe(&c.Hi))
	return kit, c, err
}

// CreateKit makes a type of kit or meter, with its printed classes where it has
// them, and returns its id. It cannot be changed afterwards.
func CreateKit(ctx context.Context, tx Tx, by string, k tank.Kit) (string, error) {
	if k.ID == "" {
		k.ID = NewID()
	}
	var b pgx.Batch
	b.Queue(`INSERT INTO kit (id, name, measures, type, unit, step, sd, floor, sample_ml, created_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		k.ID, k.Name, k.Measures, k.Type, k.Unit, null(k.Step), null(k.SD), null(k.Floor), null(k.SampleML), tx.Now)
	for i, c := range k.Classes {
		b.Queue(`INSERT INTO kit_class (kit, ord, label, lo, hi) VALUES ($1, $2, $3, $4, $5)`, k.ID, i, c.Label, c.Lo, null(c.Hi))
	}
	if err := tx.SendBatch(ctx, &b).Close(); err != nil {
		return "", asFault(err)
	}
	return k.ID, Audit(ctx, tx, by, "made", "kit", k.ID, nil, k)
}

// AddLot writes down one box of a kit, or one meter, and returns its id.
func AddLot(ctx context.Context, tx Tx, by string, l tank.Lot) (string, error) {
	if !ValidID(l.Kit) {
		return "", errNoKit()
	}
	if l.ID == "" {
		l.ID = NewID()
	}
	tag, err := tx.Exec(ctx, `
INSERT INTO kit_lot (id, kit, lot, opened_on, expires_on, keeper, created_at)
SELECT $1, id, $3, $4, $5, $6, $7 FROM kit WHERE id = $2`,
		l.ID, l.Kit, l.Lot, null(l.Opened), null(l.Expires), nullText(l.Keeper), tx.Now)
	if err != nil {
		return "", asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return "", errNoKit()
	}
	return l.ID, Audit(ctx, tx, by, "added", "kit lot", l.ID, nil, l)
}

// AddMeterCheck writes down that an instrument was held against a known value,
// and returns the check's id.
func AddMeterCheck(ctx context.Context, tx Tx, by string, c tank.MeterCheck) (string, error) {
	if !ValidID(c.Lot) {
		return "", errNoKit()
	}
	if c.ID == "" {
		c.ID = NewID()
	}
	tag, err := tx.Exec(ctx, `
INSERT INTO meter_check (id, lot, at, against, read, calibrated, staff)
SELECT $1, id, $3, $4, $5, $6, $7 FROM kit_lot WHERE id = $2`, c.ID, c.Lot, c.At.UTC(), c.Against, c.Read, c.Calibrated, nullText(by))
	if err != nil {
		return "", asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return "", errNoKit()
	}
	return c.ID, Audit(ctx, tx, by, "checked", "kit lot", c.Lot, nil, c)
}
