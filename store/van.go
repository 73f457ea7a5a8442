package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
)

const vanColumns = `van.id, van.name, van.water_l, van.cylinders, van.note, van.archived_at IS NOT NULL, van.row_version`

func scanVan(row pgx.Row) (v due.Van, err error) {
	err = row.Scan(&v.ID, &v.Name, maybe(&v.Water), maybeInt(&v.Cylinders), &v.Note, &v.Archived, &v.Version)
	return v, asFault(err)
}

func errNoVan() error { return fault.New(fault.NotFound, "There is no such van.") }

// Vans lists the shop's vans, those that are gone last.
func (db *DB) Vans(ctx context.Context) ([]due.Van, error) {
	rows, err := db.pool.Query(ctx, `SELECT `+vanColumns+` FROM van ORDER BY archived_at IS NOT NULL, lower(name), id`)
	return collect(rows, err, scanVan)
}

// Van returns one van.
func (db *DB) Van(ctx context.Context, id string) (due.Van, error) {
	if !ValidID(id) {
		return due.Van{}, errNoVan()
	}
	v, err := scanVan(db.pool.QueryRow(ctx, `SELECT `+vanColumns+` FROM van WHERE id = $1`, id))
	if fault.Is(err, fault.NotFound) {
		err = errNoVan()
	}
	return v, err
}

// AddVan keeps a new van and returns its id.
func (db *DB) AddVan(ctx context.Context, by string, v due.Van) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddVan(ctx, tx, by, v)
		return err
	})
	return id, err
}

// AddVan is DB.AddVan within a transaction.
func AddVan(ctx context.Context, tx Tx, by string, v due.Van) (string, error) {
	id := NewID()
	const sql = `INSERT INTO van (id, name, water_l, cylinders, note, created_at) VALUES ($1, $2, $3, $4, $5, $6)`
	if _, err := tx.Exec(ctx, sql, id, v.Name, null(v.Water), null(v.Cylinders), v.Note, tx.Now); err != nil {
		return "", asFault(err)
	}
	return id, Audit(ctx, tx, by, "added", "van", id, nil, vanFacts(v))
}

// EditVan writes over v.Version; a Conflict where somebody was faster.
func (db *DB) EditVan(ctx context.Context, by string, v due.Van) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockRow(ctx, tx, "van", v.ID, errNoVan); err != nil {
			return err
		}
		was, err := scanVan(tx.QueryRow(ctx, `SELECT `+vanColumns+` FROM van WHERE id = $1`, v.ID))
		if err != nil {
			return err
		}
		if was.Version != v.Version {
			return changedMeanwhile(was.Name + " was")
		}
		const sql = `UPDATE van SET name = $2, water_l = $3, cylinders = $4, note = $5, row_version = row_version + 1 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, v.ID, v.Name, null(v.Water), null(v.Cylinders), v.Note); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "van", v.ID, vanFacts(was), vanFacts(v))
	})
}

// ArchiveVan puts a van away, or takes it up again. Whoever drove it drives
// none of the shop's until they get another.
func (db *DB) ArchiveVan(ctx context.Context, by, id string, archived bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockRow(ctx, tx, "van", id, errNoVan); err != nil {
			return err
		}
		const sql = `UPDATE van SET archived_at = CASE WHEN $2 THEN $3::timestamptz END, row_version = row_version + 1 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, archived, tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "archived", false: "brought back"}[archived], "van", id, nil, nil)
	})
}

func vanFacts(v due.Van) map[string]any {
	return map[string]any{"name": v.Name, "water_l": null(v.Water), "cylinders": null(v.Cylinders), "note": v.Note}
}
