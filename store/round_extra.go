package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
)

// Extras lists the extra visits that the newest judgements ask for and about
// which the owner has not decided, the soonest first.
func (db *DB) Extras(ctx context.Context) ([]due.Extra, error) {
	const sql = `
		SELECT n.visit, n.tank, tank.name, site.name, n.extra_on
		FROM (SELECT DISTINCT ON (v.tank) v.tank, v.id AS visit, e.extra_on FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
			WHERE v.withdrawn_at IS NULL ORDER BY v.tank, v.performed_at DESC, v.id DESC) n
		JOIN tank ON tank.id = n.tank AND tank.state IN ('starting', 'running', 'resting')
		JOIN LATERAL (SELECT site FROM tank_site s WHERE s.tank = n.tank ORDER BY since DESC LIMIT 1) here ON true
		JOIN site ON site.id = here.site
		WHERE n.extra_on IS NOT NULL AND n.extra_on > $1::date - 21 AND NOT EXISTS (SELECT FROM extra_decision x WHERE x.visit = n.visit)
		ORDER BY n.extra_on, tank.sort_key, n.tank LIMIT 50`
	rows, err := db.pool.Query(ctx, sql, db.Now())
	return collect(rows, err, func(row pgx.Row) (x due.Extra, err error) {
		err = row.Scan(&x.Visit, &x.Tank, &x.TankName, &x.SiteName, day(&x.On))
		return x, asFault(err)
	})
}

// DecideExtra writes down whether an extra visit is taken into the round; the
// newest word counts.
func (db *DB) DecideExtra(ctx context.Context, by, visit string, taken bool) error {
	if !ValidID(visit) {
		return fault.New(fault.NotFound, "There is no such visit.")
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		const sql = `
			INSERT INTO extra_decision (visit, tank, wanted_on, taken, staff, at)
			SELECT v.id, v.tank, e.extra_on, $2, $3, $4 FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current WHERE v.id = $1 AND e.extra_on IS NOT NULL
			ON CONFLICT (visit) DO UPDATE SET taken = EXCLUDED.taken, wanted_on = EXCLUDED.wanted_on, staff = EXCLUDED.staff, at = EXCLUDED.at`
		tag, err := tx.Exec(ctx, sql, visit, taken, by, tx.Now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return fault.New(fault.NotFound, "This visit asks for no extra one.")
		}
		return Audit(ctx, tx, by, map[bool]string{true: "took in", false: "left out"}[taken], "extra visit", visit, nil, nil)
	})
}

// UndecideExtra takes the owner's word back.
func (db *DB) UndecideExtra(ctx context.Context, by, visit string) error {
	if !ValidID(visit) {
		return fault.New(fault.NotFound, "There is no such visit.")
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if _, err := tx.Exec(ctx, `DELETE FROM extra_decision WHERE visit = $1`, visit); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "took back", "extra visit", visit, nil, nil)
	})
}
