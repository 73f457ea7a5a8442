package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
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
		WHERE n.extra_on IS NOT NULL AND n.extra_on > $1::date - 21 AND NOT EXISTS (SELECT FROM extra_visit x WHERE x.visit = n.visit AND x.withdrawn_at IS NULL)
		ORDER BY n.extra_on, tank.sort_key, n.tank LIMIT 50`
	rows, err := db.pool.Query(ctx, sql, db.Now())
	return collect(rows, err, func(row pgx.Row) (x due.Extra, err error) {
		err = row.Scan(&x.Visit, &x.Tank, &x.TankName, &x.SiteName, day(&x.On))
		return x, asFault(err)
	})
}
