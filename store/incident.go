package store

import (
	"cmp"
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
)

func scanIncident(row pgx.Row) (i customer.Incident, err error) {
	err = row.Scan(&i.ID, &i.Site, &i.Tank, &i.TankName, &i.Kind, &i.NoticedAt, &i.What, &i.Done, &i.Told, &i.Staff, &i.RecordedAt)
	return i, asFault(err)
}

// SiteIncidents lists what happened at a site, the newest first.
func (db *DB) SiteIncidents(ctx context.Context, site string) ([]customer.Incident, error) {
	if !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, `SELECT i.id, i.site, coalesce(i.tank::text, ''), coalesce(t.name, ''), i.kind, i.noticed_at, i.what, i.done, i.told, coalesce(p.name, ''), i.recorded_at
		FROM incident i LEFT JOIN tank t ON t.id = i.tank LEFT JOIN staff p ON p.id = i.staff WHERE i.site = $1 ORDER BY i.noticed_at DESC, i.id DESC`, site)
	return collect(rows, err, scanIncident)
}

// RecordIncident writes down what happened and returns its id. A record is not
// changed afterwards; what was learnt later is another one.
func (db *DB) RecordIncident(ctx context.Context, by string, i customer.Incident) (id string, err error) {
	id = NewID()
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if _, err := lockSite(ctx, tx, i.Site); err != nil {
			return err
		}
		const sql = `INSERT INTO incident (id, tank, site, noticed_at, what, done, told, staff, recorded_at, kind) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`
		if _, err := tx.Exec(ctx, sql, id, nullText(i.Tank), i.Site, i.NoticedAt, i.What, i.Done, i.Told, nullText(by), tx.Now, cmp.Or(i.Kind, "other")); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "recorded", "incident", id, nil, map[string]any{"site": i.Site, "what": i.What, "done": i.Done, "told": i.Told})
	})
	return id, err
}
