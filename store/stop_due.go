package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// DueTanks lists the tanks for which somebody should come by the day, the
// longest overdue first. Only starting and running tanks fall due; one that
// nobody has visited yet is due since its agreement began, and one with an extra
// visit agreed on that day, where it comes first.
func (db *DB) DueTanks(ctx context.Context, by q.Date, limit int) ([]visit.DueTank, error) {
	sql := `
		SELECT tank.id, tank.name, site.id, site.name, customer.name, last.day,
			least(coalesce(last.day + a.every_days, a.since_day), extra.day) AS due, a.tolerance_days, a.minutes, coalesce(a.preferred::text, ''), ` + keptApart("$3") + `,
			(SELECT count(*) FROM task WHERE task.tank = tank.id AND task.state = 'open')
		FROM tank
		CROSS JOIN shop
		JOIN LATERAL (SELECT every_days, tolerance_days, minutes, preferred, (since AT TIME ZONE shop.zone)::date AS since_day
			FROM agreement WHERE agreement.tank = tank.id ORDER BY since DESC LIMIT 1) a ON true
		JOIN LATERAL (SELECT site FROM tank_site WHERE tank_site.tank = tank.id ORDER BY since DESC LIMIT 1) here ON true
		JOIN site ON site.id = here.site
		JOIN customer ON customer.id = site.customer
		LEFT JOIN LATERAL (SELECT (performed_at AT TIME ZONE shop.zone)::date AS day FROM visit
			WHERE visit.tank = tank.id AND withdrawn_at IS NULL AND kind <> 'by_phone' ORDER BY performed_at DESC LIMIT 1) last ON true
		LEFT JOIN LATERAL (SELECT min(x.on_day) AS day FROM extra_visit x WHERE x.tank = tank.id AND` + notMadeYet + `) extra ON true
		WHERE tank.state IN ('starting', 'running') AND site.archived_at IS NULL AND least(coalesce(last.day + a.every_days, a.since_day), extra.day) <= $1::date
		ORDER BY due, site.sort_key, tank.sort_key, tank.id
		LIMIT $2`
	rows, err := db.pool.Query(ctx, sql, by.Midnight(), limit, db.Now())
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (d visit.DueTank, err error) {
		var tolerance int
		err = row.Scan(&d.Tank, &d.TankName, &d.Site, &d.SiteName, &d.Customer, maybeDay(&d.Last), day(&d.Due), &tolerance, &d.Minutes, &d.Preferred, &d.KeepApart, &d.Open)
		d.Latest = d.Due.Add(tolerance)
		return d, err
	})
	return list, asFault(err)
}

// BringFor is what the newest judgement of each tank says to bring along; ids
// of the catalogue of words under "bring.".
func (db *DB) BringFor(ctx context.Context, tanks []string) (map[string][]string, error) {
	const sql = `SELECT DISTINCT ON (v.tank) v.tank, e.document FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = ANY($1) AND v.withdrawn_at IS NULL ORDER BY v.tank, v.performed_at DESC, v.id DESC`
	rows, err := db.pool.Query(ctx, sql, tanks)
	if err != nil {
		return nil, asFault(err)
	}
	out := map[string][]string{}
	var tank, document string
	_, err = pgx.ForEachRow(rows, []any{&tank, &document}, func() error {
		a, err := wire.DecodeAssessment([]byte(document))
		out[tank] = a.Next.Bring
		return err
	})
	return out, asFault(err)
}
