package store

import (
	"context"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
)

const customerColumns = `c.id, c.name, c.kind, c.language, c.phones, c.email, c.notes, c.archived_at, c.erased_at, c.row_version`

func scanCustomer(row pgx.Row) (c customer.Customer, err error) {
	err = row.Scan(&c.ID, &c.Name, &c.Kind, &c.Language, &c.Phones, &c.Email, &c.Notes, maybeTime(&c.ArchivedAt), maybeTime(&c.ErasedAt), &c.Version)
	return c, asFault(err)
}

// Customer returns one customer, archived or not; NotFound where there is none.
func (db *DB) Customer(ctx context.Context, id string) (customer.Customer, error) {
	if !ValidID(id) {
		return customer.Customer{}, errNoCustomer()
	}
	c, err := scanCustomer(db.pool.QueryRow(ctx, `SELECT `+customerColumns+` FROM customer c WHERE c.id = $1`, id))
	return c, orNoCustomer(err)
}

func errNoCustomer() error { return fault.New(fault.NotFound, "There is no such customer.") }

func orNoCustomer(err error) error {
	if fault.Is(err, fault.NotFound) {
		return errNoCustomer()
	}
	return err
}

// AddCustomer keeps a new customer and returns its id.
func (db *DB) AddCustomer(ctx context.Context, by string, c customer.Customer) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddCustomer(ctx, tx, by, c)
		return err
	})
	return id, err
}

// AddCustomer is DB.AddCustomer within a transaction.
func AddCustomer(ctx context.Context, tx Tx, by string, c customer.Customer) (string, error) {
	id := NewID()
	const sql = `INSERT INTO customer (id, name, kind, language, phones, email, notes, search, sort_key, created_at, updated_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $10)`
	if _, err := tx.Exec(ctx, sql, id, c.Name, c.Kind, c.Language, orNone(c.Phones), c.Email, c.Notes, customerSearch(c), SortKey(c.Name), tx.Now); err != nil {
		return "", asFault(err)
	}
	return id, Audit(ctx, tx, by, "added", "customer", id, nil, customerFacts(c))
}

// EditCustomer changes a customer. c.Version is the one that was edited: where
// it is not the newest the answer is a Conflict and nothing is changed.
func (db *DB) EditCustomer(ctx context.Context, by string, c customer.Customer) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockCustomer(ctx, tx, c.ID)
		switch {
		case err != nil:
			return err
		case was.ErasedAt.OK:
			return fault.New(fault.Conflict, "This customer was erased; there is nothing left to edit.")
		case was.Version != c.Version:
			return editedMeanwhile()
		}
		before, after := differing(customerFacts(was), customerFacts(c))
		if len(after) == 0 {
			return nil
		}
		const sql = `UPDATE customer SET name = $2, kind = $3, language = $4, phones = $5, email = $6, notes = $7, search = $8, sort_key = $9,
			row_version = row_version + 1, updated_at = $10 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, c.ID, c.Name, c.Kind, c.Language, orNone(c.Phones), c.Email, c.Notes, customerSearch(c), SortKey(c.Name), tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "customer", c.ID, before, after)
	})
}

// ArchiveCustomer takes a customer out of the lists, or puts it back. Doing so
// twice is no fault.
func (db *DB) ArchiveCustomer(ctx context.Context, by, id string, archived bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockCustomer(ctx, tx, id)
		switch {
		case err != nil:
			return err
		case was.ErasedAt.OK:
			return fault.New(fault.Conflict, "This customer was erased and stays archived.")
		case was.ArchivedAt.OK == archived:
			return nil
		}
		const sql = `UPDATE customer SET archived_at = CASE WHEN $2 THEN $3::timestamptz END, row_version = row_version + 1, updated_at = $3 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, archived, tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, archiving(archived), "customer", id, nil, nil)
	})
}

func lockCustomer(ctx context.Context, tx Tx, id string) (customer.Customer, error) {
	if !ValidID(id) {
		return customer.Customer{}, errNoCustomer()
	}
	c, err := scanCustomer(tx.QueryRow(ctx, `SELECT `+customerColumns+` FROM customer c WHERE c.id = $1 FOR UPDATE`, id))
	return c, orNoCustomer(err)
}

func archiving(archived bool) string {
	if archived {
		return "archived"
	}
	return "brought back"
}

// editedMeanwhile is what the second of two editors is told.
func editedMeanwhile() error {
	return &fault.Error{Kind: fault.Conflict, Code: "edited-meanwhile",
		Msg: "Somebody else changed this after you had opened it. Beside each field that differs stands what it says now. What you typed is still here; save again to keep it."}
}

// customerSearch is what a customer is found by: name, address of e-mail, and
// the digits of each phone.
func customerSearch(c customer.Customer) string {
	parts := []string{Fold(c.Name), Fold(c.Email)}
	for _, p := range c.Phones {
		parts = append(parts, customer.Digits(p))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

func customerFacts(c customer.Customer) map[string]any {
	return map[string]any{"name": c.Name, "kind": string(c.Kind), "language": c.Language, "phones": strings.Join(c.Phones, ", "), "email": c.Email, "notes": c.Notes}
}

// differing keeps of two records the facts in which they differ.
func differing(before, after map[string]any) (was, is map[string]any) {
	was, is = map[string]any{}, map[string]any{}
	for name, now := range after {
		if then := before[name]; then != now {
			was[name], is[name] = then, now
		}
	}
	return was, is
}

// orNone is an empty list where there is none: the column is never null.
func orNone(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
