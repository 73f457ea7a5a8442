package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/staff"
)

const staffColumns = `staff.id, staff.email, staff.name, staff.role, staff.phone, coalesce(staff.units, ''), staff.epoch, staff.deactivated_at IS NOT NULL, staff.row_version`

// staffFields are the places that staffColumns are scanned into.
func staffFields(p *staff.Person) []any {
	return []any{&p.ID, &p.Email, &p.Name, &p.Role, &p.Phone, &p.Units, &p.Epoch, &p.Deactivated, &p.Version}
}

func scanStaff(row pgx.Row, more ...any) (p staff.Person, err error) {
	err = asFault(row.Scan(append(staffFields(&p), more...)...))
	return p, err
}

func noSuchPerson() error { return fault.New(fault.NotFound, "There is no such person.") }

// Person returns one member of the staff, also one who has left.
func (db *DB) Person(ctx context.Context, id string) (staff.Person, error) {
	if !ValidID(id) {
		return staff.Person{}, noSuchPerson()
	}
	return scanStaff(db.pool.QueryRow(ctx, `SELECT `+staffColumns+` FROM staff WHERE id = $1`, id))
}

// PersonByEmail returns who signs in with the address, and the hash of their
// password.
func (db *DB) PersonByEmail(ctx context.Context, email string) (p staff.Person, hash string, err error) {
	p, err = scanStaff(db.pool.QueryRow(ctx, `SELECT `+staffColumns+`, staff.password_hash FROM staff WHERE email_folded = $1`, staff.FoldEmail(email)), &hash)
	return p, hash, err
}

// People returns everybody, those who are there first, by name.
func (db *DB) People(ctx context.Context) ([]staff.Listed, error) {
	const q = `
		SELECT ` + staffColumns + `, (SELECT max(seen_at) FROM sign_in WHERE sign_in.staff = staff.id)
		FROM staff ORDER BY deactivated_at IS NOT NULL, lower(name), id`
	rows, err := db.pool.Query(ctx, q)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (l staff.Listed, err error) {
		var seen *time.Time
		l.Person, err = scanStaff(row, &seen)
		if seen != nil {
			l.LastSeen = *seen
		}
		return l, err
	})
	return list, asFault(err)
}

// AddPerson makes a member of the staff with a hashed password. by is empty
// where the program does it.
func (db *DB) AddPerson(ctx context.Context, by string, d staff.Draft, hash string) (p staff.Person, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		p, err = tx.AddPerson(ctx, by, d, hash)
		return err
	})
	return p, err
}

// AddPerson is DB.AddPerson within a transaction.
func (t Tx) AddPerson(ctx context.Context, by string, d staff.Draft, hash string) (staff.Person, error) {
	const q = `
		INSERT INTO staff (id, name, email, email_folded, role, password_hash, created_at, updated_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $7) RETURNING ` + staffColumns
	p, err := scanStaff(t.QueryRow(ctx, q, NewID(), d.Name, d.Email, staff.FoldEmail(d.Email), d.Role, hash, t.Now))
	if err != nil {
		return p, err
	}
	return p, Audit(ctx, t, by, "added", "staff", p.ID, nil, personAudit(p))
}

func personAudit(p staff.Person) map[string]any {
	return map[string]any{"name": p.Name, "email": p.Email, "role": p.Role, "phone": p.Phone, "deactivated": p.Deactivated}
}

