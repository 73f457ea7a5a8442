package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
)

const keySelect = `SELECT k.id, k.site, s.name, c.name, k.number, coalesce(k.holder::text, ''), coalesce(p.name, ''), k.out_at, k.in_at, k.retired_at
	FROM site_key k JOIN site s ON s.id = k.site JOIN customer c ON c.id = s.customer LEFT JOIN staff p ON p.id = k.holder`

func scanKey(row pgx.Row) (k customer.Key, err error) {
	err = row.Scan(&k.ID, &k.Site, &k.SiteName, &k.Customer, &k.Number, &k.Holder, &k.HolderName, maybeTime(&k.OutAt), maybeTime(&k.InAt), maybeTime(&k.RetiredAt))
	return k, asFault(err)
}

// SiteKeys lists the keys of one site that are not given up, by number.
func (db *DB) SiteKeys(ctx context.Context, site string) ([]customer.Key, error) {
	if !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, keySelect+` WHERE k.site = $1 AND k.retired_at IS NULL ORDER BY k.number COLLATE "C"`, site)
	return collect(rows, err, scanKey)
}

// Keys lists every key that is not given up: those that are out first, the
// longest out at the top, then those in the shop by number.
func (db *DB) Keys(ctx context.Context) ([]customer.Key, error) {
	rows, err := db.pool.Query(ctx, keySelect+` WHERE k.retired_at IS NULL ORDER BY k.holder IS NULL, CASE WHEN k.holder IS NOT NULL THEN k.out_at END, k.number COLLATE "C"`)
	return collect(rows, err, scanKey)
}

// Key returns one key, given up or not.
func (db *DB) Key(ctx context.Context, id string) (customer.Key, error) {
	if !ValidID(id) {
		return customer.Key{}, errNoKey()
	}
	k, err := scanKey(db.pool.QueryRow(ctx, keySelect+` WHERE k.id = $1`, id))
	return k, orNoKey(err)
}

func errNoKey() error { return fault.New(fault.NotFound, "There is no such key.") }

func orNoKey(err error) error {
	if fault.Is(err, fault.NotFound) {
		return errNoKey()
	}
	return err
}

// AddKey keeps a key that hangs in the shop and returns its id. A number that
// another key has is an Invalid fault of the field number.
func (db *DB) AddKey(ctx context.Context, by, site, number string) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddKey(ctx, tx, by, site, number)
		return err
	})
	return id, err
}

// AddKey is DB.AddKey within a transaction.
func AddKey(ctx context.Context, tx Tx, by, site, number string) (string, error) {
	if _, err := lockSite(ctx, tx, site); err != nil {
		return "", err
	}
	id := NewID()
	if _, err := tx.Exec(ctx, `INSERT INTO site_key (id, site, number, in_at) VALUES ($1, $2, $3, $4)`, id, site, number, tx.Now); err != nil {
		return "", asFault(err)
	}
	return id, Audit(ctx, tx, by, "added", "key", id, nil, map[string]any{"number": number, "site": site})
}

// TakeKey hands a key to a member of the staff. It may come from somebody else's
// hand: then both are in the audit.
func (db *DB) TakeKey(ctx context.Context, by, id, holder string) error {
	return db.moveKey(ctx, by, id, "handed out", func(ctx context.Context, tx Tx, was customer.Key) error {
		if !ValidID(holder) {
			return errNoHolder()
		}
		var active bool
		err := asFault(tx.QueryRow(ctx, `SELECT deactivated_at IS NULL FROM staff WHERE id = $1`, holder).Scan(&active))
		if fault.Is(err, fault.NotFound) || err == nil && !active {
			return errNoHolder()
		}
		if err != nil || was.Holder == holder {
			return err
		}
		_, err = tx.Exec(ctx, `UPDATE site_key SET holder = $2, out_at = $3 WHERE id = $1`, id, holder, tx.Now)
		return err
	})
}

func errNoHolder() error {
	return (fault.Fields{{Name: "holder", Kind: fault.NotChoice, Text: "Choose somebody who works here."}}).Err()
}

// ReturnKey hangs a key back in the shop.
func (db *DB) ReturnKey(ctx context.Context, by, id string) error {
	return db.moveKey(ctx, by, id, "returned", func(ctx context.Context, tx Tx, was customer.Key) error {
		if !was.Out() {
			return nil
		}
		_, err := tx.Exec(ctx, `UPDATE site_key SET holder = NULL, in_at = $2 WHERE id = $1`, id, tx.Now)
		return err
	})
}

// RetireKey notes that the shop has the key no more: it was given back to the
// customer or lost; retired false takes that back.
func (db *DB) RetireKey(ctx context.Context, by, id string, retired bool) error {
	verb := map[bool]string{true: "gave up", false: "brought back"}[retired]
	return db.moveKey(ctx, by, id, verb, func(ctx context.Context, tx Tx, was customer.Key) error {
		if was.RetiredAt.OK == retired {
			return nil
		}
		_, err := tx.Exec(ctx, `UPDATE site_key SET retired_at = CASE WHEN $2 THEN $3::timestamptz END WHERE id = $1`, id, retired, tx.Now)
		return err
	})
}

// moveKey locks the key, lets move change it, and writes down where it was and is.
func (db *DB) moveKey(ctx context.Context, by, id, verb string, move func(context.Context, Tx, customer.Key) error) error {
	if !ValidID(id) {
		return errNoKey()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := scanKey(tx.QueryRow(ctx, keySelect+` WHERE k.id = $1 FOR UPDATE OF k`, id))
		if err != nil {
			return orNoKey(err)
		}
		if was.RetiredAt.OK && verb != "brought back" && verb != "gave up" {
			return fault.New(fault.Conflict, "The shop has key %s no more.", was.Number)
		}
		if err := move(ctx, tx, was); err != nil {
			return err
		}
		is, err := scanKey(tx.QueryRow(ctx, keySelect+` WHERE k.id = $1`, id))
		if err != nil || is == was {
			return err
		}
		return Audit(ctx, tx, by, verb, "key", id, map[string]any{"holder": was.HolderName}, map[string]any{"holder": is.HolderName})
	})
}
