package store

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
)

// How long a one-time address lives.
const (
	firstStartLife = time.Hour
	inviteLife     = 7 * 24 * time.Hour
	renewalLife    = 24 * time.Hour
)

const inviteColumns = `invite.id, invite.name, invite.role, coalesce(invite.for_staff::text, ''), invite.expires_at`

func scanInvite(row pgx.Row) (i staff.Invite, err error) {
	err = asFault(row.Scan(&i.ID, &i.Name, &i.Role, &i.For, &i.Expires))
	return i, err
}

// tokenHash is what is kept of a token. It is random enough (128 bits) to need
// neither salt nor slowness.
func tokenHash(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}

func deadAddress() error {
	return fault.New(fault.NotFound, "This address has been used, has expired or never existed. Ask for a new one.")
}

// OfferFirstStart makes the one-time token that leads to the owner's account; it
// lives an hour, and one made before is dead from now on. Conflict where the
// shop has an owner already.
func (db *DB) OfferFirstStart(ctx context.Context) (token string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := tx.noOwnerYet(ctx); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE invite SET expires_at = $1 WHERE made_by IS NULL AND used_at IS NULL AND expires_at > $1`, tx.Now); err != nil {
			return asFault(err)
		}
		token, _, err = tx.makeInvite(ctx, "", staff.Invite{Role: staff.Owner, Expires: tx.Now.Add(firstStartLife)})
		return err
	})
	return token, err
}

// NeedsFirstStart reports whether nobody owns the shop yet.
func (db *DB) NeedsFirstStart(ctx context.Context) (bool, error) {
	var owned bool
	err := db.pool.QueryRow(ctx, `SELECT EXISTS (SELECT FROM staff WHERE role = 'owner')`).Scan(&owned)
	return !owned, asFault(err)
}

func (t Tx) noOwnerYet(ctx context.Context) error {
	var owned bool
	// Two first starts at once: the second waits here and then sees the first.
	if _, err := t.Exec(ctx, `LOCK TABLE staff IN SHARE ROW EXCLUSIVE MODE`); err != nil {
		return asFault(err)
	}
	if err := t.QueryRow(ctx, `SELECT EXISTS (SELECT FROM staff WHERE role = 'owner')`).Scan(&owned); err != nil {
		return asFault(err)
	}
	if owned {
		return fault.New(fault.Conflict, "The shop has an owner already. Sign in instead.")
	}
	return nil
}

// makeInvite writes a one-time address and returns its token, which is nowhere
// else.
func (t Tx) makeInvite(ctx context.Context, by string, i staff.Invite) (token string, made staff.Invite, err error) {
	token = rand.Text()
	const q = `
		INSERT INTO invite (id, token_sha256, role, name, for_staff, made_by, made_at, expires_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8) RETURNING ` + inviteColumns
	made, err = scanInvite(t.QueryRow(ctx, q, NewID(), tokenHash(token), i.Role, i.Name, nullText(i.For), nullText(by), t.Now, i.Expires))
	return token, made, err
}

// InvitePerson makes a one-time token for somebody new; it lives a week.
func (db *DB) InvitePerson(ctx context.Context, by, name string, role staff.Role) (token string, made staff.Invite, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		token, made, err = tx.makeInvite(ctx, by, staff.Invite{Name: name, Role: role, Expires: tx.Now.Add(inviteLife)})
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, "invited", "invite", made.ID, nil, map[string]any{"name": name, "role": role})
	})
	return token, made, err
}

// RenewPassword makes a one-time token with which a person sets a new password;
// it lives a day, and others made for the same person are dead from now on.
func (db *DB) RenewPassword(ctx context.Context, by, person string) (token string, made staff.Invite, err error) {
	if !ValidID(person) {
		return "", made, noSuchPerson()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		p, err := scanStaff(tx.QueryRow(ctx, `SELECT `+staffColumns+` FROM staff WHERE id = $1 AND deactivated_at IS NULL FOR UPDATE`, person))
		if err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE invite SET expires_at = $2 WHERE for_staff = $1 AND used_at IS NULL AND expires_at > $2`, person, tx.Now); err != nil {
			return asFault(err)
		}
		token, made, err = tx.makeInvite(ctx, by, staff.Invite{Name: p.Name, Role: p.Role, For: person, Expires: tx.Now.Add(renewalLife)})
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, "offered a new password to", "staff", person, nil, nil)
	})
	return token, made, err
}