// changePerson locks a person, lets change say what to write, and notes it. The
// version is that of the form; 0 for a change that overwrites nothing. A change
// that would leave the shop without an owner is refused.
func (db *DB) changePerson(ctx context.Context, by, id string, version int, verb string, change func(ctx context.Context, tx Tx, p staff.Person) error) (after staff.Person, err error) {
	if !ValidID(id) {
		return after, noSuchPerson()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		// The owners are locked first and in one order, so that two of them
		// cannot each take away the other's role at the same moment.
		if _, err := tx.Exec(ctx, `SELECT id FROM staff WHERE role = 'owner' ORDER BY id FOR UPDATE`); err != nil {
			return asFault(err)
		}
		before, err := scanStaff(tx.QueryRow(ctx, `SELECT `+staffColumns+` FROM staff WHERE id = $1 FOR UPDATE`, id))
		if err != nil {
			return err
		}
		if version != 0 && version != before.Version {
			return changedMeanwhile(before.Name + " was")
		}
		if err := change(ctx, tx, before); err != nil {
			return err
		}
		const q = `UPDATE staff SET updated_at = $2, row_version = row_version + 1 WHERE id = $1 RETURNING ` + staffColumns
		if after, err = scanStaff(tx.QueryRow(ctx, q, id, tx.Now)); err != nil {
			return err
		}
		var owners int
		if err := tx.QueryRow(ctx, `SELECT count(*) FROM staff WHERE role = 'owner' AND deactivated_at IS NULL`).Scan(&owners); err != nil {
			return asFault(err)
		}
		if owners == 0 {
			return lastOwner()
		}
		return Audit(ctx, tx, by, verb, "staff", id, personAudit(before), personAudit(after))
	})
	return after, err
}

func lastOwner() error {
	const text = "The shop needs at least one owner who can sign in. Make somebody else an owner first."
	return &fault.Error{Kind: fault.Invalid, Code: "last-owner", Msg: text, Fields: fault.Fields{{Name: "role", Kind: fault.Impossible, Text: text}}}
}

// ChangePerson writes name, address and role. A new role ends the person's
// sign-ins.
func (db *DB) ChangePerson(ctx context.Context, by, id string, version int, d staff.Draft) (staff.Person, error) {
	return db.changePerson(ctx, by, id, version, "changed", func(ctx context.Context, tx Tx, p staff.Person) error {
		const q = `
			UPDATE staff SET name = $2, email = $3, email_folded = $4, role = $5,
				epoch = epoch + CASE WHEN role <> $5 THEN 1 ELSE 0 END
			WHERE id = $1`
		_, err := tx.Exec(ctx, q, id, d.Name, d.Email, staff.FoldEmail(d.Email), d.Role)
		return asFault(err)
	})
}

// ChangeOwnDetails writes what a person says of themselves.
func (db *DB) ChangeOwnDetails(ctx context.Context, id string, version int, name, phone string, units say.System) (staff.Person, error) {
	return db.changePerson(ctx, id, id, version, "changed", func(ctx context.Context, tx Tx, _ staff.Person) error {
		_, err := tx.Exec(ctx, `UPDATE staff SET name = $2, phone = $3, units = $4 WHERE id = $1`, id, name, phone, nullText(string(units)))
		return asFault(err)
	})
}

// SetActive lets a person sign in or no longer. Deactivation ends their
// sign-ins; what they did stays.
func (db *DB) SetActive(ctx context.Context, by, id string, active bool) (staff.Person, error) {
	verb := "deactivated"
	if active {
		verb = "reactivated"
	}
	return db.changePerson(ctx, by, id, 0, verb, func(ctx context.Context, tx Tx, p staff.Person) error {
		if p.Deactivated == !active {
			return nil
		}
		const q = `UPDATE staff SET deactivated_at = CASE WHEN $2 THEN NULL ELSE $3::timestamptz END, epoch = epoch + 1 WHERE id = $1`
		_, err := tx.Exec(ctx, q, id, active, tx.Now)
		return asFault(err)
	})
}

// PasswordHash returns the hash of a person's password.
func (db *DB) PasswordHash(ctx context.Context, id string) (hash string, err error) {
	err = db.pool.QueryRow(ctx, `SELECT password_hash FROM staff WHERE id = $1`, id).Scan(&hash)
	return hash, asFault(err)
}

// SetPassword writes a new hash and ends the person's sign-ins: the epoch that
// comes back is the one of sessions from now on.
func (db *DB) SetPassword(ctx context.Context, by, id, hash string) (staff.Person, error) {
	return db.changePerson(ctx, by, id, 0, "changed the password of", func(ctx context.Context, tx Tx, _ staff.Person) error {
		_, err := tx.Exec(ctx, `UPDATE staff SET password_hash = $2, epoch = epoch + 1 WHERE id = $1`, id, hash)
		return asFault(err)
	})
}
