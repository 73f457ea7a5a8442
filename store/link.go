package store

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/share"
)

const linkColumns = `link.id, link.tank::text, link.site::text, link.generation, link.made_at, coalesce(link.expires_at, '0001-01-01Z'), coalesce(link.revoked_at, '0001-01-01Z')`

func scanLink(row pgx.Row) (l share.Link, err error) {
	err = row.Scan(&l.ID, textOr(&l.Tank), textOr(&l.Site), &l.Generation, &l.Made, &l.Expires, &l.Revoked)
	return l, err
}

func errNoLink() error { return fault.New(fault.NotFound, "This link leads nowhere any more.") }

// LinkByID returns a link, also one that is over.
func (db *DB) LinkByID(ctx context.Context, id string) (share.Link, error) {
	if !ValidID(id) {
		return share.Link{}, errNoLink()
	}
	l, err := scanLink(db.pool.QueryRow(ctx, `SELECT `+linkColumns+` FROM link WHERE id = $1`, id))
	if errors.Is(err, pgx.ErrNoRows) {
		return l, errNoLink()
	}
	return l, asFault(err)
}

// TankLink returns the tank's living link, and makes one where there is none.
func (db *DB) TankLink(ctx context.Context, by, tankID string) (l share.Link, err error) {
	if !ValidID(tankID) {
		return l, errNoTank()
	}
	l, err = scanLink(db.pool.QueryRow(ctx, `SELECT `+linkColumns+` FROM link WHERE tank = $1 AND revoked_at IS NULL`, tankID))
	if !errors.Is(err, pgx.ErrNoRows) {
		return l, asFault(err)
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockTank(ctx, tx, tankID); err != nil {
			return err
		}
		const insert = `INSERT INTO link (id, tank, made_by, made_at) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING`
		if _, err := tx.Exec(ctx, insert, NewID(), tankID, nullText(by), tx.Now); err != nil {
			return err
		}
		l, err = scanLink(tx.QueryRow(ctx, `SELECT `+linkColumns+` FROM link WHERE tank = $1 AND revoked_at IS NULL`, tankID))
		return err
	})
	return l, err
}

// RenewLink ends every printed and sent address of a tank's link; the next one
// printed leads to the same sheets.
func (db *DB) RenewLink(ctx context.Context, by, tankID string) error {
	if !ValidID(tankID) {
		return errNoTank()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		var id string
		err := tx.QueryRow(ctx, `UPDATE link SET generation = generation + 1 WHERE tank = $1 AND revoked_at IS NULL RETURNING id`, tankID).Scan(&id)
		if errors.Is(err, pgx.ErrNoRows) {
			return errNoLink()
		}
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, "renew", "link", id, nil, nil)
	})
}

// NoteOpen notes that somebody looked at a sheet through a link, at most once
// an hour for each.
func (db *DB) NoteOpen(ctx context.Context, link, sheet string) error {
	const q = `INSERT INTO link_open (link, sheet, at) SELECT $1, $2, $3::timestamptz
		WHERE NOT EXISTS (SELECT 1 FROM link_open WHERE link = $1 AND sheet = $2 AND at > $3::timestamptz - interval '1 hour')`
	_, err := db.pool.Exec(ctx, q, link, sheet, db.Now())
	return asFault(err)
}
