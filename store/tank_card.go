package store

import (
	"context"
	"math"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

const cardColumns = `t.id, t.name, t.state, t.set_up_on, t.ended_on, t.pinned, t.keep_apart_since, t.keep_apart_until, t.row_version`

func scanCard(row pgx.Row, more ...any) (c tank.Card, err error) {
	var pinned string
	err = row.Scan(append([]any{&c.ID, &c.Name, &c.State, maybeDay(&c.SetUpOn), maybeDay(&c.EndedOn), &pinned,
		maybeDay(&c.KeepApartSince), maybeDay(&c.KeepApartUntil), &c.Version}, more...)...)
	c.Pinned = lines(pinned)
	return c, err
}

// TankCard reads what is said of a tank once, and where it stands now.
func (db *DB) TankCard(ctx context.Context, id string) (tank.Card, error) {
	if !ValidID(id) {
		return tank.Card{}, errNoTank()
	}
	var p tank.Card
	c, err := scanCard(db.pool.QueryRow(ctx, `SELECT `+cardColumns+`, si.id, si.name, cu.id, cu.name FROM tank t`+tankPlace+` WHERE t.id = $1`, id),
		textOr(&p.Site), textOr(&p.SiteName), textOr(&p.Customer), textOr(&p.CustomerName))
	c.Site, c.SiteName, c.Customer, c.CustomerName = p.Site, p.SiteName, p.Customer, p.CustomerName
	return c, missing(err, errNoTank)
}

// missing is asFault with the noun's own sentence where there is no row.
func missing(err error, sentence func() error) error {
	if err == pgx.ErrNoRows {
		return sentence()
	}
	return asFault(err)
}

// ChangeCard writes name, state, site, set-up day, pinned lines and keeping
// apart. since is when a new state or a new site holds from; an empty site is
// the one it stands at. c.Version is the version that the form
// was drawn with; Conflict where the row has moved on.
func ChangeCard(ctx context.Context, tx Tx, by string, c tank.Card, since time.Time) error {
	if err := lockTank(ctx, tx, c.ID); err != nil {
		return err
	}
	var site string
	var stateSince, siteSince q.Opt[time.Time]
	was, err := scanCard(tx.QueryRow(ctx, `
SELECT `+cardColumns+`, ts.site, (SELECT max(since) FROM tank_state WHERE tank = t.id), (SELECT max(since) FROM tank_site WHERE tank = t.id)
FROM tank t`+tankPlace+` WHERE t.id = $1`, c.ID), textOr(&site), maybeTime(&stateSince), maybeTime(&siteSince))
	if err != nil {
		return asFault(err)
	}
	was.Site = site
	if was.Version != c.Version {
		return errEditedMeanwhile()
	}
	moved := c.Site != "" && c.Site != was.Site
	// What is older than the newest known would change nothing that is shown.
	if c.State != was.State && later(stateSince, since) || moved && later(siteSince, since) {
		return fault.Fields{{Name: "since", Kind: fault.Impossible, Text: "It was changed after that day already. Choose a later day."}}.Err()
	}
	_, err = tx.Exec(ctx, `
UPDATE tank SET name = $2, set_up_on = $3, pinned = $4, keep_apart_since = $5, keep_apart_until = $6, search = $7, sort_key = $8,
    row_version = row_version + 1, updated_at = $9
WHERE id = $1`, c.ID, c.Name, null(c.SetUpOn), strings.Join(c.Pinned, "\n"), null(c.KeepApartSince), null(c.KeepApartUntil), Fold(c.Name), SortKey(c.Name), tx.Now)
	if err != nil {
		return asFault(err)
	}
	if c.State != was.State {
		if err := SetState(ctx, tx, by, c.ID, since, c.State); err != nil {
			return err
		}
	}
	if moved {
		if err := MoveTank(ctx, tx, by, c.ID, since, c.Site); err != nil {
			return err
		}
	}
	return Audit(ctx, tx, by, "changed", "tank", c.ID, was, c)
}

// later reports whether a row stands behind the moment. One that stands at the
// moment itself is corrected by the next (datedRow), so it does not count.
func later(newest q.Opt[time.Time], since time.Time) bool {
	return newest.OK && newest.V.Sub(since) >= time.Second
}

// ChangeCard is the function of the same name in a transaction of its own.
func (db *DB) ChangeCard(ctx context.Context, by string, c tank.Card, since time.Time) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return ChangeCard(ctx, tx, by, c, since) })
}

// MakeTank makes a tank and returns its id.
func (db *DB) MakeTank(ctx context.Context, by string, n tank.New, since time.Time) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) (err error) {
		id, err = CreateTank(ctx, tx, by, n, since)
		return err
	})
	return id, err
}

// TankAt is the function of the same name on the pool.
func (db *DB) TankAt(ctx context.Context, id string, at time.Time) (tank.Setup, tank.Profile, tank.Plan, error) {
	return TankAt(ctx, db.pool, id, at)
}

// TankVersions counts the rows of each dated record of a tank.
func (db *DB) TankVersions(ctx context.Context, id string) (v tank.Versions, err error) {
	if !ValidID(id) {
		return v, errNoTank()
	}
	var to []any
	for _, w := range []*tank.Written{&v.Setup, &v.Agreement, &v.Share, &v.Source, &v.Profile, &v.Dosing} {
		to = append(to, &w.Times, maybeTime(&w.Newest))
	}
	err = db.pool.QueryRow(ctx, `
SELECT a.n, a.newest, b.n, b.newest, c.n, c.newest, d.n, d.newest, e.n, e.newest, f.n, f.newest
FROM (SELECT count(*) AS n, max(since) AS newest FROM tank_setup WHERE tank = $1) a,
     (SELECT count(*) AS n, max(since) AS newest FROM agreement WHERE tank = $1) b,
     (SELECT count(*) AS n, max(since) AS newest FROM care_share WHERE tank = $1) c,
     (SELECT count(*) AS n, max(since) AS newest FROM tank_source WHERE tank = $1) d,
     (SELECT count(*) AS n, max(since) AS newest FROM tank_profile WHERE tank = $1) e,
     (SELECT count(*) + count(until) AS n, GREATEST(max(since), max(until)) AS newest FROM dosing_line WHERE tank = $1) f`, id).Scan(to...)
	return v, asFault(err)
}

// LastReadings lists the newest reading of each kind of the tank's own water and
// gear, with the value at the visit before it.
func (db *DB) LastReadings(ctx context.Context, id string) ([]tank.LastReading, error) {
	if !ValidID(id) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `
SELECT kind, phase, drawn_at, value, lo, hi, before FROM (
    SELECT kind, phase, drawn_at, value, lo, hi,
           lead(value) OVER w AS before, row_number() OVER w AS nth
    FROM (SELECT DISTINCT ON (kind, performed_at) * FROM reading
          WHERE tank = $1 AND current AND phase IN ('before', 'late', 'morning', 'between')
          ORDER BY kind, performed_at, phase = 'late' DESC, drawn_at DESC) one
    WINDOW w AS (PARTITION BY kind ORDER BY performed_at DESC)) r
WHERE nth = 1`, id)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (l tank.LastReading, err error) {
		var lo, hi *float64
		err = row.Scan(&l.Kind, &l.Phase, &l.At, &l.Value, &lo, &hi, maybe(&l.Before))
		l.Lo, l.Hi = orInf(lo, -1), orInf(hi, 1)
		return l, err
	})
	return out, asFault(err)
}

// orInf is an open end as the domain writes it.
func orInf(v *float64, sign int) float64 {
	if v == nil {
		return math.Inf(sign)
	}
	return *v
}
