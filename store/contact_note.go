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
		return nil, noCustomer()
	}
	rows, err := db.pool.Query(ctx, contactNoteSelect, id, most)
	return collect(rows, err, scanContactNote)
}

// AddContactNote keeps what was said just now and returns its id. n.ID may name
// the id to keep it under, so that a form that is sent twice is kept once; a
// form sent again with other words is another note.
func (db *DB) AddContactNote(ctx context.Context, by string, n customer.ContactNote) (id string, err error) {
	id = n.ID
	if !ValidID(id) {
		id = NewID()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		c, err := lockCustomer(ctx, tx, n.Customer)
		if err != nil {
			return err
		}
		if c.ErasedAt.OK {
			return fault.New(fault.Conflict, "This customer was erased; nothing more is kept about them.")
		}
		var there, same bool
		const look = `SELECT count(*) > 0, coalesce(bool_and(customer = $2 AND they_said = $3 AND we_said = $4), false) FROM contact_note WHERE id = $1`
		if err := tx.QueryRow(ctx, look, id, n.Customer, n.TheySaid, n.WeSaid).Scan(&there, &same); err != nil || same {
			return err
		}
		if there {
			id = NewID()
		}
		const sql = `INSERT INTO contact_note (id, customer, at, staff, they_said, we_said) VALUES ($1, $2, $3, $4, $5, $6)`
		if _, err := tx.Exec(ctx, sql, id, n.Customer, tx.Now, by, n.TheySaid, n.WeSaid); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "add", "contact_note", id, nil, map[string]any{"they_said": n.TheySaid, "we_said": n.WeSaid, "customer": n.Customer})
	})
	return id, err
}