// Invites returns the one-time addresses of new people that still work.
func (db *DB) Invites(ctx context.Context) ([]staff.Invite, error) {
	const q = `
		SELECT ` + inviteColumns + ` FROM invite
		WHERE used_at IS NULL AND expires_at > $1 AND for_staff IS NULL AND made_by IS NOT NULL ORDER BY made_at`
	rows, err := db.pool.Query(ctx, q, db.Now())
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (staff.Invite, error) { return scanInvite(row) })
	return list, asFault(err)
}

// WithdrawInvite makes a one-time address dead before its time.
func (db *DB) WithdrawInvite(ctx context.Context, by, id string) error {
	if !ValidID(id) {
		return deadAddress()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE invite SET expires_at = $2 WHERE id = $1 AND used_at IS NULL AND expires_at > $2`, id, tx.Now)
		if err != nil {
			return asFault(err)
		}
		if tag.RowsAffected() == 0 {
			return deadAddress()
		}
		return Audit(ctx, tx, by, "withdrew", "invite", id, nil, nil)
	})
}

// InviteByToken returns the invite that a token opens; NotFound for a token that
// was used, has expired or never was. first says that it leads to the first
// owner's account.
func (db *DB) InviteByToken(ctx context.Context, token string) (i staff.Invite, first bool, err error) {
	i, first, err = openInvite(ctx, db.pool, token, db.Now(), "")
	return i, first, err
}

func openInvite(ctx context.Context, q Querier, token string, now time.Time, lock string) (i staff.Invite, first bool, err error) {
	const sql = `SELECT ` + inviteColumns + `, invite.made_by IS NULL FROM invite WHERE token_sha256 = $1 AND used_at IS NULL AND expires_at > $2 `
	err = asFault(q.QueryRow(ctx, sql+lock, tokenHash(token), now).Scan(&i.ID, &i.Name, &i.Role, &i.For, &i.Expires, &first))
	if fault.Is(err, fault.NotFound) {
		err = deadAddress()
	}
	return i, first, err
}

func (t Tx) useInvite(ctx context.Context, id, person string) error {
	_, err := t.Exec(ctx, `UPDATE invite SET used_at = $2, used_by = $3 WHERE id = $1`, id, t.Now, person)
	return asFault(err)
}

// FirstStart makes the shop and its owner, and uses the token up.
func (db *DB) FirstStart(ctx context.Context, token string, s shop.Settings, d staff.Draft, hash string) (p staff.Person, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := tx.noOwnerYet(ctx); err != nil {
			return err
		}
		i, first, err := openInvite(ctx, tx, token, tx.Now, "FOR UPDATE")
		if err != nil {
			return err
		}
		if !first {
			return deadAddress()
		}
		if err := tx.MakeShop(ctx, s); err != nil {
			return err
		}
		d.Role = staff.Owner
		if p, err = tx.AddPerson(ctx, "", d, hash); err != nil {
			return err
		}
		if _, err := SeedStandards(ctx, tx, "", LongAgo); err != nil {
			return err
		}
		return tx.useInvite(ctx, i.ID, p.ID)
	})
	return p, err
}

// AcceptInvite makes the account of somebody new, in the role that the owner
// chose, and uses the token up.
func (db *DB) AcceptInvite(ctx context.Context, token string, d staff.Draft, hash string) (p staff.Person, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		i, first, err := openInvite(ctx, tx, token, tx.Now, "FOR UPDATE")
		if err != nil {
			return err
		}
		if first || i.For != "" {
			return deadAddress()
		}
		d.Role = i.Role
		if p, err = tx.AddPerson(ctx, "", d, hash); err != nil {
			return err
		}
		return tx.useInvite(ctx, i.ID, p.ID)
	})
	return p, err
}

// AcceptRenewal writes the new password of the token's person, ends their
// sign-ins and uses the token up.
func (db *DB) AcceptRenewal(ctx context.Context, token, hash string) (p staff.Person, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		i, _, err := openInvite(ctx, tx, token, tx.Now, "FOR UPDATE")
		if err != nil {
			return err
		}
		const q = `
			UPDATE staff SET password_hash = $2, epoch = epoch + 1, updated_at = $3, row_version = row_version + 1
			WHERE id = $1 AND deactivated_at IS NULL RETURNING ` + staffColumns
		if p, err = scanStaff(tx.QueryRow(ctx, q, nullText(i.For), hash, tx.Now)); err != nil {
			return deadAddressFor(err)
		}
		if err := tx.useInvite(ctx, i.ID, p.ID); err != nil {
			return err
		}
		return Audit(ctx, tx, p.ID, "changed the password of", "staff", p.ID, nil, nil)
	})
	return p, err
}

func deadAddressFor(err error) error {
	if fault.Is(err, fault.NotFound) {
		return deadAddress()
	}
	return err
}
