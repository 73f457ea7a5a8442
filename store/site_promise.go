package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

const promiseColumns = `p.id, p.site, p.day, p.from_minute, p.to_minute, p.to_whom`

func scanPromise(row pgx.Row) (p due.Promise, err error) {
	err = row.Scan(&p.ID, &p.Site, day(&p.Day), &p.From, &p.To, &p.ToWhom)
	return p, asFault(err)
}

func errNoPromise() error { return fault.New(fault.NotFound, "There is no such promise.") }

// SitePromises lists what a site was promised for the day and later.
func (db *DB) SitePromises(ctx context.Context, site string, since q.Date) ([]due.Promise, error) {
	if !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, `SELECT `+promiseColumns+` FROM site_promise p WHERE p.site = $1 AND p.day >= $2 AND p.withdrawn_at IS NULL ORDER BY p.day, p.from_minute, p.id`, site, since.Midnight())
	return collect(rows, err, scanPromise)
}

func promises(ctx context.Context, from Querier, first, last q.Date) ([]due.Promise, error) {
	rows, err := from.Query(ctx, `SELECT `+promiseColumns+` FROM site_promise p WHERE p.day BETWEEN $1 AND $2 AND p.withdrawn_at IS NULL ORDER BY p.day, p.from_minute, p.id`, first.Midnight(), last.Midnight())
	return collect(rows, err, scanPromise)
}

// AddPromise keeps what was promised to a site and returns its id.
func (db *DB) AddPromise(ctx context.Context, by string, p due.Promise) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddPromise(ctx, tx, by, p)
		return err
	})
	return id, err
}

// AddPromise is DB.AddPromise within a transaction.
func AddPromise(ctx context.Context, tx Tx, by string, p due.Promise) (string, error) {
	if _, err := lockSite(ctx, tx, p.Site); err != nil {
		return "", err
	}
	id := NewID()
	const sql = `INSERT INTO site_promise (id, site, day, from_minute, to_minute, to_whom, made_by, made_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`
	if _, err := tx.Exec(ctx, sql, id, p.Site, p.Day.Midnight(), p.From, p.To, p.ToWhom, nullText(by), tx.Now); err != nil {
		return "", err
	}
	return id, Audit(ctx, tx, by, "promised", "site", p.Site, nil, map[string]any{"promise": id, "day": p.Day.String(), "time": p.Text(), "to": p.ToWhom})
}

// WithdrawPromise takes a promise back, or lets it count again, and returns it.
func (db *DB) WithdrawPromise(ctx context.Context, by, id string, off bool) (p due.Promise, err error) {
	if !ValidID(id) {
		return p, errNoPromise()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		p, err = scanPromise(tx.QueryRow(ctx, `UPDATE site_promise p SET withdrawn_at = CASE WHEN $2 THEN $3::timestamptz END WHERE id = $1 RETURNING `+promiseColumns, id, off, tx.Now))
		if fault.Is(err, fault.NotFound) {
			return errNoPromise()
		}
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "took back", false: "brought back"}[off], "promise", id, nil, nil)
	})
	return p, err
}
