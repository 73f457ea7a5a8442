package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
)

const contactNoteSelect = `SELECT n.id, n.customer, n.at, p.name, n.they_said, n.we_said
	FROM contact_note n JOIN staff p ON p.id = n.staff WHERE n.customer = $1 ORDER BY n.at DESC, n.id DESC LIMIT $2`

func scanContactNote(row pgx.Row) (n customer.ContactNote, err error) {
	err = row.Scan(&n.ID, &n.Customer, &n.At, &n.Staff, &n.TheySaid, &n.WeSaid)
	return n, asFault(err)
}

// ContactNotes lists what was said with a customer, the newest first, at most so
// many.
func (db *DB) ContactNotes(ctx context.Context, id string, most int) ([]customer.ContactNote, error) {
	if !ValidID(id) {
		return nil, errNoCustomer()
	}
	rows, err := db.pool.Query(ctx, contactNoteSelect, id, most)
	return collect(rows, err, scanContactNote)
}

// AddContactNote keeps what was said and returns its id. n.ID may name the id to
// keep it under, so that a form that is sent twice is kept once; a form sent
// again with other words is another note. It was said just now unless n.At says
// otherwise.
func (db *DB) AddContactNote(ctx context.Context, by string, n customer.ContactNote) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddContactNote(ctx, tx, by, n)
		return err
	})
	return id, err
}

// AddContactNote is DB.AddContactNote within a transaction.
func AddContactNote(ctx context.Context, tx Tx, by string, n customer.ContactNote) (string, error) {
	if !ValidID(n.ID) {
		n.ID = NewID()
	}
	if n.At.IsZero() {
		n.At = tx.Now
	}
	c, err := lockCustomer(ctx, tx, n.Customer)
	if err != nil {
		return "", err
	}
	if c.ErasedAt.OK {
		return "", fault.New(fault.Conflict, "This customer was erased; nothing more is kept about them.")
	}
	var there, same bool
	const look = `SELECT count(*) > 0, coalesce(bool_and(customer = $2 AND they_said = $3 AND we_said = $4), false) FROM contact_note WHERE id = $1`
	if err := tx.QueryRow(ctx, look, n.ID, n.Customer, n.TheySaid, n.WeSaid).Scan(&there, &same); err != nil || same {
		return n.ID, asFault(err)
	}
	if there {
		n.ID = NewID()
	}
	const sql = `INSERT INTO contact_note (id, customer, at, staff, they_said, we_said) VALUES ($1, $2, $3, $4, $5, $6)`
	if _, err := tx.Exec(ctx, sql, n.ID, n.Customer, n.At, by, n.TheySaid, n.WeSaid); err != nil {
		return "", asFault(err)
	}
	return n.ID, Audit(ctx, tx, by, "added", "contact note", n.ID, nil, map[string]any{"they_said": n.TheySaid, "we_said": n.WeSaid, "customer": n.Customer})
}
