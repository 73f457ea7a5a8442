package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

const awayColumns = `a.id, a.site, a.from_day, a.to_day, a.why, a.stand_in, a.withdrawn_at IS NOT NULL, a.row_version`

func scanAway(row pgx.Row) (a customer.Away, err error) {
	err = row.Scan(&a.ID, &a.Site, day(&a.From), day(&a.To), &a.Why, &a.StandIn, &a.Off, &a.Version)
	return a, asFault(err)
}

// SiteAways lists a site's absences that end on the day or later, the next first.
func (db *DB) SiteAways(ctx context.Context, site string, from q.Date) ([]customer.Away, error) {
	if !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, `SELECT `+awayColumns+` FROM site_away a
		WHERE a.site = $1 AND a.to_day >= $2 AND a.withdrawn_at IS NULL ORDER BY a.from_day, a.id`, site, from.Midnight())
	return collect(rows, err, scanAway)
}

// Away returns one absence, called off or not.
func (db *DB) Away(ctx context.Context, id string) (customer.Away, error) {
	if !ValidID(id) {
		return customer.Away{}, errNoAway()
	}
	a, err := scanAway(db.pool.QueryRow(ctx, `SELECT `+awayColumns+` FROM site_away a WHERE a.id = $1`, id))
	return a, orNoAway(err)
}

func errNoAway() error { return fault.New(fault.NotFound, "There is no such absence.") }

func orNoAway(err error) error {
	if fault.Is(err, fault.NotFound) {
		return errNoAway()
	}
	return err
}

// AddAway keeps an absence of a.Site and returns its id.
func (db *DB) AddAway(ctx context.Context, by string, a customer.Away) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddAway(ctx, tx, by, a)
		return err
	})
	return id, err
}

// AddAway is DB.AddAway within a transaction.
func AddAway(ctx context.Context, tx Tx, by string, a customer.Away) (string, error) {
	if _, err := lockSite(ctx, tx, a.Site); err != nil {
		return "", err
	}
	if err := alone(ctx, tx, a); err != nil {
		return "", err
	}
	id := NewID()
	const sql = `INSERT INTO site_away (id, site, from_day, to_day, why, stand_in) VALUES ($1, $2, $3, $4, $5, $6)`
	if _, err := tx.Exec(ctx, sql, id, a.Site, a.From.Midnight(), a.To.Midnight(), a.Why, a.StandIn); err != nil {
		return "", asFault(err)
	}
	return id, Audit(ctx, tx, by, "added", "absence", id, nil, awayFacts(a))
}

// alone refuses an absence that has a day in common with another of its site:
// whoever stands in would find two sheets, and feed twice. The site is locked.
func alone(ctx context.Context, tx Tx, a customer.Away) error {
	var taken bool
	const sql = `SELECT EXISTS (SELECT FROM site_away WHERE site = $1 AND withdrawn_at IS NULL AND id::text <> $2 AND from_day <= $4 AND to_day >= $3)`
	if err := tx.QueryRow(ctx, sql, a.Site, a.ID, a.From.Midnight(), a.To.Midnight()).Scan(&taken); err != nil || !taken {
		return err
	}
	return &fault.Error{Kind: fault.Invalid, Msg: "Another absence holds some of these days already.", Fields: fault.Fields{{Name: "from", Kind: fault.Taken,
		Text: "Another absence holds some of these days already. Change that one, or call it off first."}}}
}

// EditAway changes an absence. a.Version is the one that was edited: where it is
// not the newest the answer is a Conflict and nothing is changed.
func (db *DB) EditAway(ctx context.Context, by string, a customer.Away) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockAway(ctx, tx, a.ID)
		if err != nil {
			return err
		}
		if was.Version != a.Version {
			return editedMeanwhile()
		}
		before, after := differing(awayFacts(was), awayFacts(a))
		if len(after) == 0 {
			return nil
		}
		if a.Site = was.Site; !was.Off {
			if err := alone(ctx, tx, a); err != nil {
				return err
			}
		}
		const sql = `UPDATE site_away SET from_day = $2, to_day = $3, why = $4, stand_in = $5, row_version = row_version + 1 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, a.ID, a.From.Midnight(), a.To.Midnight(), a.Why, a.StandIn); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "absence", a.ID, before, after)
	})
}

// WithdrawAway calls an absence off, or lets it count again.
func (db *DB) WithdrawAway(ctx context.Context, by, id string, off bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockAway(ctx, tx, id)
		if err != nil {
			return err
		}
		if !off {
			if err := alone(ctx, tx, was); err != nil {
				return err
			}
		}
		const sql = `UPDATE site_away SET withdrawn_at = CASE WHEN $2 THEN $3::timestamptz END, row_version = row_version + 1
			WHERE id = $1 AND (withdrawn_at IS NOT NULL) <> $2`
		tag, err := tx.Exec(ctx, sql, id, off, tx.Now)
		if err != nil || tag.RowsAffected() == 0 {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "called off", false: "brought back"}[off], "absence", id, nil, nil)
	})
}

// lockAway locks an absence and the site that it is of, in this order everywhere:
// what is noted of a site at the same time must not overlap.
func lockAway(ctx context.Context, tx Tx, id string) (a customer.Away, err error) {
	if !ValidID(id) {
		return a, errNoAway()
	}
	if a, err = scanAway(tx.QueryRow(ctx, `SELECT `+awayColumns+` FROM site_away a WHERE a.id = $1`, id)); err != nil {
		return a, orNoAway(err)
	}
	if _, err = lockSite(ctx, tx, a.Site); err != nil {
		return a, err
	}
	a, err = scanAway(tx.QueryRow(ctx, `SELECT `+awayColumns+` FROM site_away a WHERE a.id = $1 FOR UPDATE`, id))
	return a, orNoAway(err)
}

func awayFacts(a customer.Away) map[string]any {
	return map[string]any{"from": a.From.String(), "to": a.To.String(), "why": a.Why, "stand_in": a.StandIn}
}

// collect reads all rows by a noun's scan function.
func collect[T any](rows pgx.Rows, err error, scan func(pgx.Row) (T, error)) ([]T, error) {
	if err != nil {
		return nil, asFault(err)
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		x, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, asFault(rows.Err())
}
